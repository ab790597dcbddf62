#include "assess/body_shape.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace boughlight {
namespace {

constexpr double kClear = 5e-3;  // m between the flank and what the animal sits on

double distance_to_stretch(const Vec3& place, const Vec3& from, const Vec3& to) {
  const Vec3 way = to - from;
  const double t = std::clamp((place - from).dot(way) / way.squaredNorm(), 0.0, 1.0);
  return (place - from - t * way).norm();
}

// Greatest component positive, so that the same branch drawn from its other end gives the same axis.
Vec3 pointing_on(const Vec3& direction) {
  Eigen::Index greatest = 0;
  direction.cwiseAbs().maxCoeff(&greatest);
  return direction.normalized() * std::copysign(1.0, direction[greatest]);
}

// Where a straight way crosses a board, as a share of the way; nothing where it does not.
std::optional<double> crossing(const Board& board, const Vec3& from, const Vec3& to) {
  const Vec3 normal = board.edge_u.cross(board.edge_v);
  const double near = (from - board.corner).dot(normal), far = (to - board.corner).dot(normal);
  if (near * far > 0 || near == far) return std::nullopt;
  const double t = near / (near - far);
  constexpr double kOn = 1e-6;
  return board.distance(from + t * (to - from)) < kOn ? std::optional(t) : std::nullopt;
}

bool free(const Scene& scene, const Vec3& place) {
  return scene.inside(place) && !scene.inside_solid(place);
}

double nearest_branch(const Scene& scene, const Vec3& place) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Branch& branch : scene.branches) nearest = std::min(nearest, branch.signed_distance(place));
  return nearest;
}

}  // namespace

std::string_view axis_origin_name(AxisOrigin origin) {
  switch (origin) {
    case AxisOrigin::along:
      return "along";
    case AxisOrigin::branch:
      return "branch";
    case AxisOrigin::board:
      return "board";
    case AxisOrigin::none:
      break;
  }
  return "x";
}

BodyAxis body_axis(const Scene& scene, const Perch& perch) {
  if (perch.along) return {*perch.along, AxisOrigin::along};
  BodyAxis axis;
  double nearest = std::numeric_limits<double>::infinity();
  for (const Branch& branch : scene.branches)
    for (std::size_t i = 0; i + 1 < branch.path.size(); ++i) {
      const double distance =
          distance_to_stretch(perch.at, branch.path[i], branch.path[i + 1]) - branch.diameter / 2;
      if (distance >= nearest) continue;
      nearest = distance;
      axis = {pointing_on(branch.path[i + 1] - branch.path[i]), AxisOrigin::branch};
    }
  for (const Board& board : scene.boards) {
    if (board.distance(perch.at) >= nearest) continue;
    nearest = board.distance(perch.at);
    axis = {pointing_on(board.edge_u.norm() >= board.edge_v.norm() ? board.edge_u : board.edge_v),
            AxisOrigin::board};
  }
  return axis;
}

std::vector<OutlinePlace> body_outline(const Scene& scene, const Vec3& back, const Vec3& axis, double length,
                                       double height, const Vec3& facing) {
  Vec3 down = -Vec3::UnitZ() + axis.z() * axis;
  constexpr double kUpright = 1e-3;
  if (down.norm() < kUpright) down = -facing + facing.dot(axis) * axis;
  if (down.norm() < kUpright) down = Vec3::UnitY() - axis.y() * axis;
  down.normalize();
  Vec3 side = axis.cross(down).normalized();
  if (facing.dot(side) < 0) side = -side;

  std::vector<OutlinePlace> places;
  const auto along = [&](int i) { return length * (static_cast<double>(i) / (kOutlinePlaces - 1) - 0.5); };
  for (int i = 0; i < kOutlinePlaces; ++i) {
    const Vec3 at = back + along(i) * axis;
    if (free(scene, at)) places.push_back({false, along(i), at});
  }
  for (int i = 0; i < kOutlinePlaces; ++i) {
    const Vec3 spine = back + along(i) * axis;
    Vec3 at = spine + height * down;
    for (const Board& board : scene.boards)
      if (const auto t = crossing(board, spine, at))
        at = spine + std::max(0.0, *t - kClear / height) * (at - spine);
    constexpr double kStep = 1e-3, kFar = 0.5;
    for (double moved = 0; nearest_branch(scene, at) < kClear && moved < kFar; moved += kStep)
      at += kStep * side;
    if (free(scene, at)) places.push_back({true, along(i), at});
  }
  return places;
}

std::vector<OutlinePlace> body_line(const Scene& scene, const Vec3& back, const Vec3& axis, double reach,
                                    double step) {
  std::vector<OutlinePlace> places;
  const int most = static_cast<int>(std::floor(reach / step + 1e-9));
  const auto at = [&](int i) -> Vec3 { return back + i * step * axis; };
  int first = 0;
  while (first > -most && scene.inside(at(first - 1))) --first;
  for (int i = first; i <= most && scene.inside(at(i)); ++i)
    if (i == 0 || !scene.inside_solid(at(i))) places.push_back({false, i * step, at(i)});
  return places;
}

std::optional<Beam> beam_of(const std::vector<double>& along, const std::vector<double>& values) {
  const auto peak = std::max_element(values.begin(), values.end());
  if (peak == values.end() || !(*peak > 0)) return std::nullopt;
  const auto top = static_cast<std::size_t>(peak - values.begin());
  Beam beam;
  beam.greatest = *peak;
  beam.greatest_at = along[top];
  const double half = *peak / 2;
  const auto end = [&](std::size_t inside, std::size_t outside) {
    const double t = (values[inside] - half) / (values[inside] - values[outside]);
    return along[inside] + t * (along[outside] - along[inside]);
  };
  std::size_t low = top, high = top;
  while (low > 0 && values[low - 1] >= half) --low;
  while (high + 1 < values.size() && values[high + 1] >= half) ++high;
  beam.open_from = low == 0;
  beam.open_to = high + 1 == values.size();
  beam.from = beam.open_from ? along[low] : end(low, low - 1);
  beam.to = beam.open_to ? along[high] : end(high, high + 1);
  return beam;
}

std::optional<bool> beams_nested(const std::map<Quantity, Beam>& beams) {
  const auto heat = beams.find(Quantity::infrared), uv = beams.find(Quantity::uvi),
             light = beams.find(Quantity::lux);
  if (heat == beams.end() || uv == beams.end() || light == beams.end()) return std::nullopt;
  const auto inside = [](const Beam& inner, const Beam& outer) {
    return inner.from >= outer.from - kNestedSlack && inner.to <= outer.to + kNestedSlack;
  };
  return inside(heat->second, uv->second) && inside(uv->second, light->second);
}

Spread spread_of(const std::vector<double>& values) {
  const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
  Spread spread{*greatest, *least, std::nullopt};
  if (*least > 0) spread.peak_to_edge = *greatest / *least;
  return spread;
}

}  // namespace boughlight
