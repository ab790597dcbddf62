// A tube in a reflector: the bare tube's law along its length, even across it up to a cutoff.
#include "spectrum/sampling.h"

namespace boughlight {

namespace {

class Trough final : public AngularForm {
 public:
  explicit Trough(double cutoff_rad) : cutoff_(cutoff_rad), cos_cutoff_(std::cos(cutoff_rad)) {}

  // sin(angle from the tube's axis) / (pi x cutoff): sin^2 over the angle gives pi / 2, the azimuth 2 cutoff.
  double intensity(const Vec3& direction) const override {
    const double sine = length_of(direction.y(), direction.z());
    // The slack keeps directions sampled on the cutoff itself.
    if (direction.z() < sine * (cos_cutoff_ - 1e-12)) return 0;
    return sine / (kPi * cutoff_);
  }
  Sample sample(double u1, double u2) const override {
    const double alpha = angle_of_density_sin2(u1), across = (2 * u2 - 1) * cutoff_;
    const double sine = std::sin(alpha);
    return {{std::cos(alpha), sine * std::sin(across), sine * std::cos(across)},
            inverse_or_zero(sine / (kPi * cutoff_))};
  }
  double pdf(const Vec3& direction) const override { return intensity(direction); }
  void identify(CanonicalBytes& bytes) const override { bytes.add("trough", cutoff_); }

 private:
  double cutoff_, cos_cutoff_;
};

}  // namespace

std::unique_ptr<AngularForm> make_trough(double cutoff_rad) {
  if (!(cutoff_rad > 0 && cutoff_rad <= kPi * (1 + 1e-12)))
    throw std::invalid_argument("the cutoff of a trough must lie above 0 and at most at 180 degrees");
  return std::make_unique<Trough>(std::min(cutoff_rad, kPi));
}

}  // namespace boughlight
