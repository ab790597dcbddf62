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

}  // namespace boughlight
