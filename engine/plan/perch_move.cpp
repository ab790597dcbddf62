#include "plan/perch_move.h"

#include <algorithm>
#include <limits>

namespace boughlight {
namespace {

// A perch further than this from any branch or board sits on none, m (a survey cautions at 1 cm as well).
constexpr double kOnIt = 0.01;

double off_branch(const Branch& branch, const Vec3& place) {
  return std::max(0.0, branch.signed_distance(place));
}

double back_of(const Scene& scene) {
  return scene.animal ? scene.animal->back : 0;
}

}  // namespace

PerchSeat seat_of(const Scene& scene, std::size_t perch) {
  PerchSeat seat{perch, {}, {}, {perch}, ""};
  const Vec3& at = scene.perches[perch].at;
  double nearest = kOnIt;
  for (std::size_t i = 0; i < scene.branches.size(); ++i)
    if (const double off = off_branch(scene.branches[i], at); off < nearest) nearest = off, seat.branch = i;
  for (std::size_t i = 0; i < scene.boards.size(); ++i)
    if (const double off = scene.boards[i].distance(at); off < nearest)
      nearest = off, seat.board = i, seat.branch.reset();
  if (seat.branch) seat.name = scene.branches[*seat.branch].name;
  if (seat.board) seat.name = scene.boards[*seat.board].name;
  if (!seat.branch && !seat.board) return seat;
  for (std::size_t i = 0; i < scene.perches.size(); ++i) {
    if (i == perch) continue;
    const double off = seat.branch ? off_branch(scene.branches[*seat.branch], scene.perches[i].at)
                                   : scene.boards[*seat.board].distance(scene.perches[i].at);
    if (off < kOnIt) seat.perches.push_back(i);
  }
  return seat;
}

double depth_of(const Scene& scene, std::size_t perch, const Top& top) {
  return top.z - (scene.perches[perch].at.z() + back_of(scene));
}

std::pair<double, double> room_to_move(const Scene& scene, const PerchSeat& seat, const Top& top) {
  // Places that must stay inside, each with how much room it takes around itself.
  std::vector<std::pair<Vec3, double>> places;
  if (seat.branch)
    for (const Vec3& joint : scene.branches[*seat.branch].path)
      places.emplace_back(joint, scene.branches[*seat.branch].diameter / 2);
  if (seat.board) {
    const Board& board = scene.boards[*seat.board];
    for (const double u : {0.0, 1.0})
      for (const double v : {0.0, 1.0})
        places.emplace_back(board.corner + u * board.edge_u + v * board.edge_v, 0);
  }
  const double reach = scene.animal ? scene.animal->reach : 0;
  for (const std::size_t perch : seat.perches)
    places.emplace_back(scene.perches[perch].at + Vec3(0, 0, back_of(scene)), reach);
  double down = -std::numeric_limits<double>::infinity(), up = std::numeric_limits<double>::infinity();
  for (const auto& [place, around] : places) {
    // Boxes stand on each other: the floor of the lowest and the lid of the highest one over or under it.
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Box& box : scene.boxes) {
      const Vec3 far = box.far_corner();
      if (place.x() < box.corner.x() || place.x() > far.x() || place.y() < box.corner.y() ||
          place.y() > far.y())
        continue;
      low = std::min(low, box.corner.z());
      high = std::max(high, far.z());
    }
    down = std::max(down, low + around - place.z());
    up = std::min(up, std::min(high, top.z) - around - place.z());
  }
  return {std::min(0.0, down), std::max(0.0, up)};
}

Scene with_seat_moved(const Scene& scene, const PerchSeat& seat, double up) {
  Scene moved = scene;
  const Vec3 way(0, 0, up);
  if (seat.branch)
    for (Vec3& joint : moved.branches[*seat.branch].path) joint += way;
  if (seat.board) moved.boards[*seat.board].corner += way;
  for (const std::size_t perch : seat.perches) moved.perches[perch].at += way;
  return moved;
}

}  // namespace boughlight
