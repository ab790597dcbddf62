// The same intensity in every direction.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class Isotropic final : public AngularForm {
 public:
  double intensity(const Vec3&) const override { return 1 / (4 * kPi); }
  Sample sample(double u1, double u2) const override {
    const double z = 1 - 2 * u1, r = std::sqrt(std::max(0.0, 1 - z * z)), phi = 2 * kPi * u2;
    return {{r * std::cos(phi), r * std::sin(phi), z}, 4 * kPi};
  }
  double pdf(const Vec3& direction) const override { return intensity(direction); }
  void identify(CanonicalBytes& bytes) const override { bytes.add("isotropic"); }
};

}  // namespace

std::unique_ptr<AngularForm> make_isotropic() {
  return std::make_unique<Isotropic>();
}

}  // namespace boughlight
