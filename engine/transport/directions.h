// Sampled directions, each with its density over solid angle (1/sr).
#pragma once

#include <array>
#include <cmath>
#include <numbers>

#include "geometry/panel.h"
#include "transport/sampler.h"

namespace boughlight {

inline constexpr float kPi = std::numbers::pi_v<float>;
inline constexpr float kInversePi = std::numbers::inv_pi_v<float>;

// Uniform over the sphere; density 1 / (4 pi).
inline Vec3f sample_sphere(Pair pair) {
  const float z = 1 - 2 * pair.u, radius = std::sqrt(std::max(0.0f, 1 - z * z)), turn = 2 * kPi * pair.v;
  return {radius * std::cos(turn), radius * std::sin(turn), z};
}

// A direction given as if `axis` (unit) were upright, turned to where the axis points; unit.
inline Vec3f in_frame(const Vec3f& axis, const Vec3f& direction) {
  // Orthonormal basis without branches near the pole: Duff et al., JCGT 6(1), 2017.
  const float sign = std::copysign(1.0f, axis.z());
  const float a = -1 / (sign + axis.z()), b = axis.x() * axis.y() * a;
  const Vec3f side(1 + sign * axis.x() * axis.x() * a, sign * b, -sign * axis.x());
  const Vec3f other(b, sign + axis.y() * axis.y() * a, -axis.y());
  return (direction.x() * side + direction.y() * other + direction.z() * axis).normalized();
}

// By the cosine law about `axis` (unit); density cos / pi on that side, 0 on the other.
inline Vec3f sample_cosine(const Vec3f& axis, Pair pair) {
  const float radius = std::sqrt(pair.u), turn = 2 * kPi * pair.v;
  return in_frame(axis,
                  {radius * std::cos(turn), radius * std::sin(turn), std::sqrt(std::max(0.0f, 1 - pair.u))});
}

// The nearest of directions spread over the sphere (some 0.6 degrees apart, the axes among them): what is
// read along it differs by less than 2e-4, and it stays the same where the direction hardly moves.
Vec3f steady_direction(const Vec3f& direction);

// The 26 orientations in which a place is judged: a cube's faces, edges and corners.
inline constexpr int kOrientations = 26;
const std::array<Vec3f, kOrientations>& orientations();

// What a cosine-corrected sensor in each orientation takes of light arriving from `direction`.
using Orientations = Eigen::Array<float, kOrientations, 1>;
inline Orientations orientation_cosines(const Vec3f& direction) {
  Orientations cosines;
  const auto& all = orientations();
  for (int k = 0; k < kOrientations; ++k)
    cosines[k] = std::max(0.0f, all[static_cast<std::size_t>(k)].dot(direction));
  return cosines;
}

}  // namespace boughlight
