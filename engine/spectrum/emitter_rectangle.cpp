// A flat rectangular plate facing aim, its length along x and its width along y.
#include <array>

#include "spectrum/sampling.h"

namespace boughlight {

namespace {

// The rectangle as seen from a place at height z over its plane, sampled evenly in solid angle: the same
// distribution as Urena, Fajardo and King 2013, An area-preserving parametrization for spherical rectangles
// (Computer Graphics Forum 32), with the first coordinate found by Newton's method so that rectangles far
// away or seen edge on keep their digits.
class RectangleView {
 public:
  // A place in the plane, or all but, is looked at from just above it.
  RectangleView(double half_length, double half_width, const Vec3& from)
      : x0_(-half_length - from.x()),
        x1_(half_length - from.x()),
        y0_(-half_width - from.y()),
        y1_(half_width - from.y()),
        z_(std::max(std::abs(from.z()), 1e-9 * (half_length + half_width))),
        below_(up_to(x0_)),
        solid_angle_(up_to(x1_) - below_) {}

  // sr; too small to sample by where this is false.
  bool usable() const { return solid_angle_ > 1e-9; }
  double solid_angle() const { return solid_angle_; }
  // Density of sample() over the plate, 1/m2, at an offset from the foot.
  double density(double x, double y) const {
    const double r = norm(x, y);
    return z_ / (r * r * r * solid_angle_);
  }

  // Offset in the plane from the foot of the place.
  std::array<double, 2> sample(double u1, double u2) const {
    const double x = x_below(u1);
    const double d = length_of(x, z_);
    const double h0 = y0_ / length_of(d, y0_), h1 = y1_ / length_of(d, y1_);
    const double h = h0 + u2 * (h1 - h0);
    const double y = d * h / std::sqrt(std::max(1e-30, (1 - h) * (1 + h)));
    return {x, std::clamp(y, y0_, y1_)};
  }

 private:
  // Solid angle of the part from the foot's own x up to x, signed: atan(x y1 / (z n1)) - atan(x y0 / (z n0)),
  // n the distances of the corners, as one angle. Without the difference of two like numbers where both sides
  // lie to one side of the foot.
  double up_to(double x) const {
    const double n0 = norm(x, y0_), n1 = norm(x, y1_);
    const double gap = y0_ * y1_ > 0 ? (x * x + z_ * z_) * (y1_ - y0_) * (y1_ + y0_) / (y1_ * n0 + y0_ * n1)
                                     : y1_ * n0 - y0_ * n1;
    return std::atan2(x * z_ * gap, z_ * z_ * n0 * n1 + x * x * y0_ * y1_);
  }
  double norm(double x, double y) const { return std::sqrt(x * x + y * y + z_ * z_); }

  // The solid angle's growth with t = atan(x / z).
  double rate(double x) const { return y1_ / norm(x, y1_) - y0_ / norm(x, y0_); }

  // The x below which the share u of the solid angle lies. In t = atan(x / z) the solid angle grows all but
  // evenly; the bounds close in where Newton's step would leave them. Its error falls with the square of the
  // step, so that after a step of 1e-4 it is 1e-8 or so, which single precision cannot tell.
  double x_below(double u) const {
    const double wanted = below_ + u * solid_angle_;
    double low = std::atan2(x0_, z_), high = std::atan2(x1_, z_);
    const double range = high - low, last_step = 1e-4 * range;
    // From the cubic through both ends with the slopes there; most need one step from it, or two.
    const double slope0 = solid_angle_ / (range * rate(x0_)), slope1 = solid_angle_ / (range * rate(x1_));
    const double cubic = u * (u * (3 - 2 * u) + (1 - u) * (slope0 * (1 - u) - slope1 * u));
    double t = low + range * (cubic > 0 && cubic < 1 ? cubic : u);
    for (int i = 0; i < 60; ++i) {
      const double x = z_ * std::tan(t);
      const double over = up_to(x) - wanted;
      (over > 0 ? high : low) = t;
      const double step = over / rate(x);
      if (std::abs(step) <= last_step) return std::clamp(z_ * std::tan(t - step), x0_, x1_);
      t = t - step > low && t - step < high ? t - step : 0.5 * (low + high);
    }
    return std::clamp(z_ * std::tan(t), x0_, x1_);
  }

  double x0_, x1_, y0_, y1_, z_, below_, solid_angle_;
};

class Rectangle : public Emitter {
 public:
  Rectangle(double length, double width)
      : half_length_(0.5 * length), half_width_(0.5 * width), area_(length * width) {}

  double extent(const Vec3& direction) const override {
    return half_length_ * std::abs(direction.x()) + half_width_ * std::abs(direction.y());
  }
  double distance(const Vec3& from) const override { return (from - nearest(from)).norm(); }
  Vec3 nearest(const Vec3& from) const override {
    return {std::clamp(from.x(), -half_length_, half_length_),
            std::clamp(from.y(), -half_width_, half_width_), 0};
  }
  std::string describe() const override {
    return "rectangle, " + print_size(2 * half_length_) + " by " + print_size(2 * half_width_);
  }

