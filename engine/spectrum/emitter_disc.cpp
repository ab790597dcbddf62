// A flat round plate facing aim.
#include "spectrum/quadrature.h"
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

// Places on the disc as seen from a place at height z > 0 over its plane, in polar coordinates about the foot
// of that place: the azimuth first (even all round where the foot lies on the disc, else in proportion to the
// chord), then the distance from the foot, even in the solid angle along that azimuth.
class DiscView {
 public:
  DiscView(double radius, const Vec3& from)
      : radius_(radius), z_(std::abs(from.z())), x_(from.x()), y_(from.y()), rho_(length_of(x_, y_)) {}

  struct Sample {
    double x, y;
    double inverse_pdf;  // sr
  };
  Sample sample(double u1, double u2) const {
    double ex, ey, near2, far2;  // unit azimuth, squares of the nearest and furthest distance along it
    if (rho_ <= radius_) {
      const double phi = 2 * kPi * u1;
      ex = std::cos(phi), ey = std::sin(phi);
      near2 = 0;
      far2 = square(end_along(ex, ey));
    } else {
      // Distance of the chord from the centre, in radii, signed.
      const double w = std::cos(angle_of_density_sin2(u1)), sine = w * radius_ / rho_;
      const double cosine = std::sqrt(std::max(0.0, 1 - sine * sine));
      const double cx = -x_ / rho_, cy = -y_ / rho_;
      ex = cosine * cx - sine * cy, ey = sine * cx + cosine * cy;
      const double middle = rho_ * cosine, half = radius_ * std::sqrt(std::max(0.0, 1 - w * w));
      near2 = square(std::max(0.0, middle - half)), far2 = square(middle + half);
    }
    const double h0 = std::sqrt(near2 + z_ * z_), h1 = std::sqrt(far2 + z_ * z_);
    // z / h is even between its ends; written so that far places keep their digits.
    const double e = u2 * (far2 - near2) / (h1 * (h0 + h1));
    const double s = std::sqrt(near2 + h0 * h0 * e * (2 - e) / square(1 - e));
    return {x_ + s * ex, y_ + s * ey, inverse_pdf(near2, far2)};
  }
  // 1 / density over solid angle at a place of the disc.
  double inverse_pdf_at(double x, double y) const {
    const double dx = x - x_, dy = y - y_, s = length_of(dx, dy);
    if (!(s > 0)) return rho_ <= radius_ ? inverse_pdf(0, square(end_along(1, 0))) : 0;
    const double ex = dx / s, ey = dy / s;
    if (rho_ <= radius_) return inverse_pdf(0, square(end_along(ex, ey)));
    const double across = x_ * ey - y_ * ex, middle = -(x_ * ex + y_ * ey);
    const double half = std::sqrt(std::max(0.0, square(radius_) - square(across)));
    return inverse_pdf(square(std::max(0.0, middle - half)), square(middle + half));
  }

 private:
  static double square(double v) { return v * v; }
  // How far the disc reaches from a foot on it.
  double end_along(double ex, double ey) const {
    const double along = x_ * ex + y_ * ey;
    return std::max(0.0, -along + std::sqrt(std::max(0.0, square(along) + square(radius_) - square(rho_))));
  }
  // Foot on the disc: 2 pi x (1 - z / h1). Off it, the chord's length cancels against the density of the
  // azimuth.
  double inverse_pdf(double near2, double far2) const {
    const double h0 = std::sqrt(near2 + z_ * z_), h1 = std::sqrt(far2 + z_ * z_);
    if (rho_ <= radius_) return 2 * kPi * far2 / (h1 * (h1 + z_));
    return 2 * kPi * square(radius_) * z_ / (h0 * h1 * (h0 + h1));
  }

  double radius_, z_, x_, y_, rho_;
};

class Disc : public Emitter {
 public:
  explicit Disc(double radius) : radius_(radius), area_(kPi * radius * radius) {}

  double extent(const Vec3& direction) const override {
    return radius_ * length_of(direction.x(), direction.y());
  }
  double distance(const Vec3& from) const override { return (from - nearest(from)).norm(); }
  Vec3 nearest(const Vec3& from) const override {
    const double rho = length_of(from.x(), from.y()), scale = rho > radius_ ? radius_ / rho : 1;
    return {from.x() * scale, from.y() * scale, 0};
  }
  std::string describe() const override { return "disc, " + print_size(2 * radius_) + " across"; }

 protected:
  Vec3 even_point(double u1, double u2) const {
    const double r = radius_ * std::sqrt(u1), phi = 2 * kPi * u2;
    return {r * std::cos(phi), r * std::sin(phi), 0};
  }
  double radius_, area_;
};

class LambertDisc final : public Disc {
 public:
  using Disc::Disc;
  void identify(CanonicalBytes& bytes) const override { bytes.add("lambert disc", radius_); }

  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    if (!(from.z() > 0)) return {};
    const auto sample = DiscView(radius_, from).sample(u1, u2);
    return {{sample.x, sample.y, 0}, sample.inverse_pdf / (kPi * area_)};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    return {even_point(u1, u2), cosine_direction(u3, u4), 1};
  }
  // View factor r^2 / (r^2 + h^2) to a parallel element on the axis (Howell's catalogue, B-12), exitance 1 /
  // area.
  double on_axis(double distance) const override {
    return distance >= 0 ? 1 / (kPi * (radius_ * radius_ + distance * distance)) : 0;
  }
};

class FormDisc final : public Disc {
 public:
  FormDisc(double radius, std::unique_ptr<AngularForm> form) : Disc(radius), form_(std::move(form)) {}

  // Half of the samples even in solid angle, half even over the area, each weighted by the mean of both
  // densities: the first keeps near places steady, the second those that see the disc at a grazing angle.
  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    // From further away than this many radii all parts of the disc are seen much alike: even over the area
    // alone.
    constexpr double kFarRadii = 4;
    const double z = std::abs(from.z());
    const bool both = z > 0 && from.squaredNorm() < kFarRadii * kFarRadii * radius_ * radius_;
    if (!both) return even_sample(*form_, even_point(u1, u2), from);
    const DiscView view(radius_, from);
    Vec3 point;
    if (u1 < 0.5) {
      const auto sample = view.sample(2 * u1, u2);
      point = {sample.x, sample.y, 0};
    } else {
      point = even_point(2 * u1 - 1, u2);
    }
    const Vec3 way = from - point;
    const double r2 = way.squaredNorm();
    if (!(r2 > 0)) return {};
    const double r = std::sqrt(r2);
    const double intensity = form_->intensity(way / r);
    const double solid = view.inverse_pdf_at(point.x(), point.y());
    if (!(solid > 0)) return {point, 0};
    return {point, intensity / (0.5 * r2 + 0.5 * area_ * (z / r) / solid)};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    const auto sample = form_->sample(u3, u4);
    return {even_point(u1, u2), sample.direction, carried(*form_, sample)};
  }
  double on_axis(double distance) const override {
    if (!(distance > 0)) return 0;
    const double rim = std::atan2(radius_, distance);
    return intensity_within(*form_, [&](double) { return rim; }, {}) / area_;
  }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("disc", radius_);
    form_->identify(bytes);
  }

 private:
  std::unique_ptr<AngularForm> form_;
};

}  // namespace

std::unique_ptr<Emitter> make_disc_emitter(double diameter, std::unique_ptr<AngularForm> form) {
  require_positive(diameter, "the disc's diameter");
  if (form) return std::make_unique<FormDisc>(0.5 * diameter, std::move(form));
  return std::make_unique<LambertDisc>(0.5 * diameter);
}

}  // namespace boughlight
