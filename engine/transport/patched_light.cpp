#include "transport/patched_light.h"

#include <algorithm>
#include <cmath>

namespace boughlight {

int PatchedLight::patch_of(const Vec3f& direction) {
  int axis = 0;
  direction.cwiseAbs().maxCoeff(&axis);
  const int face = 2 * axis + (direction[axis] < 0 ? 1 : 0);
  // Even in angle along the face's edges, so that patches are of nearly one size.
  constexpr float kQuarterTurns = 1.27323954f;  // 4 / pi
  const auto along = [&](int other) {
    const float tangent = direction[(axis + other) % 3] / std::abs(direction[axis]);
    const float share = 0.5f + 0.5f * kQuarterTurns * std::atan(tangent);
    return std::clamp(static_cast<int>(share * kAcross), 0, kAcross - 1);
  };
  return (face * kAcross + along(1)) * kAcross + along(2);
}

void PatchedLight::add(const Vec3f& direction, const float* values) {
  const int patch = patch_of(direction);
  for (std::size_t i = 0; i < flux_.size(); ++i)
    flux_[i][patch] += values[i / 3] * direction[static_cast<Eigen::Index>(i % 3)];
}

void PatchedLight::add(const PatchedLight& other) {
  for (std::size_t i = 0; i < flux_.size(); ++i) flux_[i] += other.flux_[i];
}

void PatchedLight::add_first(const PatchedLight& other, std::size_t quantity) {
  for (std::size_t axis = 0; axis < 3; ++axis) flux_[axis] += other.flux_[3 * quantity + axis];
}

PatchedLight::Row PatchedLight::towards(std::size_t quantity, const Vec3f& normal) const {
  return normal.x() * flux_[3 * quantity] + normal.y() * flux_[3 * quantity + 1] +
         normal.z() * flux_[3 * quantity + 2];
}

float PatchedLight::on(std::size_t quantity, const Vec3f& normal) const {
  return towards(quantity, normal).max(0.0f).sum();
}

Vec3f PatchedLight::in_front_of(std::size_t quantity, const Vec3f& normal) const {
  const Row towards_normal = towards(quantity, normal);
  Vec3f sum;
  for (int axis = 0; axis < 3; ++axis)
    sum[axis] = (towards_normal > 0).select(flux_[3 * quantity + static_cast<std::size_t>(axis)], 0.0f).sum();
  return sum;
}

}  // namespace boughlight
