// Intensity cos^n about aim, nothing from 90 degrees on.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class CosinePower final : public AngularForm {
 public:
  explicit CosinePower(double n) : n_(n) {}

  double intensity(const Vec3& direction) const override {
    return direction.z() > 0 ? (n_ + 1) / (2 * kPi) * std::pow(direction.z(), n_) : 0;
  }
  Sample sample(double u1, double u2) const override {
    // cos^(n+1) is even over [0, 1]; sin^2 is taken from the logarithm so that narrow beams keep their
    // digits.
    const double log_cos = std::log1p(-u1) / (n_ + 1);
    const double r = std::sqrt(-std::expm1(2 * log_cos)), phi = 2 * kPi * u2;
    const Vec3 direction(r * std::cos(phi), r * std::sin(phi), std::exp(log_cos));
    return {direction, inverse_or_zero(intensity(direction))};
  }
  double pdf(const Vec3& direction) const override { return intensity(direction); }
  void identify(CanonicalBytes& bytes) const override { bytes.add("cosine-power", n_); }

 private:
  double n_;
};

}  // namespace

std::unique_ptr<AngularForm> make_cosine_power(double half_angle_rad) {
  if (!(half_angle_rad > 0 && half_angle_rad < kPi / 2))
    throw std::invalid_argument("the half angle of a cosine-power form must lie between 0 and 90 degrees");
  // log(cos) by the half angle's sine, which keeps its digits when the beam is narrow.
  const double sine = std::sin(half_angle_rad);
  return std::make_unique<CosinePower>(std::log(0.5) / (0.5 * std::log1p(-sine * sine)));
}

}  // namespace boughlight
