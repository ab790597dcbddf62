#include "transport/directions.h"

namespace boughlight {

const std::array<Vec3f, kOrientations>& orientations() {
  static const auto all = [] {
    std::array<Vec3f, kOrientations> result;
    std::size_t next = 0;
    for (int z = 1; z >= -1; --z)
      for (int y = -1; y <= 1; ++y)
        for (int x = -1; x <= 1; ++x)
          if (x != 0 || y != 0 || z != 0)
            result[next++] =
                Vec3f(static_cast<float>(x), static_cast<float>(y), static_cast<float>(z)).normalized();
    return result;
  }();
  return all;
}

Vec3f steady_direction(const Vec3f& direction) {
  // Places of a square lattice on an octahedron.
  constexpr float kSteps = 96;
  const Vec3f on_face = direction / direction.cwiseAbs().sum();
  const float x = std::round(kSteps * on_face.x()), y = std::round(kSteps * on_face.y());
  const float z = std::max(0.0f, kSteps - std::abs(x) - std::abs(y));
  return Vec3f(x, y, std::copysign(z, direction.z())).normalized();
}

}  // namespace boughlight
