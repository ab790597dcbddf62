// A ball: Lambert's law over its surface, or a form from its centre.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class Sphere : public Emitter {
 public:
  explicit Sphere(double radius) : radius_(radius) {}

  double extent(const Vec3&) const override { return radius_; }
  double distance(const Vec3& from) const override { return std::max(0.0, from.norm() - radius_); }
  Vec3 nearest(const Vec3& from) const override {
    const double d = from.norm();
    return d > radius_ ? Vec3(from * (radius_ / d)) : from;
  }
  std::string describe() const override { return "sphere, " + print_size(2 * radius_) + " across"; }

 protected:
  double radius_;
};

class LambertSphere final : public Sphere {
 public:
  using Sphere::Sphere;
  void identify(CanonicalBytes& bytes) const override { bytes.add("lambert sphere", radius_); }

  // Uniform in the cone that the sphere fills, so every sample weighs radiance x solid angle.
  EmitterPoint connect(const Vec3& from, double u1, double u2) const override {
    const double d = from.norm();
    if (d < radius_) return {};
    const double sine2 = std::min(1.0, radius_ * radius_ / (d * d));
    const double open = sine2 / (1 + std::sqrt(1 - sine2));  // 1 - cos of the cone's half angle
    const double down = u1 * open, cosine = 1 - down, sine_squared = down * (2 - down);
    const double along = d * cosine - std::sqrt(std::max(0.0, radius_ * radius_ - d * d * sine_squared));
    const double across = along * std::sqrt(sine_squared), phi = 2 * kPi * u2;

    const Vec3 out = from / d, side = out.unitOrthogonal(), other = out.cross(side);
    const Vec3 point = (d - along * cosine) * out + across * (std::cos(phi) * side + std::sin(phi) * other);
    const double radiance = 1 / (4 * kPi * kPi * radius_ * radius_);
    return {point, radiance * 2 * kPi * open};
  }
  EmittedRay emit(double u1, double u2, double u3, double u4) const override {
    const double z = 1 - 2 * u1, r = std::sqrt(std::max(0.0, 1 - z * z)), phi = 2 * kPi * u2;
    const Vec3 normal(r * std::cos(phi), r * std::sin(phi), z);
    const Vec3 side = normal.unitOrthogonal(), other = normal.cross(side);
    const Vec3 law = cosine_direction(u3, u4);
    return {radius_ * normal, (law.x() * side + law.y() * other + law.z() * normal).normalized(), 1};
  }
  // View factor (R / d)^2 of a ball to an element facing its centre, exitance 1 / (4 pi R^2).
  double on_axis(double distance) const override {
    return distance >= radius_ ? 1 / (4 * kPi * distance * distance) : 0;
  }
};

class FormSphere final : public Sphere {
 public:
  FormSphere(double radius, std::unique_ptr<AngularForm> form) : Sphere(radius), form_(std::move(form)) {}

  EmitterPoint connect(const Vec3& from, double, double) const override {
    const double d = from.norm();
    if (d < radius_) return {};
    return {Vec3::Zero(), form_->intensity(from / d) / (d * d)};
  }
  EmittedRay emit(double, double, double u3, double u4) const override {
    const auto sample = form_->sample(u3, u4);
    return {Vec3::Zero(), sample.direction, carried(*form_, sample)};
  }
  double on_axis(double distance) const override {
    return distance >= radius_ ? form_->intensity(Vec3::UnitZ()) / (distance * distance) : 0;
  }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("sphere", radius_);
    form_->identify(bytes);
  }

 private:
  std::unique_ptr<AngularForm> form_;
};

}  // namespace

std::unique_ptr<Emitter> make_sphere_emitter(double diameter, std::unique_ptr<AngularForm> form) {
  require_positive(diameter, "the sphere's diameter");
  if (form) return std::make_unique<FormSphere>(0.5 * diameter, std::move(form));
  return std::make_unique<LambertSphere>(0.5 * diameter);
}

}  // namespace boughlight
