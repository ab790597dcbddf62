// Intensity from a photometric file, in any of its three systems of angles.
#include <array>

#include "spectrum/lm63.h"
#include "spectrum/sampling.h"

namespace boughlight {
namespace {

constexpr double kDegree = kPi / 180;

// Position between two entries of a rising list: index of the lower and the share of the way to the next.
// Clamped.
struct Bracket {
  std::size_t low = 0;
  double share = 0;
};
Bracket locate(const std::vector<double>& list, double value) {
  if (list.size() == 1 || value <= list.front()) return {0, 0};
  if (value >= list.back()) return {list.size() - 2, 1};
  const auto above =
      static_cast<std::size_t>(std::upper_bound(list.begin(), list.end(), value) - list.begin());
  return {above - 1, (value - list[above - 1]) / (list[above] - list[above - 1])};
}

// Angles outside the planes given, folded in by the symmetry that the planes given stand for.
double fold_type_c(const std::vector<double>& planes, double azimuth) {
  azimuth = std::fmod(azimuth, 360.0);
  if (azimuth < 0) azimuth += 360;
  const double first = planes.front(), last = planes.back();
  if (planes.size() == 1 || last > 300) return azimuth;
  if (first > 45) return azimuth < 90 ? 180 - azimuth : azimuth > 270 ? 540 - azimuth : azimuth;
  if (azimuth > 180) azimuth = 360 - azimuth;
  return last < 135 && azimuth > 90 ? 180 - azimuth : azimuth;
}

}  // namespace

double Photometry::candela_at(double vertical, double horizontal) const {
  if (type == PhotometricType::c) {
    horizontal = fold_type_c(horizontal_deg, horizontal);
  } else {
    if (horizontal_deg.front() > -1) horizontal = std::abs(horizontal);
    if (vertical_deg.front() > -1) vertical = std::abs(vertical);
  }
  // The file covers what the lamp lights: no light at polar angles beyond its ends.
  constexpr double kSlack = 1e-9;
  if (vertical < vertical_deg.front() - kSlack || vertical > vertical_deg.back() + kSlack) return 0;
  const Bracket v = locate(vertical_deg, vertical), h = locate(horizontal_deg, horizontal);
  const auto plane = [&](std::size_t i) {
    const double* row = candela.data() + i * vertical_deg.size();
    return row[v.low] + v.share * (row[v.low + 1] - row[v.low]);
  };
  return h.share == 0 ? plane(h.low) : plane(h.low) + h.share * (plane(h.low + 1) - plane(h.low));
}

double Photometry::candela_towards(const Vec3& direction) const {
  // Of a lamp that aims down, with `along` to the right, +y of its frame looks to the front, and plane 90 of
  // type C to the back (counterclockwise seen from above: LM-63-2002, 3.0, "horizontal angles"). Of one that
  // aims level +y looks down, and the vertical angles of types A and B rise.
  const double x = direction.x(), y = -direction.y(), z = direction.z();
  switch (type) {
    case PhotometricType::c:
      return candela_at(std::atan2(length_of(x, y), z) / kDegree, std::atan2(y, x) / kDegree);
    case PhotometricType::b:  // x is the polar axis: the vertical angle turns about it
      if (z < 0) return 0;
      return candela_at(std::atan2(y, z) / kDegree, std::atan2(x, length_of(y, z)) / kDegree);
    case PhotometricType::a:  // y is the polar axis: the horizontal angle turns about it
      if (z < 0) return 0;
      return candela_at(std::atan2(y, length_of(x, z)) / kDegree, std::atan2(x, z) / kDegree);
  }
  return 0;
}

double Photometry::lumens() const {
  // Gauss-Legendre, five points an interval each way, where the interpolation is smooth.
  constexpr std::array<double, 5> kAt = {-0.906179845938664, -0.538469310105683, 0, 0.538469310105683,
                                         0.906179845938664};
  constexpr std::array<double, 5> kWeight = {0.236926885056189, 0.478628670499366, 0.568888888888889,
                                             0.478628670499366, 0.236926885056189};
  const double whole_turn = type == PhotometricType::c ? 360 : 180;
  std::vector<double> planes = horizontal_deg;
  if (planes.size() == 1) planes = {0, 360};
  // Symmetric halves and quarters stand for the rest.
  const double copies = whole_turn / (planes.back() - planes.front()) *
                        (type != PhotometricType::c && vertical_deg.front() > -1 ? 2.0 : 1.0);
  double sum = 0;
  for (std::size_t i = 0; i + 1 < planes.size(); ++i)
    for (std::size_t j = 0; j + 1 < vertical_deg.size(); ++j) {
      const double half_h = 0.5 * (planes[i + 1] - planes[i]),
                   half_v = 0.5 * (vertical_deg[j + 1] - vertical_deg[j]);
      for (std::size_t a = 0; a < kAt.size(); ++a)
        for (std::size_t b = 0; b < kAt.size(); ++b) {
          const double h = planes[i] + half_h * (1 + kAt[a]), v = vertical_deg[j] + half_v * (1 + kAt[b]);
          const double measure = type == PhotometricType::c   ? std::sin(v * kDegree)
                                 : type == PhotometricType::b ? std::cos(h * kDegree)
                                                              : std::cos(v * kDegree);
          sum += kWeight[a] * kWeight[b] * half_h * half_v * kDegree * kDegree * measure * candela_at(v, h);
        }
    }
  return copies * sum;
}

namespace {

// Sampled by cells of equal size in angle: a cell in proportion to its mean intensity, evenly in solid angle
// within.
class PhotometricForm final : public AngularForm {
 public:
  explicit PhotometricForm(Photometry photometry)
      : photometry_(std::move(photometry)), per_watt_(1 / photometry_.lumens()) {
    if (!(std::isfinite(per_watt_) && per_watt_ > 0))
      throw std::invalid_argument("the photometric file holds no light");
    double sum = 0;
    below_.reserve(kThetas * kPhis + 1);
    below_.push_back(0);
    for (int theta = 0; theta < kThetas; ++theta)
      for (int phi = 0; phi < kPhis; ++phi) {
        // A trace everywhere keeps every direction possible that the probes of a cell may miss.
        double mean = kTrace;
        for (int a = 0; a < kProbes; ++a)
          for (int b = 0; b < kProbes; ++b)
            mean += intensity(direction_in(theta, phi, (a + 0.5) / kProbes, (b + 0.5) / kProbes)) /
                    (kProbes * kProbes);
        sum += mean * solid_angle(theta);
        below_.push_back(sum);
      }
    for (double& value : below_) value /= sum;
  }

