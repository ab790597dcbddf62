#include "scene/shell.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>
#include <unordered_map>

#include "scene/triangle_tests.h"

namespace boughlight {

namespace {

struct PlaceHash {
  std::size_t operator()(const std::array<float, 3>& place) const {
    std::size_t hash = 0;
    for (const float c : place) hash = hash * 0x9e3779b97f4a7c15U + std::hash<float>()(c);
    return hash;
  }
};

// At right angles to the triangle, as long as its area is large.
Vec3 area_vector(const std::vector<Vec3>& vertices, const Triangle& t) {
  return 0.5 * (vertices[t[1]] - vertices[t[0]]).cross(vertices[t[2]] - vertices[t[0]]);
}

// Where the outline of a triangle seen from above is crossed by the line of equal y, on the way to larger x.
struct EdgeCrossing {
  double x, z;
};

// The edge from a to b at height y of the plan. Both triangles at an edge get the same figures, as a and b
// come in the order of their indices.
EdgeCrossing edge_crossing(const Vec3& a, const Vec3& b, double y) {
  const double t = (y - a.y()) / (b.y() - a.y());
  return {a.x() + t * (b.x() - a.x()), a.z() + t * (b.z() - a.z())};
}

}  // namespace

Shell::Shell(const std::vector<Vec3>& vertices, const std::vector<Triangle>& triangles) {
  std::unordered_map<std::array<float, 3>, std::uint32_t, PlaceHash> places;
  std::vector<std::uint32_t> place_of;
  place_of.reserve(vertices.size());
  for (const Vec3& vertex : vertices) {
    std::array<float, 3> place{};
    // Adding 0 makes -0 and 0 the same place.
    for (int axis = 0; axis < 3; ++axis)
      place[static_cast<std::size_t>(axis)] = static_cast<float>(vertex[axis]) + 0.0f;
    const auto [at, fresh] = places.emplace(place, static_cast<std::uint32_t>(vertices_.size()));
    if (fresh) vertices_.emplace_back(place[0], place[1], place[2]);
    place_of.push_back(at->second);
  }
  std::vector<std::size_t> given;  // which of the triangles given each one is
  for (std::size_t i = 0; i < triangles.size(); ++i) {
    const Triangle corners = {place_of[triangles[i][0]], place_of[triangles[i][1]],
                              place_of[triangles[i][2]]};
    if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) {
      ++without_area_;
      continue;
    }
    if (!(area_vector(vertices_, corners).squaredNorm() > 0)) ++without_area_;
    triangles_.push_back(corners);
    given.push_back(i);
  }
  Eigen::AlignedBox3d box;
  for (const Triangle& triangle : triangles_)
    for (const std::uint32_t corner : triangle) box.extend(vertices_[corner]);
  if (!box.isEmpty()) low_ = box.min(), high_ = box.max();
  find_faults(given);
  fill_columns();
}

void Shell::find_faults(const std::vector<std::size_t>& given) {
  struct Edge {
    std::uint32_t from, to;  // from < to
    bool forward;
    std::uint32_t triangle;
  };
  std::vector<Edge> edges;
  edges.reserve(3 * triangles_.size());
  for (std::size_t i = 0; i < triangles_.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = triangles_[i][k], b = triangles_[i][(k + 1) % 3];
      edges.push_back({std::min(a, b), std::max(a, b), a < b, static_cast<std::uint32_t>(i)});
    }
  std::sort(edges.begin(), edges.end(), [](const Edge& a, const Edge& b) {
    return std::tie(a.from, a.to, a.triangle) < std::tie(b.from, b.to, b.triangle);
  });
  const auto note = [&](const Edge& edge, std::size_t& count, ShellFault& first) {
    const std::size_t triangle = given[edge.triangle];
    if (count++ == 0 || triangle < first.triangle)
      first = {triangle, 0.5 * (vertices_[edge.from] + vertices_[edge.to])};
  };
  for (std::size_t begin = 0, end = 0; begin < edges.size(); begin = end) {
    int balance = 0;
    while (end < edges.size() && edges[end].from == edges[begin].from && edges[end].to == edges[begin].to)
      balance += edges[end++].forward ? 1 : -1;
    if ((end - begin) % 2 != 0) {
      note(edges[begin], open_edges_, first_open_);
    } else if (balance != 0) {
      note(edges[begin], turned_edges_, first_turned_);
    }
  }
}

