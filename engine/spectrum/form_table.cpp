// Intensity given against the angle from aim, linear between entries.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class IntensityTable final : public AngularForm {
 public:
  IntensityTable(std::vector<double> angle, std::vector<double> relative)
      : angle_(std::move(angle)), value_(std::move(relative)) {
    if (angle_.front() > 0) {  // the first entry is held down to the axis
      angle_.insert(angle_.begin(), 0.0);
      value_.insert(value_.begin(), value_.front());
    }
    below_.assign(1, 0.0);
    for (std::size_t i = 1; i < angle_.size(); ++i)
      below_.push_back(below_.back() + ring_power(i, angle_[i]));
    const double whole = below_.back();
    if (!(whole > 0 && std::isfinite(whole)))
      throw std::invalid_argument("a table of intensities must give light in some direction");
    for (double& v : value_) v /= whole;
    for (double& b : below_) b /= whole;
  }

  double intensity(const Vec3& direction) const override {
    return at(std::atan2(length_of(direction.x(), direction.y()), direction.z()));
  }
  Sample sample(double u1, double u2) const override {
    const double theta = angle_below(u1), phi = 2 * kPi * u2, sine = std::sin(theta);
    return {{sine * std::cos(phi), sine * std::sin(phi), std::cos(theta)}, inverse_or_zero(at(theta))};
  }
  double pdf(const Vec3& direction) const override { return intensity(direction); }
  std::vector<double> bends() const override { return angle_; }
  void identify(CanonicalBytes& bytes) const override { bytes.add("table", angle_, value_); }

 private:
  double at(double theta) const {
    // The slack keeps directions that rounding puts past an end.
    if (theta > angle_.back()) return theta > angle_.back() + 1e-12 ? 0 : value_.back();
    if (theta == angle_.back()) return value_.back();
    const auto i =
        static_cast<std::size_t>(std::upper_bound(angle_.begin(), angle_.end(), theta) - angle_.begin());
    return value_[i - 1] + slope(i) * (theta - angle_[i - 1]);
  }
  double slope(std::size_t i) const { return (value_[i] - value_[i - 1]) / (angle_[i] - angle_[i - 1]); }

  // 2 pi x integral of intensity x sin from the start of the segment that ends at entry i, up to theta:
  // v (cos a - cos theta) + slope (sin theta - sin a - (theta - a) cos theta), the differences of
  // cosines and sines taken as products so that they keep their digits near the axis.
  double ring_power(std::size_t i, double theta) const {
    const double a = angle_[i - 1], d = theta - a, middle = 0.5 * (theta + a);
    const double half = std::sin(0.5 * d);
    const double cosines = 2 * std::sin(middle) * half;
    const double sines = 2 * std::cos(middle) * half;
    return 2 * kPi * (value_[i - 1] * cosines + slope(i) * (sines - d * std::cos(theta)));
  }

  // The angle below which the share u of the power lies: Newton's method kept between two bounds that close
  // in.
  double angle_below(double u) const {
    const auto found = std::upper_bound(below_.begin(), below_.end(), u);
    const auto i =
        std::clamp<std::size_t>(static_cast<std::size_t>(found - below_.begin()), 1, angle_.size() - 1);
    const double wanted = u - below_[i - 1], whole = below_[i] - below_[i - 1];
    double low = angle_[i - 1], high = angle_[i];
    if (!(whole > 0)) return low;
    double theta = low + (high - low) * std::clamp(wanted / whole, 0.0, 1.0);
    for (int step = 0; step < 100 && high - low > 1e-15 * high; ++step) {
      const double over = ring_power(i, theta) - wanted;
      (over > 0 ? high : low) = theta;
      const double density = 2 * kPi * std::sin(theta) * at(theta);
      double next = density > 0 ? theta - over / density : low;
      if (!(next > low && next < high)) next = 0.5 * (low + high);
      if (std::abs(next - theta) <= 1e-15 * theta) break;
      theta = next;
    }
    return theta;
  }

  std::vector<double> angle_, value_;
  std::vector<double> below_;  // share of the power within angle_[i] of the axis
};

}  // namespace

std::unique_ptr<AngularForm> make_intensity_table(std::vector<double> angle_rad,
                                                  std::vector<double> relative) {
  if (angle_rad.empty() || angle_rad.size() != relative.size())
    throw std::invalid_argument("a table of intensities needs at least one angle, and a value for each");
  for (std::size_t i = 0; i < angle_rad.size(); ++i) {
    if (!(angle_rad[i] >= 0 && angle_rad[i] <= kPi * (1 + 1e-12)))
      throw std::invalid_argument("the angles of a table of intensities must lie between 0 and 180 degrees");
    angle_rad[i] = std::min(angle_rad[i], kPi);
    if (i > 0 && !(angle_rad[i] > angle_rad[i - 1]))
      throw std::invalid_argument("the angles of a table of intensities must rise from each to the next");
    if (!(relative[i] >= 0 && std::isfinite(relative[i])))
      throw std::invalid_argument("the intensities of a table must be numbers of 0 or more");
  }
  return std::make_unique<IntensityTable>(std::move(angle_rad), std::move(relative));
}

}  // namespace boughlight