  double intensity(const Vec3& direction) const override {
    return per_watt_ * photometry_.candela_towards(direction);
  }

  Sample sample(double u1, double u2) const override {
    const auto above = std::upper_bound(below_.begin(), below_.end(), u1);
    const auto cell = std::min<std::size_t>(
        static_cast<std::size_t>(std::max<std::ptrdiff_t>(above - below_.begin(), 1)) - 1, below_.size() - 2);
    const double chance = below_[cell + 1] - below_[cell];
    const double within = chance > 0 ? std::clamp((u1 - below_[cell]) / chance, 0.0, 1.0) : 0.5;
    const int theta = static_cast<int>(cell) / kPhis, phi = static_cast<int>(cell) % kPhis;
    return {direction_in(theta, phi, within, u2), inverse_or_zero(chance / solid_angle(theta))};
  }

  double pdf(const Vec3& direction) const override {
    const double theta = std::atan2(length_of(direction.x(), direction.y()), direction.z());
    double phi = std::atan2(direction.y(), direction.x());
    if (phi < 0) phi += 2 * kPi;
    const int i = std::clamp(static_cast<int>(theta / kPi * kThetas), 0, kThetas - 1);
    const int j = std::clamp(static_cast<int>(phi / (2 * kPi) * kPhis), 0, kPhis - 1);
    const auto cell = static_cast<std::size_t>(i * kPhis + j);
    return (below_[cell + 1] - below_[cell]) / solid_angle(i);
  }

  std::vector<double> bends() const override {
    std::vector<double> angles;
    if (photometry_.type == PhotometricType::c)
      for (const double angle : photometry_.vertical_deg) angles.push_back(angle * kDegree);
    return angles;
  }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("photometry", photometry_.type, photometry_.vertical_deg, photometry_.horizontal_deg,
              photometry_.candela);
  }

 private:
  static constexpr int kThetas = 90, kPhis = 180, kProbes = 3;
  static constexpr double kTrace = 1e-6 / (4 * kPi);

  static double solid_angle(int theta) {
    return 2 * kPi / kPhis * (std::cos(theta * kPi / kThetas) - std::cos((theta + 1) * kPi / kThetas));
  }
  static Vec3 direction_in(int theta, int phi, double u, double v) {
    const double low = std::cos(theta * kPi / kThetas), high = std::cos((theta + 1) * kPi / kThetas);
    const double z = low + u * (high - low), azimuth = 2 * kPi * (phi + v) / kPhis;
    const double radius = std::sqrt(std::max(0.0, 1 - z * z));
    return {radius * std::cos(azimuth), radius * std::sin(azimuth), z};
  }

  Photometry photometry_;
  double per_watt_;
  std::vector<double> below_;
};

}  // namespace

std::unique_ptr<AngularForm> make_photometric_form(Photometry photometry) {
  return std::make_unique<PhotometricForm>(std::move(photometry));
}

}  // namespace boughlight