 protected:
  Vec3 even_point(double u1, double u2) const {
    return {half_length_ * (2 * u1 - 1), half_width_ * (2 * u2 - 1), 0};
  }
  Vec3 seen_point(const RectangleView& view, const Vec3& from, double u1, double u2) const {
    const auto offset = view.sample(u1, u2);
    return {from.x() + offset[0], from.y() + offset[1], 0};
  }
  // Further from its nearest part than its whole diagonal a place sees all parts of the plate much alike, the
  // furthest from at most twice as far: samples even over the area then do as well as those even in solid
  // angle, at a tenth of the work.
  bool is_far(const Vec3& from) const {
    return (from - nearest(from)).squaredNorm() >
           4 * (half_length_ * half_length_ + half_width_ * half_width_);
  }
  double half_length_, half_width_, area_;
};

class LambertRectangle final : public Rectangle {
 public:
  using Rectangle::Rectangle;
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("lambert rectangle", half_length_, half_width_);
  }

  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    if (!(from.z() > 0)) return {};
    if (!is_far(from)) {
      const RectangleView view(half_length_, half_width_, from);
      if (view.usable()) return {seen_point(view, from, u1, u2), view.solid_angle() / (kPi * area_)};
    }
    const Vec3 point = even_point(u1, u2);
    const double r2 = (from - point).squaredNorm();
    return {point, from.z() / std::sqrt(r2) / (kPi * r2)};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    return {even_point(u1, u2), cosine_direction(u3, u4), 1};
  }
  // Four rectangles with a corner over the sensor (Howell's catalogue, B-3), exitance 1 / area.
  double on_axis(double distance) const override {
    if (distance < 0) return 0;
    if (distance == 0) return 1 / area_;
    const double a = half_length_ / distance, b = half_width_ / distance;
    const double ra = std::sqrt(1 + a * a), rb = std::sqrt(1 + b * b);
    const double corner = (a / ra * std::atan(b / ra) + b / rb * std::atan(a / rb)) / (2 * kPi);
    return 4 * corner / area_;
  }
};

class FormRectangle final : public Rectangle {
 public:
  FormRectangle(double length, double width, std::unique_ptr<AngularForm> form)
      : Rectangle(length, width), form_(std::move(form)) {}

  // Half of the samples even in solid angle, half even over the area, each weighted by the mean of both
  // densities: the first keeps near places steady, the second those that see the plate at a grazing angle.
  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    if (is_far(from)) return even_sample(*form_, even_point(u1, u2), from);
    const RectangleView view(half_length_, half_width_, from);
    if (!view.usable()) return even_sample(*form_, even_point(u1, u2), from);
    const Vec3 point = u1 < 0.5 ? seen_point(view, from, 2 * u1, u2) : even_point(2 * u1 - 1, u2);
    const Vec3 way = from - point;
    const double r2 = way.squaredNorm();
    if (!(r2 > 0)) return {};
    const double r = std::sqrt(r2), intensity = form_->intensity(way / r);
    const double density = 0.5 / area_ + 0.5 * view.density(-way.x(), -way.y());
    return {point, intensity / (r2 * area_ * density)};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    const auto sample = form_->sample(u3, u4);
    return {even_point(u1, u2), sample.direction, carried(*form_, sample)};
  }
  double on_axis(double distance) const override {
    if (!(distance > 0)) return 0;
    const auto rim = [&](double phi) {
      const double along = half_length_ / std::max(1e-300, std::abs(std::cos(phi)));
      const double across = half_width_ / std::max(1e-300, std::abs(std::sin(phi)));
      return std::atan2(std::min(along, across), distance);
    };
    const double corner = std::atan2(half_width_, half_length_);
    std::vector<double> splits = {corner,       kPi / 2,   kPi - corner,    kPi,
                                  kPi + corner, 1.5 * kPi, 2 * kPi - corner};
    // Where the rim crosses an angle at which the form bends, the integral over the azimuth bends too.
    for (const double bend : form_->bends()) {
      const double reach = distance * std::tan(bend);
      if (!(bend < kPi / 2)) continue;
      for (const double beside : {half_length_ < reach ? std::acos(half_length_ / reach) : 0.0,
                                  half_width_ < reach ? std::asin(half_width_ / reach) : 0.0}) {
        if (beside > 0) splits.insert(splits.end(), {beside, kPi - beside, kPi + beside, 2 * kPi - beside});
      }
    }
    return intensity_within(*form_, rim, splits) / area_;
  }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("rectangle", half_length_, half_width_);
    form_->identify(bytes);
  }

 private:
  std::unique_ptr<AngularForm> form_;
};

}  // namespace

std::unique_ptr<Emitter> make_rectangle_emitter(double length, double width,
                                                std::unique_ptr<AngularForm> form) {
  require_positive(length, "the rectangle's length");
  require_positive(width, "the rectangle's width");
  if (form) return std::make_unique<FormRectangle>(length, width, std::move(form));
  return std::make_unique<LambertRectangle>(length, width);
}

}  // namespace boughlight
