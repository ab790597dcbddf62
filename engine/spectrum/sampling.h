// Small parts that the samplers of forms and emitters share.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <stdexcept>
#include <string>

#include "spectrum/emitter.h"
#include "units/units.h"

namespace boughlight {

inline constexpr double kPi = std::numbers::pi;

// Lengths here are of lamps and rooms, so nothing can overflow on the way: several times as fast as
// std::hypot.
inline double length_of(double x, double y) {
  return std::sqrt(x * x + y * y);
}

// Direction spread by the cosine law about +z: density cos / pi.
inline Vec3 cosine_direction(double u1, double u2) {
  const double r = std::sqrt(u1), phi = 2 * kPi * u2;
  return {r * std::cos(phi), r * std::sin(phi), std::sqrt(std::max(0.0, 1 - u1))};
}

// Angle in (0, pi) of density (2 / pi) sin^2: its cosine is spread like the chords of a disc. Solves
// t - sin t = 2 pi u for t, twice the angle, by Newton's method on [0, pi], where the left side is convex:
// after one step from anywhere it comes down to the root without passing it.
double angle_of_density_sin2(double u);

// What a sampled direction of a form carries per watt: intensity / density.
inline double carried(const AngularForm& form, const AngularForm::Sample& sample) {
  return form.intensity(sample.direction) * sample.inverse_pdf;
}

// A sample that lies even over the emitter: what a form sends from `point` to `from`, whatever the emitter.
inline EmitterPoint even_sample(const AngularForm& form, const Vec3& point, const Vec3& from) {
  const Vec3 way = from - point;
  const double r2 = way.squaredNorm();
  if (!(r2 > 0)) return {};
  return {point, form.intensity(way / std::sqrt(r2)) / r2};
}

// 1 / density of a sample drawn in proportion to the intensity; a place of no density is never meant to be
// drawn, but rounding may put a sample there: it then carries nothing.
inline double inverse_or_zero(double density) {
  return density > 0 ? 1 / density : 0;
}

// Irradiance on a plane facing back along aim that a form radiating evenly from a flat emitter of area 1
// gives at a height above it: the emitter as seen from there reaches to angle theta_max(phi) from the axis.
// (Each element gives I cos / r^2 dA, which is I d(solid angle).) `phi_splits`: azimuths where theta_max
// bends.
double intensity_within(const AngularForm& form, const std::function<double(double)>& theta_max,
                        const std::vector<double>& phi_splits);

// For sizes of emitters; `what` as in "the tube's length".
inline void require_positive(double size, const char* what) {
  if (!(size > 0 && std::isfinite(size))) throw std::invalid_argument(std::string(what) + " must be above 0");
}

// "53 cm", "16 mm"
inline std::string print_size(double metres) {
  return metres < 0.03 ? print_number(metres * 1000) + " mm" : print_number(metres * 100) + " cm";
}

}  // namespace boughlight
