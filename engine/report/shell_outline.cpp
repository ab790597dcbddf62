#include "report/shell_outline.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace boughlight {

namespace {

using Edge = std::pair<std::uint32_t, std::uint32_t>;  // the lower index first

// The cut's way through one triangle, from edge to edge.
struct Piece {
  Edge from, to;
  bool used = false;
};

double turn(const Spot& a, const Spot& b, const Spot& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// Sets the lattice's knots in a triangle, its sides included, to 1.
void mark(Lattice& lattice, const Spot& a, const Spot& b, const Spot& c) {
  const double way = turn(a, b, c) < 0 ? -1 : 1;
  const auto knot = [&](double place, double origin) { return (place - origin) / lattice.step; };
  const auto [left, right] = std::minmax({a.x, b.x, c.x});
  const auto [top, bottom] = std::minmax({a.y, b.y, c.y});
  const int i0 = static_cast<int>(std::ceil(knot(left, lattice.origin.x)));
  const int i1 = static_cast<int>(std::floor(knot(right, lattice.origin.x)));
  const int j0 = static_cast<int>(std::ceil(knot(top, lattice.origin.y)));
  const int j1 = static_cast<int>(std::floor(knot(bottom, lattice.origin.y)));
  for (int j = std::max(0, j0); j <= std::min(lattice.rows - 1, j1); ++j)
    for (int i = std::max(0, i0); i <= std::min(lattice.columns - 1, i1); ++i) {
      const Spot spot{lattice.origin.x + lattice.step * i, lattice.origin.y + lattice.step * j};
      if (way * turn(a, b, spot) >= 0 && way * turn(b, c, spot) >= 0 && way * turn(c, a, spot) >= 0)
        lattice.value[static_cast<std::size_t>(j) * static_cast<std::size_t>(lattice.columns) +
                      static_cast<std::size_t>(i)] = 1;
    }
}

}  // namespace

std::vector<std::vector<Vec3>> cut_lines(const Shell& shell, View view, double at) {
  const std::vector<Vec3>& vertices = shell.vertices();
  const auto beyond = [&](std::uint32_t corner) { return across(view, vertices[corner]) >= at; };
  std::vector<Piece> pieces;
  std::map<Edge, std::vector<std::size_t>> meeting;  // the pieces that end on an edge
  for (const Triangle& triangle : shell.triangles()) {
    std::vector<Edge> crossed;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = triangle[k], b = triangle[(k + 1) % 3];
      if (beyond(a) != beyond(b)) crossed.emplace_back(std::min(a, b), std::max(a, b));
    }
    if (crossed.size() != 2) continue;
    for (const Edge& edge : crossed) meeting[edge].push_back(pieces.size());
    pieces.push_back({crossed[0], crossed[1]});
  }
  const auto place_on = [&](const Edge& edge) -> Vec3 {
    const Vec3 &a = vertices[edge.first], &b = vertices[edge.second];
    const double from = across(view, a), to = across(view, b);
    return a + (at - from) / (to - from) * (b - a);
  };
  std::vector<std::vector<Vec3>> lines;
  const auto follow = [&](std::size_t piece, Edge edge) {
    std::vector<Vec3> line = {place_on(edge)};
    for (;;) {
      pieces[piece].used = true;
      edge = pieces[piece].from == edge ? pieces[piece].to : pieces[piece].from;
      line.push_back(place_on(edge));
      const auto& next = meeting[edge];
      const auto free =
          std::find_if(next.begin(), next.end(), [&](std::size_t i) { return !pieces[i].used; });
      if (free == next.end()) break;
      piece = *free;
    }
    lines.push_back(std::move(line));
  };
  // Lines that end at a rim first, then the rings.
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (const Edge& end : {pieces[i].from, pieces[i].to})
      if (!pieces[i].used && meeting[end].size() % 2 != 0) follow(i, end);
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (!pieces[i].used) follow(i, pieces[i].from);
  return lines;
}

Path joined_rings(const std::vector<Path>& rings) {
  // From ring to ring along a line that is walked back in the end, so that it encloses nothing.
  Path joined;
  for (const Path& ring : rings) joined.insert(joined.end(), ring.begin(), ring.end());
  for (auto ring = rings.rbegin(); ring != rings.rend(); ++ring)
    if (!ring->empty()) joined.push_back(ring->front());
  return joined;
}

std::vector<Path> whole_outline(const Shell& shell, const std::function<Spot(const Vec3&)>& px,
                                const Rect& within) {
  std::vector<Spot> spots;
  Rect bounds{1e300, 1e300, -1e300, -1e300};
  for (const Vec3& vertex : shell.vertices()) {
    const Spot spot = px(vertex);
    spots.push_back(spot);
    bounds = {std::min(bounds.x0, spot.x), std::min(bounds.y0, spot.y), std::max(bounds.x1, spot.x),
              std::max(bounds.y1, spot.y)};
  }
  const Rect seen = {std::max(bounds.x0, within.x0), std::max(bounds.y0, within.y0),
                     std::min(bounds.x1, within.x1), std::min(bounds.y1, within.y1)};
  if (!(seen.x0 <= seen.x1) || !(seen.y0 <= seen.y1)) return {};
  Lattice lattice;
  lattice.step = 2;
  // With a rim of knots that nothing covers, unless it is cut off.
  lattice.origin = {seen.x0 - 2 * lattice.step, seen.y0 - 2 * lattice.step};
  lattice.columns = static_cast<int>(seen.width() / lattice.step) + 6;
  lattice.rows = static_cast<int>(seen.height() / lattice.step) + 6;
  lattice.value.assign(static_cast<std::size_t>(lattice.columns) * static_cast<std::size_t>(lattice.rows), 0);
  for (const Triangle& t : shell.triangles()) mark(lattice, spots[t[0]], spots[t[1]], spots[t[2]]);
  return contour_lines(lattice, 0.5);
}

}  // namespace boughlight
