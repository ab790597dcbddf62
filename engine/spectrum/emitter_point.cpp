// All light from one place.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class Point final : public Emitter {
 public:
  explicit Point(std::unique_ptr<AngularForm> form) : form_(std::move(form)) {}

  EmitterPoint connect(const Vec3& from, double, double) const override {
    return even_sample(*form_, Vec3::Zero(), from);
  }
  EmittedRay emit(double, double, double u3, double u4) const override {
    const auto sample = form_->sample(u3, u4);
    return {Vec3::Zero(), sample.direction, carried(*form_, sample)};
  }
  double on_axis(double distance) const override {
    return distance > 0 ? form_->intensity(Vec3::UnitZ()) / (distance * distance) : 0;
  }
  double extent(const Vec3&) const override { return 0; }
  double distance(const Vec3& from) const override { return from.norm(); }
  Vec3 nearest(const Vec3&) const override { return Vec3::Zero(); }
  std::string describe() const override { return "point"; }
  void identify(CanonicalBytes& bytes) const override {
    bytes.add("point");
    form_->identify(bytes);
  }

 private:
  std::unique_ptr<AngularForm> form_;
};

}  // namespace

std::unique_ptr<Emitter> make_point_emitter(std::unique_ptr<AngularForm> form) {
  // Lambert's law of a point is cos / pi to the side of aim: half its axial intensity at 60 degrees.
  return std::make_unique<Point>(form ? std::move(form) : make_cosine_power(kPi / 3));
}

}  // namespace boughlight
