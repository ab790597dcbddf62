// Rays that are sent out to find a way through what is closed, and how many may.
#pragma once

#include <cmath>

#include "geometry/stream.h"
#include "scene/model.h"

namespace boughlight {

// At most one ray in a million may slip out of what is closed.
inline constexpr double kLeakRate = 1e-6;

enum class Aim { everywhere, at_edges };

struct Leaks {
  long rays = 0, escaped = 0;
};

inline Vec3 uniform_direction(Stream& random) {
  const double z = 2 * random.next() - 1, turn = 6.283185307179586 * random.next();
  const double radius = std::sqrt(1 - z * z);
  return {radius * std::cos(turn), radius * std::sin(turn), z};
}

}  // namespace boughlight