double Shell::area() const {
  double area = 0;
  for (const Triangle& triangle : triangles_) area += area_vector(vertices_, triangle).norm();
  return area;
}

double Shell::signed_volume() const {
  // Of the tetrahedra between the triangles and a place (divergence theorem); one near by keeps the sum
  // exact.
  const Vec3 apex = 0.5 * (low_ + high_);
  double six_volumes = 0;
  for (const Triangle& t : triangles_)
    six_volumes += (vertices_[t[0]] - apex).dot((vertices_[t[1]] - apex).cross(vertices_[t[2]] - apex));
  return six_volumes / 6;
}

std::array<int, 2> Shell::column_of(double x, double y) const {
  std::array<int, 2> column{};
  const double at[] = {x - low_.x(), y - low_.y()};
  const double size[] = {high_.x() - low_.x(), high_.y() - low_.y()};
  for (std::size_t axis = 0; axis < 2; ++axis) {
    if (!(size[axis] > 0)) continue;
    const double share = at[axis] / size[axis] * columns_[axis];
    column[axis] = static_cast<int>(std::clamp(std::floor(share), 0.0, columns_[axis] - 1.0));
  }
  return column;
}

void Shell::fill_columns() {
  // About one column for every two triangles; fewer where large triangles would be listed too often.
  constexpr double kMostSide = 1024, kMostListings = 8;
  const auto columns_under = [&](const Triangle& t) {
    const Vec3 &a = vertices_[t[0]], &b = vertices_[t[1]], &c = vertices_[t[2]];
    const Vec3 least = a.cwiseMin(b).cwiseMin(c), most = a.cwiseMax(b).cwiseMax(c);
    return std::pair(column_of(least.x(), least.y()), column_of(most.x(), most.y()));
  };
  const double count = static_cast<double>(triangles_.size());
  for (double side = std::clamp(std::sqrt(count / 2), 1.0, kMostSide);; side /= 2) {
    columns_.fill(std::max(1, static_cast<int>(side)));
    double listings = 0;
    for (const Triangle& t : triangles_) {
      const auto [from, to] = columns_under(t);
      listings += (to[0] - from[0] + 1.0) * (to[1] - from[1] + 1.0);
    }
    if (side <= 1 || listings <= kMostListings * count) break;
  }
  const auto width = static_cast<std::size_t>(columns_[0]);
  column_start_.assign(width * static_cast<std::size_t>(columns_[1]) + 1, 0);
  const auto for_each = [&](auto&& visit) {
    for (std::size_t i = 0; i < triangles_.size(); ++i) {
      const auto [from, to] = columns_under(triangles_[i]);
      for (int row = from[1]; row <= to[1]; ++row)
        for (int column = from[0]; column <= to[0]; ++column)
          visit(width * static_cast<std::size_t>(row) + static_cast<std::size_t>(column),
                static_cast<std::uint32_t>(i));
    }
  };
  for_each([&](std::size_t column, std::uint32_t) { ++column_start_[column + 1]; });
  for (std::size_t i = 1; i < column_start_.size(); ++i) column_start_[i] += column_start_[i - 1];
  column_triangles_.resize(column_start_.back());
  std::vector<std::size_t> next(column_start_.begin(), column_start_.end() - 1);
  for_each([&](std::size_t column, std::uint32_t i) { column_triangles_[next[column]++] = i; });
}

