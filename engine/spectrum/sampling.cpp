#include "spectrum/sampling.h"

#include "spectrum/quadrature.h"

namespace boughlight {

double angle_of_density_sin2(double u) {
  const bool upper = u > 0.5;
  const double m = 2 * kPi * std::max(upper ? 1 - u : u, 1e-17);
  double t = std::min(std::cbrt(6 * m), kPi);
  for (int i = 0; i < 50; ++i) {
    const double step = (t - std::sin(t) - m) / (1 - std::cos(t));
    t = std::clamp(t - step, 1e-7, kPi);
    if (std::abs(step) <= 1e-14 * t) break;
  }
  return upper ? kPi - 0.5 * t : 0.5 * t;
}

double intensity_within(const AngularForm& form, const std::function<double(double)>& theta_max,
                        const std::vector<double>& phi_splits) {
  const std::vector<double> bends = form.bends();
  const auto slice = [&](double phi) {
    const double c = std::cos(phi), s = std::sin(phi);
    const auto ring = [&](double theta) {
      const double sine = std::sin(theta);
      return sine * form.intensity({sine * c, sine * s, std::cos(theta)});
    };
    return integrate(ring, 0, theta_max(phi), bends);
  };
  return integrate(slice, 0, 2 * kPi, phi_splits, 1e-9);
}

}  // namespace boughlight
