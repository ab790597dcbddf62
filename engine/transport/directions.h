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

// By the cosine law about `axis` (unit); density cos / pi on that side, 0 on the other.
inline Vec3f sample_cosine(const Vec3f& axis, Pair pair) {
  const float radius = std::sqrt(pair.u), turn = 2 * kPi * pair.v;
  // Orthonormal basis without branches near the pole: Duff et al., JCGT 6(1), 2017.
  const float sign = std::copysign(1.0f, axis.z());
  const float a = -1 / (sign + axis.z()), b = axis.x() * axis.y() * a;
  const Vec3f side(1 + sign * axis.x() * axis.x() * a, sign * b, -sign * axis.x());
  const Vec3f other(b, sign + axis.y() * axis.y() * a, -axis.y());
  return (radius * std::cos(turn) * side + radius * std::sin(turn) * other +
          std::sqrt(std::max(0.0f, 1 - pair.u)) * axis)
      .normalized();
}

// Three quarters of the samples by the cosine law about a sensor's normal, the rest over the whole sphere, so
// that the sensor's irradiance and the scalar irradiance come from the same rays.
struct SensorDirections {
  static constexpr float kCosineShare = 0.75f;

  static Vec3f sample(const Vec3f& normal, Pair pair) {
    if (pair.u < kCosineShare) return sample_cosine(normal, {pair.u / kCosineShare, pair.v});
    return sample_sphere({(pair.u - kCosineShare) / (1 - kCosineShare), pair.v});
  }
  static float pdf(const Vec3f& normal, const Vec3f& direction) {
    return kCosineShare * std::max(0.0f, normal.dot(direction)) * kInversePi + (1 - kCosineShare) / (4 * kPi);
  }
};

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
