#include "scene/oriented_box.h"

#include <vector>

namespace boughlight {

bool OrientedBox::contains(const Vec3& place) const {
  const Vec3 local = axes.transpose() * (place - centre);
  return (local.cwiseAbs().array() < half.array()).all();
}

std::array<Vec3, 8> OrientedBox::corners() const {
  std::array<Vec3, 8> corners;
  for (unsigned i = 0; i < 8; ++i) {
    const Vec3 side(i & 1U ? 1 : -1, i & 2U ? 1 : -1, i & 4U ? 1 : -1);
    corners[i] = centre + axes * half.cwiseProduct(side);
  }
  return corners;
}

double OrientedBox::extent(const Vec3& direction) const {
  return half.dot((axes.transpose() * direction).cwiseAbs());
}

bool OrientedBox::overlaps(const OrientedBox& other, double slack) const {
  // Two boxes are apart where there is a plane between them, and then one of those square to an axis of
  // either or to an edge of each (Gottschalk, Lin and Manocha, "OBBTree", 1996).
  std::vector<Vec3> directions;
  for (int i = 0; i < 3; ++i) {
    directions.push_back(axes.col(i));
    directions.push_back(other.axes.col(i));
    for (int k = 0; k < 3; ++k) {
      const Vec3 square = axes.col(i).cross(other.axes.col(k));
      if (square.norm() > 1e-6) directions.push_back(square.normalized());
    }
  }
  for (const Vec3& direction : directions) {
    const double apart = std::abs((other.centre - centre).dot(direction));
    if (apart + slack >= extent(direction) + other.extent(direction)) return false;
  }
  return true;
}

}  // namespace boughlight
