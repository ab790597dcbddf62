// A tube along x: Lambert's law over its side (its ends are dark), or a form from its axis.
#include "spectrum/quadrature.h"
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class Tube : public Emitter {
 public:
  Tube(double length, double diameter) : half_(0.5 * length), radius_(0.5 * diameter) {}

  double extent(const Vec3& direction) const override {
    return half_ * std::abs(direction.x()) + radius_ * length_of(direction.y(), direction.z());
  }
  double distance(const Vec3& from) const override { return (from - nearest(from)).norm(); }
  Vec3 nearest(const Vec3& from) const override {
    const double rho = length_of(from.y(), from.z()), scale = rho > radius_ ? radius_ / rho : 1;
    return {std::clamp(from.x(), -half_, half_), from.y() * scale, from.z() * scale};
  }
  std::string describe() const override {
    return "tube, " + print_size(2 * half_) + " long, " + print_size(2 * radius_) + " across";
  }

 protected:
  bool inside(const Vec3& from) const {
    return std::abs(from.x()) <= half_ && length_of(from.y(), from.z()) <= radius_;
  }
  double half_, radius_;
};

// The sine of the angle at a place rho > 0 off a line, from the foot to what lies h along it: from h0 to h1 >
// h0.
class SineSpan {
 public:
  SineSpan(double h0, double h1, double rho)
      : h0_(h0), h1_(h1), rho_(rho), r0_(length_of(h0, rho)), r1_(length_of(h1, rho)) {}

  // Without loss of digits where both sines are near 1.
  double gap() const {
    if (h0_ * h1_ <= 0) return h1_ / r1_ - h0_ / r0_;
    return rho_ * rho_ * (h1_ - h0_) * (h1_ + h0_) / (r0_ * r1_ * (h1_ * r0_ + h0_ * r1_));
  }
  // The h at which the sine has gone the share u of its way.
  double h_at(double u) const {
    const double s0 = h0_ / r0_, s1 = h1_ / r1_, s = s0 + u * (s1 - s0);
    const double cosine2 = (1 - s) * (1 + s);
    return cosine2 > 1e-12 ? std::clamp(rho_ * s / std::sqrt(cosine2), h0_, h1_) : h0_ + u * (h1_ - h0_);
  }

 private:
  double h0_, h1_, rho_, r0_, r1_;
};

class LambertTube final : public Tube {
 public:
  using Tube::Tube;
  void identify(CanonicalBytes& bytes) const override { bytes.add("lambert tube", half_, radius_); }

  // Across the tube even in the angle that the receiver sees, which takes up the cosine of the emitter across
  // it; along it even in the sine of the angle at the receiver, which takes up that along it and 1 / r^2. The
  // weight depends on where across the sample falls only by the tube's thickness.
  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    const double d = length_of(from.y(), from.z());
    if (!(d > radius_)) return {};
    const double widest = std::asin(radius_ / d);
    const double beta = (2 * u2 - 1) * widest, sine = std::sin(beta), cosine = std::cos(beta);
    const double gap = (radius_ - d * std::abs(sine)) * (radius_ + d * std::abs(sine));
    const double rho = std::max(1e-12 * radius_, d * cosine - std::sqrt(std::max(0.0, gap)));
    const SineSpan span(-half_ - from.x(), half_ - from.x(), rho);
    const double h = span.h_at(u1);
    // From the receiver inwards, turned by beta.
    const double cy = from.y() / d, cz = from.z() / d;
    const Vec3 point(from.x() + h, from.y() - rho * (cosine * cy - sine * cz),
                     from.z() - rho * (cosine * cz + sine * cy));
    return {point, radiance() * 2 * widest * span.gap()};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    const double phi = 2 * kPi * u2, c = std::cos(phi), s = std::sin(phi);
    const Vec3 normal(0, s, c), across(0, c, -s), law = cosine_direction(u3, u4);
    return {half_ * (2 * u1 - 1) * Vec3::UnitX() + radius_ * normal,
            law.x() * Vec3::UnitX() + law.y() * across + law.z() * normal, 1};
  }
  // Over the lit arc, in the angle about the axis: each strip is a line of elements whose two cosines and 1 /
  // r^2 give 1 / (x^2 + rho^2)^2 along it, which has a closed integral.
  double on_axis(double distance) const override {
    const double d = distance, r = radius_;
    if (!(d > r)) return 0;
    // In the half angle's sine and the gap, so that no digits are lost close to the surface.
    const auto strip = [&](double delta) {
      const double h = std::sin(0.5 * delta), gap = d - r;
      const double rho2 = gap * gap + 4 * d * r * h * h, rho = std::sqrt(rho2);
      const double along = half_ / (rho2 * (half_ * half_ + rho2)) + std::atan2(half_, rho) / (rho2 * rho);
      return (gap - 2 * d * h * h) * (gap + 2 * r * h * h) * along;
    };
    return 2 * radiance() * r * integrate(strip, 0, std::acos(r / d));
  }

 private:
  // 1 W over the side, spread over pi.
  double radiance() const { return 1 / (kPi * 2 * kPi * radius_ * 2 * half_); }
};

