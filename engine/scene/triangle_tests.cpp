#include "scene/triangle_tests.h"

#include <vector>

namespace boughlight {

bool lies_on(const Vec3& place, const Corners& triangle, double within) {
  const Vec3 normal = (triangle[1] - triangle[0]).cross(triangle[2] - triangle[0]);
  const double length = normal.norm();
  if (!(length > 0) || std::abs(normal.dot(place - triangle[0])) > within * length) return false;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 edge = triangle[(k + 1) % 3] - triangle[k];
    if (normal.cross(edge).dot(place - triangle[k]) < -within * length * edge.norm()) return false;
  }
  return true;
}

bool meets_box(const Corners& triangle, const Vec3& low, const Vec3& high) {
  // What is left of the triangle when the six planes have cut off what is out (Sutherland and Hodgman).
  std::vector<Vec3> left(triangle.begin(), triangle.end()), kept;
  for (int axis = 0; axis < 3; ++axis)
    for (const double side : {-1.0, 1.0}) {
      const double limit = side < 0 ? low[axis] : high[axis];
      const auto beyond = [&](const Vec3& place) { return side * (place[axis] - limit); };
      kept.clear();
      for (std::size_t i = 0; i < left.size(); ++i) {
        const Vec3 &from = left[i], &to = left[(i + 1) % left.size()];
        const double start = beyond(from), end = beyond(to);
        if (start <= 0) kept.push_back(from);
        if ((start < 0 && end > 0) || (start > 0 && end < 0)) {
          kept.emplace_back(from + start / (start - end) * (to - from));
          kept.back()[axis] = limit;
        }
      }
      left.swap(kept);
    }
  return !left.empty();
}

}  // namespace boughlight
