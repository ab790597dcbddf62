#include "plan/place_map.h"

#include <oneapi/tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <mutex>

#include "assess/judge.h"
#include "plan/local_fit.h"

namespace boughlight {
namespace {

// Joins to the lamp in all: about as much work as a few surveys of a planted scene.
constexpr double kJoins = 2.5e7;

// Neighbouring places take different sets of joins, so that errors can be averaged out between them.
std::uint32_t part_of(const Lattice3& lattice, std::size_t place) {
  constexpr std::size_t kSide = 4, kLayerShift = 5;
  const std::size_t i = place % lattice.x.size(), j = place / lattice.x.size() % lattice.y.size(),
                    k = place / lattice.in_layer();
  return static_cast<std::uint32_t>(i % kSide + kSide * (j % kSide) + kLayerShift * k);
}

// What the map's places are filled with, one by one.
struct Filling {
  PlaceMap& map;
  const Prospect& prospect;
  std::vector<std::vector<Replicates>> lamp_part;  // of averaged figures, by figure and place
  std::vector<double> most;                        // by figure and place: what the lamp adds
  std::vector<RayCount> rays;

  Filling(PlaceMap& to, const Prospect& from) : map(to), prospect(from) {
    const std::size_t places = map.lattice.size(), figures = map.field.asks.figures.size();
    map.field.figures.resize(places * figures);
    most.resize(places * figures, 0.0);
    rays.resize(places);
    lamp_part.resize(figures);
    for (std::size_t f = 0; f < figures; ++f)
      if (prospect.is_averaged(f)) lamp_part[f].resize(places);
  }

  void fill(std::size_t place) {
    const std::size_t figures = lamp_part.size();
    const Prospect::Outlook outlook =
        prospect.at(map.lattice.hang(place), part_of(map.lattice, place), rays[place]);
    for (std::size_t f = 0; f < figures; ++f) {
      map.field.figures[place * figures + f] = outlook.figures[f];
      if (!outlook.splits[f]) continue;
      most[place * figures + f] = outlook.splits[f]->lamp_mean();
      if (!lamp_part[f].empty()) lamp_part[f][place] = outlook.splits[f]->lamp;
    }
  }

  // Means over a crown change smoothly with the lamp's place; where they bend more than the fit can follow, a
  // place's own estimate counts.
  void smooth() {
    const std::size_t figures = lamp_part.size();
    RayCount unused;
    const Prospect::Outlook any = prospect.at(map.lattice.hang(0), 0, unused);
    for (std::size_t f = 0; f < figures; ++f) {
      if (lamp_part[f].empty()) continue;
      Split split = *any.splits[f];
      const std::vector<Replicates> fitted = local_fit(map.lattice, lamp_part[f]);
      for (std::size_t place = 0; place < fitted.size(); ++place) {
        Replicates apart = fitted[place];
        for (std::size_t k = 0; k < apart.size(); ++k) apart[k] -= lamp_part[f][place][k];
        const Figure bend = figure_of({apart.begin(), apart.end()});
        if (std::abs(bend.value) > kIntervalFactor * bend.se) continue;
        split.lamp = fitted[place];
        map.field.figures[place * figures + f] = split.figure();
      }
    }
  }

  std::vector<char> changed() const {
    const std::size_t figures = lamp_part.size(), places = map.lattice.size();
    std::vector<char> changed(figures, 0);
    for (std::size_t f = 0; f < figures; ++f) {
      double low = map.field.figure(0, f).value, high = low, added = 0;
      for (std::size_t place = 0; place < places; ++place) {
        low = std::min(low, map.field.figure(place, f).value);
        high = std::max(high, map.field.figure(place, f).value);
        added = std::max(added, most[place * figures + f]);
      }
      if (map.field.asks.figures[f].kind == FigureKind::share) {
        changed[f] = high - low > kLeastShare;
      } else {
        const double limit = nearest_limit(limits_on(map.field.asks, f), high);
        const double least = kLeastPart * (limit > 0 ? limit : high);
        changed[f] = added > least && high - low > least;
      }
    }
    return changed;
  }
};

// Calls what(place) for all, telling how far it is from one thread at a time.
template <class What>
void for_places(std::size_t count, double from, const SurveyControl& control, const What& what) {
  std::atomic<std::size_t> done{0};
  std::mutex telling;
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t place) {
    what(place);
    const std::size_t so_far = ++done;
    if (!control.progress) return;
    const std::unique_lock hold(telling, std::try_to_lock);
    if (!hold) return;
    const double share = static_cast<double>(so_far) / static_cast<double>(count);
    control.progress("hanging the lamp in place after place", from + (1 - from) * share);
  });
}

}  // namespace

PlaceMap map_places(const Scene& scene, std::size_t lamp, const PlaceChoice& choice,
                    const SurveyControl& control) {
  const auto begin = std::chrono::steady_clock::now();
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  PlaceMap map;
  map.scene = scene;
  map.lamp = lamp;
  map.top = top_of(scene);
  map.present = hang_of(scene.lamps[lamp], map.top);
  const std::optional<double> present_gap = map.present ? std::optional(map.present->gap) : std::nullopt;
  map.lattice =
      lattice_over(map.top, choice.step, choice.gaps.empty() ? usual_gaps(scene, present_gap) : choice.gaps);

  // How much of the time getting ready takes.
  constexpr double kReady = 0.19;
  const Prospect prospect(scene, lamp, map.lattice, kJoins, [&](const std::string& stage, double share) {
    if (control.progress) control.progress(stage, kReady * share);
  });
  map.field.asks = prospect.asks();
  map.field.axes = {map.lattice.x, map.lattice.y, map.lattice.gap};
  Filling filling(map, prospect);
  for_places(map.lattice.size(), kReady, control, [&](std::size_t place) { filling.fill(place); });
  filling.smooth();
  map.changed = filling.changed();
  for (const Ask& ask : map.field.asks.asks) map.field.counts.push_back(map.changed[ask.figure]);
  for (std::size_t place = 0; place < map.lattice.size(); ++place) {
    map.in_the_way.push_back(
        lamp_in_the_way(scene, lamp, hung(scene.lamps[lamp], map.top, map.lattice.hang(place))));
    map.field.blocked.push_back(!map.in_the_way.back().empty());
  }
  std::optional<std::array<double, 3>> now;
  if (map.present) now = {map.present->x, map.present->y, map.present->gap};
  map.region = region_of(map.field, now);

  RayCount rays = prospect.standing().setting().spent;
  if (map.region.spot) {
    map.spot = map.lattice.hang(*map.region.spot);
  } else if (!map.region.openings.empty()) {
    map.spot = map.lattice.hang(map.region.openings.front().choice);
  }
  if (map.spot) map.at_spot = prospect.best_at(*map.spot, rays).figures;
  if (map.present) map.at_present = prospect.best_at(*map.present, rays).figures;
  for (const RayCount& count : filling.rays) rays += count;
  map.effort.rays = static_cast<double>(rays.shadow + rays.closest);
  map.effort.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return map;
}

}  // namespace boughlight