class FormTube final : public Tube {
 public:
  FormTube(double length, double diameter, std::unique_ptr<AngularForm> form)
      : Tube(length, diameter), form_(std::move(form)) {
    even_in_sine_ = form_->intensity(Vec3::UnitX()) <= 0 && form_->intensity(-Vec3::UnitX()) <= 0;
  }

  // Even in the angle along the axis as seen from the receiver, which takes up 1 / r^2; or, for a form that
  // is dark along the axis as a trough is, even in that angle's sine.
  EmitterPoint connect(const Vec3& from, double u1, double) const override {
    if (inside(from)) return {};
    const double d = length_of(from.y(), from.z());
    const double h0 = -half_ - from.x(), h1 = half_ - from.x();
    double h, r2, share;  // share: r^2 x density along the tube's axis, inverted, per length
    if (h0 * h1 > 0 && d < 1e-6 * (half_ + std::abs(from.x()))) {
      h = h0 * h1 / (h1 + u1 * (h0 - h1));  // on the axis beyond an end: even in 1 / h
      r2 = h * h + d * d;
      share = 1 / (h0 * h1);
    } else if (even_in_sine_) {
      const SineSpan span(h0, h1, d);
      h = span.h_at(u1);
      r2 = h * h + d * d;
      share = span.gap() * std::sqrt(r2) / (d * d * 2 * half_);
    } else {
      const double t0 = std::atan2(h0, d), gap = std::atan2(d * (h1 - h0), d * d + h0 * h1);
      h = std::clamp(d * std::tan(t0 + u1 * gap), h0, h1);
      r2 = h * h + d * d;
      share = gap / (d * 2 * half_);
    }
    const Vec3 point(from.x() + h, 0, 0);
    return {point, form_->intensity((from - point) / std::sqrt(r2)) * share};
  }
  EmittedRay emit(double u1, double, double u3, double u4) const override {
    const auto sample = form_->sample(u3, u4);
    return {half_ * (2 * u1 - 1) * Vec3::UnitX(), sample.direction, carried(*form_, sample)};
  }
  // In the angle along the axis as seen from the sensor: dx / r^2 is d(angle) / distance.
  double on_axis(double distance) const override {
    if (!(distance > radius_)) return 0;
    const double end = std::atan2(half_, distance);
    std::vector<double> splits = {0.0};
    for (const double bend : form_->bends()) splits.insert(splits.end(), {bend, -bend});
    const auto element = [&](double t) {
      return std::cos(t) * form_->intensity({-std::sin(t), 0, std::cos(t)});
    };
    return integrate(element, -end, end, splits) / (2 * half_ * distance);
  }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("tube", half_, radius_);
    form_->identify(bytes);
  }

 private:
  std::unique_ptr<AngularForm> form_;
  bool even_in_sine_ = false;
};

}  // namespace

std::unique_ptr<Emitter> make_tube_emitter(double length, double diameter,
                                           std::unique_ptr<AngularForm> form) {
  require_positive(length, "the tube's length");
  require_positive(diameter, "the tube's diameter");
  if (form) return std::make_unique<FormTube>(length, diameter, std::move(form));
  return std::make_unique<LambertTube>(length, diameter);
}

}  // namespace boughlight
