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

// What the steps of one branch or board have in common.
struct Solid {
  std::string name;
  std::size_t number = 0;
  int steps = 0;  // so far
};

// `surface` leads from the line to the surface on the animal's side, `up` (unit) on from there to its back.
void add_steps(const Scene& scene, Solid& solid, const Vec3& from, const Vec3& to, const Vec3& surface,
               const Vec3& up, double back_height, double spacing, std::vector<PerchablePlace>& places) {
  const double length = (to - from).norm();
  const int steps = std::max(1, static_cast<int>(std::lround(length / spacing)));
  for (int i = 0; i < steps; ++i, ++solid.steps) {
    const Vec3 seat = from + ((i + 0.5) / steps) * (to - from) + surface;
    const Vec3 back = seat + back_height * up;
    if (scene.inside(back) && !scene.inside_solid(back))
      places.push_back({back, seat, length / steps, solid.name, solid.number, solid.steps});
  }
}

}  // namespace

std::vector<PerchablePlace> perchable_places(const Scene& scene, double spacing) {
  std::vector<PerchablePlace> places;
  // A back that touches what it sits on reads the side above it.
  constexpr double kHair = 1e-4;
  const double back = std::max(scene.animal ? scene.animal->back : 0, kHair);
  std::size_t number = 0;
  for (const Branch& branch : scene.branches) {
    Solid solid{branch.name, number++, 0};
    for (std::size_t i = 0; i + 1 < branch.path.size(); ++i) {
      const Vec3 up = side_nearest_up((branch.path[i + 1] - branch.path[i]).normalized());
      add_steps(scene, solid, branch.path[i], branch.path[i + 1], branch.diameter / 2 * up, up, back, spacing,
                places);
    }
  }
  for (const Board& board : scene.boards) {
    Solid solid{board.name, number++, 0};
    const bool u_is_longest = board.edge_u.norm() >= board.edge_v.norm();
    const Vec3& longest = u_is_longest ? board.edge_u : board.edge_v;
    const Vec3 start = board.corner + 0.5 * (u_is_longest ? board.edge_v : board.edge_u);
    Vec3 normal = board.edge_u.cross(board.edge_v).normalized();
    if (normal.z() < 0 || (normal.z() == 0 && normal.y() > 0)) normal = -normal;
    add_steps(scene, solid, start, start + longest, Vec3::Zero(), normal, back, spacing, places);
  }
  return places;
}

double distance_to_solid(const Scene& scene, std::size_t solid, const Vec3& place) {
  if (solid < scene.branches.size()) return std::max(0.0, scene.branches[solid].signed_distance(place));
  return scene.boards[solid - scene.branches.size()].distance(place);
}

}  // namespace boughlight
