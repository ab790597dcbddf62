#include "report/contour.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <unordered_map>

namespace boughlight {
namespace {

// A lattice edge by the number of its left or upper knot: 2 n goes right from it, 2 n + 1 goes down.
using LatticeEdge = int;

struct LatticeSegment {
  LatticeEdge from, to;
};

class Tracer {
 public:
  Tracer(const Lattice& lattice, double level) : lattice_(lattice), level_(level) {}

  std::vector<Path> paths() {
    for (int j = 0; j + 1 < lattice_.rows; ++j) {
      for (int i = 0; i + 1 < lattice_.columns; ++i) add_square(i, j);
    }
    return join();
  }

 private:
  void add_square(int i, int j) {
    const std::array<double, 4> corner = {lattice_.at(i, j), lattice_.at(i + 1, j), lattice_.at(i + 1, j + 1),
                                          lattice_.at(i, j + 1)};
    int kind = 0;
    for (int k = 0; k < 4; ++k) kind |= (corner[k] >= level_) << k;
    if (kind == 0 || kind == 15) return;
    if (std::any_of(corner.begin(), corner.end(), [](double value) { return std::isnan(value); })) return;
    const int knot = j * lattice_.columns + i;
    const LatticeEdge top = 2 * knot, left = 2 * knot + 1, bottom = 2 * (knot + lattice_.columns),
                      right = 2 * (knot + 1) + 1;
    if (kind == 5 || kind == 10) {
      // A saddle: the mean of the corners says which two opposite corners are joined.
      const double middle = (corner[0] + corner[1] + corner[2] + corner[3]) / 4;
      const bool first_joined = (middle >= level_) == (kind == 5);
      add(top, first_joined ? right : left);
      add(bottom, first_joined ? left : right);
      return;
    }
    const auto differs = [kind](int a, int b) { return ((kind >> a) & 1) != ((kind >> b) & 1); };
    std::array<LatticeEdge, 2> ends{};
    int found = 0;
    if (differs(0, 1)) ends[found++] = top;
    if (differs(1, 2)) ends[found++] = right;
    if (differs(2, 3)) ends[found++] = bottom;
    if (differs(3, 0)) ends[found++] = left;
    add(ends[0], ends[1]);
  }

  void add(LatticeEdge from, LatticeEdge to) {
    const int segment = static_cast<int>(segments_.size());
    segments_.push_back({from, to});
    for (const LatticeEdge edge : {from, to}) {
      const auto [entry, is_new] = at_edge_.try_emplace(edge, std::array<int, 2>{segment, -1});
      if (!is_new) entry->second[1] = segment;
    }
  }

  // The segment on the other side of an edge, or -1.
  int beyond(LatticeEdge edge, int segment) const {
    const std::array<int, 2>& pair = at_edge_.at(edge);
    return pair[0] == segment ? pair[1] : pair[0];
  }

  Spot crossing(LatticeEdge edge) const {
    const int knot = edge / 2, i = knot % lattice_.columns, j = knot / lattice_.columns;
    const bool down = edge % 2 != 0;
    const double here = lattice_.at(i, j), there = lattice_.at(i + !down, j + down);
    const double share = (level_ - here) / (there - here);
    return {lattice_.origin.x + lattice_.step * (i + (down ? 0 : share)),
            lattice_.origin.y + lattice_.step * (j + (down ? share : 0))};
  }

  std::vector<Path> join() const {
    std::vector<char> used(segments_.size(), 0);
    std::vector<Path> paths;
    for (std::size_t first = 0; first < segments_.size(); ++first) {
      if (used[first]) continue;
      used[first] = 1;
      std::deque<LatticeEdge> edges = {segments_[first].from, segments_[first].to};
      for (const bool forward : {true, false}) {
        int segment = static_cast<int>(first);
        while (true) {
          const LatticeEdge end = forward ? edges.back() : edges.front();
          segment = beyond(end, segment);
          if (segment < 0 || used[segment]) break;
          used[segment] = 1;
          const LatticeEdge next =
              segments_[segment].from == end ? segments_[segment].to : segments_[segment].from;
          forward ? edges.push_back(next) : edges.push_front(next);
        }
      }
      Path path;
      for (const LatticeEdge edge : edges) path.push_back(crossing(edge));
      paths.push_back(std::move(path));
    }
    return paths;
  }

  const Lattice& lattice_;
  double level_;
  std::vector<LatticeSegment> segments_;
  std::unordered_map<LatticeEdge, std::array<int, 2>> at_edge_;
};

}  // namespace

std::vector<Path> contour_lines(const Lattice& lattice, double level) {
  return Tracer(lattice, level).paths();
}

}  // namespace boughlight
