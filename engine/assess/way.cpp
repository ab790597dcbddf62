#include "assess/way.h"

#include <algorithm>
#include <limits>
#include <queue>

namespace boughlight {
namespace {

constexpr double kCoverBelow = 0.5;  // share of the sun perch's UVI above which a place is no cover
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// The connected places above half that hold `start`; `start` alone where it is below.
std::vector<char> sun_stretch(const Steps& steps, const std::vector<double>& share, std::size_t start) {
  std::vector<char> sun(share.size(), 0);
  std::vector<std::size_t> open = {start};
  sun[start] = 1;
  while (!open.empty()) {
    const std::size_t at = open.back();
    open.pop_back();
    if (share[at] <= kCoverBelow) continue;
    for (const std::size_t next : steps[at])
      if (!sun[next] && share[next] > kCoverBelow) sun[next] = 1, open.push_back(next);
  }
  return sun;
}

// For each place the least of the greatest shares met on the way there, the sun's stretch free.
std::vector<double> worst_shares(const Steps& steps, const std::vector<double>& share,
                                 const std::vector<char>& sun, std::size_t start) {
  std::vector<double> worst(share.size(), kInfinity);
  using Entry = std::pair<double, std::size_t>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  worst[start] = 0;
  open.emplace(0, start);
  while (!open.empty()) {
    const auto [so_far, at] = open.top();
    open.pop();
    if (so_far > worst[at]) continue;
    for (const std::size_t next : steps[at]) {
      const double reached = std::max(so_far, sun[next] ? 0 : share[next]);
      if (reached < worst[next]) worst[next] = reached, open.emplace(reached, next);
    }
  }
  return worst;
}

struct Tour {
  std::vector<double> length;
  std::vector<std::size_t> from;
};

// Shortest ways over places that are allowed.
Tour shortest(const std::vector<PerchablePlace>& places, const Steps& steps, const std::vector<char>& allowed,
              std::size_t start) {
  Tour tour{std::vector<double>(places.size(), kInfinity), std::vector<std::size_t>(places.size(), start)};
  using Entry = std::pair<double, std::size_t>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  tour.length[start] = 0;
  open.emplace(0, start);
  while (!open.empty()) {
    const auto [so_far, at] = open.top();
    open.pop();
    if (so_far > tour.length[at]) continue;
    for (const std::size_t next : steps[at]) {
      const double length = so_far + (places[next].seat - places[at].seat).norm();
      if (!allowed[next] || length >= tour.length[next]) continue;
      tour.length[next] = length;
      tour.from[next] = at;
      open.emplace(length, next);
    }
  }
  return tour;
}

}  // namespace

Steps steps_between(const Scene& scene, const std::vector<PerchablePlace>& places, double stride) {
  Steps steps(places.size());
  const auto join = [&](std::size_t a, std::size_t b) {
    steps[a].push_back(b);
    steps[b].push_back(a);
  };
  for (std::size_t i = 0; i + 1 < places.size(); ++i)
    if (places[i].solid == places[i + 1].solid && places[i].step + 1 == places[i + 1].step) join(i, i + 1);
  const std::size_t solids = scene.branches.size() + scene.boards.size();
  for (std::size_t i = 0; i < places.size(); ++i)
    for (std::size_t solid = 0; solid < solids; ++solid) {
      if (solid == places[i].solid || distance_to_solid(scene, solid, places[i].seat) > stride) continue;
      std::optional<std::size_t> nearest;
      for (std::size_t k = 0; k < places.size(); ++k) {
        const auto distance = [&](std::size_t of) { return (places[of].seat - places[i].seat).norm(); };
        if (places[k].solid == solid && (!nearest || distance(k) < distance(*nearest))) nearest = k;
      }
      if (nearest) join(i, *nearest);
    }
  for (auto& next : steps) {
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
  }
  return steps;
}

std::vector<char> covered_from(const Steps& steps, const std::vector<double>& share, std::size_t start) {
  const std::vector<char> sun = sun_stretch(steps, share, start);
  const std::vector<double> worst = worst_shares(steps, share, sun, start);
  std::vector<char> covered(share.size());
  for (std::size_t i = 0; i < covered.size(); ++i) covered[i] = worst[i] <= kCoverBelow;
  return covered;
}

std::optional<CoveredWay> most_covered_way(const std::vector<PerchablePlace>& places, const Steps& steps,
                                           const std::vector<double>& share, const std::vector<char>& refuge,
                                           std::size_t start) {
  const std::vector<char> sun = sun_stretch(steps, share, start);
  const std::vector<double> worst = worst_shares(steps, share, sun, start);
  double best = kInfinity;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (refuge[i]) best = std::min(best, worst[i]);
  if (best == kInfinity) return std::nullopt;

  std::vector<char> allowed(places.size());
  for (std::size_t i = 0; i < places.size(); ++i) allowed[i] = sun[i] || share[i] <= best;
  const Tour tour = shortest(places, steps, allowed, start);
  std::optional<std::size_t> end;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (refuge[i] && (!end || tour.length[i] < tour.length[*end])) end = i;

  CoveredWay way{best <= kCoverBelow, best, tour.length[*end], {}};
  for (std::size_t at = *end;; at = tour.from[at]) {
    way.places.push_back(at);
    if (at == start) break;
  }
  std::reverse(way.places.begin(), way.places.end());
  return way;
}

}  // namespace boughlight