// Calls visit(z, step) for every triangle that the upright line through x, y crosses. Whether an edge passes
// to the right of the line is decided once for all triangles at the edge, so that the line cannot slip
// between two of them or be counted twice: the steps of a closed shell add up to 0, always.
template <class Visit>
void Shell::visit_column(double x, double y, Visit&& visit) const {
  if (!(x >= low_.x() && x <= high_.x() && y >= low_.y() && y <= high_.y())) return;
  const auto [column, row] = column_of(x, y);
  const std::size_t index = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_[0]) +
                            static_cast<std::size_t>(column);
  for (std::size_t i = column_start_[index]; i < column_start_[index + 1]; ++i) {
    const Triangle& triangle = triangles_[column_triangles_[i]];
    int step = 0;
    EdgeCrossing left{0, 0}, right{0, 0};
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t from = triangle[k], to = triangle[(k + 1) % 3];
      if ((vertices_[from].y() > y) == (vertices_[to].y() > y)) continue;
      const EdgeCrossing crossing =
          edge_crossing(vertices_[std::min(from, to)], vertices_[std::max(from, to)], y);
      if (x < crossing.x) {
        step += vertices_[to].y() > y ? 1 : -1;
        right = crossing;
      } else {
        left = crossing;
      }
    }
    if (step == 0) continue;  // both crossings on one side of the line, or none
    const double share = (x - left.x) / (right.x - left.x);
    visit(left.z + share * (right.z - left.z), step);
  }
}

bool Shell::contains(const Vec3& place) const {
  if (!closed() || !((place.array() >= low_.array()).all() && (place.array() <= high_.array()).all()))
    return false;
  int winding = 0, crossings = 0;
  visit_column(place.x(), place.y(), [&](double z, int step) {
    if (z > place.z()) winding += step, ++crossings;
  });
  if (!is_inside(winding, crossings)) return false;
  // On the surface, as rounded by single precision? Its triangle is listed in a column that the place
  // touches.
  const double farthest = std::max(low_.cwiseAbs().maxCoeff(), high_.cwiseAbs().maxCoeff());
  const double within = 2 * static_cast<double>(std::numeric_limits<float>::epsilon()) * farthest;
  const auto from = column_of(place.x() - within, place.y() - within);
  const auto to = column_of(place.x() + within, place.y() + within);
  for (int row = from[1]; row <= to[1]; ++row)
    for (int column = from[0]; column <= to[0]; ++column) {
      const auto index = static_cast<std::size_t>(row * columns_[0] + column);
      for (std::size_t i = column_start_[index]; i < column_start_[index + 1]; ++i) {
        const Triangle& t = triangles_[column_triangles_[i]];
        if (lies_on(place, {vertices_[t[0]], vertices_[t[1]], vertices_[t[2]]}, within)) return false;
      }
    }
  return true;
}

void Shell::stretches(double x, double y, std::vector<Stretch>& inside) const {
  inside.clear();
  if (!closed()) return;
  thread_local std::vector<Crossing> crossings;
  crossings.clear();
  visit_column(x, y, [](double z, int step) { crossings.push_back({z, step}); });
  std::sort(crossings.begin(), crossings.end(),
            [](const Crossing& a, const Crossing& b) { return a.z < b.z; });
  int winding = 0, passed = 0;
  bool was_inside = false;
  for (const Crossing& crossing : crossings) {
    winding += crossing.step;
    const bool now_inside = is_inside(winding, ++passed);
    if (now_inside && !was_inside) inside.push_back({crossing.z, crossing.z});
    if (!now_inside && was_inside) inside.back()[1] = crossing.z;
    was_inside = now_inside;
  }
}

bool Shell::may_touch(const Vec3& low, const Vec3& high) const {
  if ((low.array() > high_.array()).any() || (high.array() < low_.array()).any()) return false;
  const auto from = column_of(low.x(), low.y()), to = column_of(high.x(), high.y());
  for (int row = from[1]; row <= to[1]; ++row)
    for (int column = from[0]; column <= to[0]; ++column) {
      const std::size_t index = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_[0]) +
                                static_cast<std::size_t>(column);
      for (std::size_t i = column_start_[index]; i < column_start_[index + 1]; ++i) {
        const Triangle& t = triangles_[column_triangles_[i]];
        const Vec3 &a = vertices_[t[0]], &b = vertices_[t[1]], &c = vertices_[t[2]];
        if ((a.cwiseMin(b).cwiseMin(c).array() <= high.array()).all() &&
            (a.cwiseMax(b).cwiseMax(c).array() >= low.array()).all())
          return true;
      }
    }
  return false;
}

}  // namespace boughlight
