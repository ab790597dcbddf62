#include "scene/polygon.h"

#include <algorithm>
#include <cmath>

namespace boughlight {

namespace {

using Vec2 = Eigen::Vector2d;

// Twice the area of a triangle, positive where a, b, c run counter-clockwise.
double turn(const Vec2& a, const Vec2& b, const Vec2& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

// Inside the triangle or on its sides, but not at one of its corners.
bool covers(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& place) {
  if (place == a || place == b || place == c) return false;
  return turn(a, b, place) >= 0 && turn(b, c, place) >= 0 && turn(c, a, place) >= 0;
}

// At right angles to a polygon, as long as twice the area that it covers less what it covers the other way
// round (Newell's method; from memory).
Vec3 newell_normal(const std::vector<Vec3>& places) {
  Vec3 normal = Vec3::Zero();
  for (std::size_t i = 0; i < places.size(); ++i)
    normal += (places[i] - places[0]).cross(places[(i + 1) % places.size()] - places[0]);
  return normal;
}

// The polygon seen along the axis nearest to its normal, from the side that it runs counter-clockwise around.
std::vector<Vec2> flattened(const std::vector<Vec3>& places, const Vec3& normal) {
  Eigen::Index axis = 0;
  normal.cwiseAbs().maxCoeff(&axis);
  const Eigen::Index u = (axis + 1) % 3, v = (axis + 2) % 3;
  std::vector<Vec2> flat;
  for (const Vec3& place : places) {
    const Vec3 p = place - places[0];
    flat.push_back(normal[axis] > 0 ? Vec2(p[u], p[v]) : Vec2(p[v], p[u]));
  }
  return flat;
}

// The greatest of twice the areas that the corners span with the first one.
double greatest_span(const std::vector<Vec3>& places) {
  double greatest = 0;
  for (std::size_t i = 1; i < places.size(); ++i)
    for (std::size_t k = i + 1; k < places.size(); ++k)
      greatest = std::max(greatest, (places[i] - places[0]).cross(places[k] - places[0]).norm());
  return greatest;
}

// The corner of the polygon that is left whose ear can be clipped. Those on a straight stretch come last.
std::optional<std::size_t> find_ear(const std::vector<Vec2>& flat, const std::vector<std::size_t>& left) {
  const std::size_t count = left.size();
  std::optional<std::size_t> straight;
  for (std::size_t i = 0; i < count; ++i) {
    const Vec2 &a = flat[left[(i + count - 1) % count]], &b = flat[left[i]], &c = flat[left[(i + 1) % count]];
    const double area = turn(a, b, c), slack = 1e-14 * ((b - a).norm() * (c - b).norm());
    if (std::abs(area) <= slack && !straight) straight = i;
    if (area <= slack) continue;
    bool empty = true;
    for (std::size_t k = 2; k + 1 < count && empty; ++k)
      empty = !covers(a, b, c, flat[left[(i + k) % count]]);
    if (empty) return i;
  }
  return straight;
}

}  // namespace

std::optional<std::vector<Triangle>> cut_into_triangles(const std::vector<Vec3>& vertices,
                                                        const std::vector<std::uint32_t>& corners) {
  std::vector<Vec3> places;
  std::vector<std::size_t> left;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    places.push_back(vertices[corners[i]]);
    left.push_back(i);
  }
  // What turns as far to the left as to the right lies on one line, or crosses itself.
  const Vec3 normal = newell_normal(places);
  const double span = places.size() > 3 ? greatest_span(places) : 0;
  constexpr double kNothing = 1e-9;
  if (normal.norm() < kNothing * span) return std::nullopt;
  const std::vector<Vec2> flat = flattened(places, normal);
  std::vector<Triangle> triangles;
  while (left.size() > 3) {
    const auto ear = find_ear(flat, left);
    if (!ear) return std::nullopt;
    const std::size_t before = (*ear + left.size() - 1) % left.size(), after = (*ear + 1) % left.size();
    triangles.push_back({corners[left[before]], corners[left[*ear]], corners[left[after]]});
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(*ear));
  }
  // What is left over of a crossing outline turns the other way.
  if (turn(flat[left[0]], flat[left[1]], flat[left[2]]) < -kNothing * span) return std::nullopt;
  triangles.push_back({corners[left[0]], corners[left[1]], corners[left[2]]});
  return triangles;
}

}  // namespace boughlight
