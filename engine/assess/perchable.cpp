#include "assess/perchable.h"

#include <algorithm>
#include <cmath>

namespace boughlight {
namespace {

// The direction at right angles to an axis that is nearest to up; for an upright axis, to the front, where a
// keeper looks from.
Vec3 side_nearest_up(const Vec3& axis) {
  const Vec3 up = Vec3::UnitZ() - axis.z() * axis;
  if (up.norm() > 1e-6) return up.normalized();
  return (-Vec3::UnitY() + axis.y() * axis).normalized();
}

void add_steps(const Scene& scene, const std::string& name, const Vec3& from, const Vec3& to,
               const Vec3& offset, double spacing, std::vector<PerchablePlace>& places) {
  const double length = (to - from).norm();
  const int steps = std::max(1, static_cast<int>(std::lround(length / spacing)));
  for (int i = 0; i < steps; ++i) {
    const Vec3 back = from + ((i + 0.5) / steps) * (to - from) + offset;
    if (scene.inside(back) && !scene.inside_solid(back)) places.push_back({back, length / steps, name});
  }
}

}  // namespace

std::vector<PerchablePlace> perchable_places(const Scene& scene, double spacing) {
  std::vector<PerchablePlace> places;
  // A back that touches what it sits on reads the side above it.
  constexpr double kHair = 1e-4;
  const double back = std::max(scene.animal ? scene.animal->back : 0, kHair);
  for (const Branch& branch : scene.branches)
    for (std::size_t i = 0; i + 1 < branch.path.size(); ++i) {
      const Vec3 axis = (branch.path[i + 1] - branch.path[i]).normalized();
      add_steps(scene, branch.name, branch.path[i], branch.path[i + 1],
                (branch.diameter / 2 + back) * side_nearest_up(axis), spacing, places);
    }
  for (const Board& board : scene.boards) {
    const bool u_is_longest = board.edge_u.norm() >= board.edge_v.norm();
    const Vec3& longest = u_is_longest ? board.edge_u : board.edge_v;
    const Vec3 start = board.corner + 0.5 * (u_is_longest ? board.edge_v : board.edge_u);
    Vec3 normal = board.edge_u.cross(board.edge_v).normalized();
    if (normal.z() < 0 || (normal.z() == 0 && normal.y() > 0)) normal = -normal;
    add_steps(scene, board.name, start, start + longest, back * normal, spacing, places);
  }
  return places;
}

}  // namespace boughlight
