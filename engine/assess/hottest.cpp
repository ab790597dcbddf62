#include "assess/hottest.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "assess/judge.h"
#include "assess/place_search.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

using Search = PlaceSearch;
using Searcher = PlaceSearcher;

// What a search came to.
struct Found {
  SearchedPlace candidate;
  RayCount rays;

  template <class Bytes, SameAs<Found> Self>
  friend void carry(Bytes& bytes, Self& found) {
    for (int axis = 0; axis < 3; ++axis) {
      carry(bytes, found.candidate.at[axis]);
      carry(bytes, found.candidate.brightest.direction[axis]);
    }
    carry(bytes, found.candidate.brightest.value);
    carry(bytes, found.rays);
  }
};

// The best few that are not next to each other.
std::vector<SearchedPlace> spread_out(std::vector<SearchedPlace> candidates, std::size_t count,
                                      double apart) {
  std::stable_sort(candidates.begin(), candidates.end(), [](const SearchedPlace& a, const SearchedPlace& b) {
    return a.brightest.value > b.brightest.value;
  });
  std::vector<SearchedPlace> chosen;
  for (const SearchedPlace& candidate : candidates) {
    if (chosen.size() == count) break;
    if (std::all_of(chosen.begin(), chosen.end(),
                    [&](const SearchedPlace& other) { return (other.at - candidate.at).norm() > apart; }))
      chosen.push_back(candidate);
  }
  return chosen;
}

// Direct light of all channels at the places to start from.
struct Looks {
  std::vector<DirectedLight> at;
  RayCount rays;

  template <class Bytes, SameAs<Looks> Self>
  friend void carry(Bytes& bytes, Self& looks) {
    carry(bytes, looks.at);
    carry(bytes, looks.rays);
  }
};
Looks look_at(const Setting& setting, const GridLight& light, const std::vector<Vec3>& starts) {
  const std::uint64_t id = setting.stream(kHottestSearchStage, 0);
  CanonicalBytes asked;
  asked.add("looks", id);
  asked.add(starts);
  identify(asked, light.zones.channels);
  return setting.field.memory().recall(asked, [&] {
    Looks looks{std::vector<DirectedLight>(starts.size()), {}};
    tbb::parallel_for(std::size_t{0}, starts.size(), [&](std::size_t i) {
      looks.at[i] =
          collect_light(setting.field, light.zones.channels, starts[i].cast<float>(), id, Searcher::kLook);
    });
    for (const DirectedLight& look : looks.at) looks.rays += look.rays;
    return looks;
  });
}

std::vector<SearchedPlace> candidates_from(const Looks& looks, const Searcher& searcher,
                                           const std::vector<Vec3>& starts, const Search& search) {
  std::vector<SearchedPlace> candidates(starts.size());
  tbb::parallel_for(std::size_t{0}, starts.size(), [&](std::size_t i) {
    const std::size_t first = search.quantity * search.channels.size();
    candidates[i] = {starts[i], searcher.weigh(looks.at[i], first, starts[i], search, true)};
  });
  return candidates;
}

// From the places looked at to the one that reads most; `known` is another to choose from.
Found search_for(const Setting& setting, const Searcher& searcher, const Reachable& reachable,
                 std::vector<SearchedPlace> candidates, const Search& search, double spacing,
                 std::uint64_t number, const std::optional<Vec3>& known) {
  constexpr GatherEffort kClimb{32, 0}, kChoose{256, 2048}, kRefine{64, 512};
  constexpr std::size_t kClimbs = 10, kChoices = 4, kScattered = 16, kJitters = 24;
  constexpr double kLeastStep = 1e-3;
  constexpr float kMostlyDirect = 0.9f;
  const std::uint64_t id = setting.stream(kHottestSearchStage, 0);

  // Leaves and branches cut the light into pieces smaller than the lattice: look again around the best.
  const std::size_t first_scattered = candidates.size();
  for (const SearchedPlace& centre : spread_out(candidates, kScattered, spacing))
    for (std::size_t i = 0; i < kJitters; ++i) {
      Stream stream(setting.stream(kHottestScatterStage, number), candidates.size());
      const double x = 2 * stream.next() - 1, y = 2 * stream.next() - 1, z = 2 * stream.next() - 1;
      const Vec3 place = centre.at + spacing * Vec3(x, y, z);
      if (reachable.contains(place)) candidates.push_back({place, {}});
    }
  std::vector<RayCount> rays(candidates.size() + 1);
  tbb::parallel_for(first_scattered, candidates.size(), [&](std::size_t i) {
    candidates[i].brightest = searcher.at(candidates[i].at, search, Searcher::kLook, rays[i], id);
  });

  // All the way only from the few that lead once steps are small.
  const double rough = spacing / 8;
  const auto climb = [&](std::vector<SearchedPlace>& places, double step, double least) {
    tbb::parallel_for(std::size_t{0}, places.size(), [&](std::size_t i) {
      places[i] = searcher.climb(places[i], search, reachable, step, least, kClimb, rays[i], id);
    });
  };
  std::vector<SearchedPlace> climbed = spread_out(candidates, kClimbs, spacing / 2);
  climb(climbed, spacing / 2, rough);
  std::vector<SearchedPlace> leading = spread_out(climbed, kChoices, rough);
  climb(leading, rough / 2, kLeastStep);
  // Between the few that are left light paths decide, since what is reflected counts too.
  std::vector<SearchedPlace> chosen = spread_out(leading, kChoices, kLeastStep);
  if (known) chosen.push_back({*known, {}});
  const std::uint64_t choice = setting.stream(kHottestChoiceStage, number);
  tbb::parallel_for(std::size_t{0}, chosen.size(), [&](std::size_t i) {
    chosen[i].brightest = searcher.at(chosen[i].at, search, kChoose, rays[i], choice);
  });
  SearchedPlace winner = spread_out(chosen, 1, 0).front();
  // Where reflected light is much of it, its own slope within a cell can move the place.
  if (searcher.direct_at(winner.at, search, rays[0], choice) < kMostlyDirect * winner.brightest.value)
    winner = searcher.climb(winner, search, reachable, spacing / 4, spacing / 16, kRefine, rays[0], choice);
  Found found{winner, {}};
  for (const RayCount& count : rays) found.rays += count;
  return found;
}

}  // namespace

std::optional<Hottest> find_hottest(Setting& setting, const GridLight& light) {
  const Scene& scene = setting.scene;
  if (!scene.animal) return std::nullopt;
  const Reachable reachable(scene);
  // About three thousand places to start from, whatever the size.
  constexpr double kStarts = 3000;
  double volume = 0;
  for (const Box& box : scene.boxes) volume += box.size.prod();
  const double spacing = std::cbrt(volume / kStarts);
  const std::vector<Vec3> starts = reachable.starts(spacing);
  if (starts.empty()) return std::nullopt;

  const Searcher searcher(setting, light);
  const bool dimmed =
      std::any_of(scene.lamps.begin(), scene.lamps.end(), [](const Lamp& l) { return l.dim != 1; });
  std::vector<Search> searches;
  for (const Power power : {Power::as_declared, Power::full})
    for (const std::size_t quantity : {ZoneChannels::kUvi, ZoneChannels::kIrradiance}) {
      if (power == Power::full && !dimmed) continue;  // the same as declared
      searches.emplace_back(quantity, power, light);
    }

  // The reported figures come from samples of their own, to the survey's tolerance.
  std::vector<Task> tasks;
  const Looks looks = look_at(setting, light, starts);
  setting.spent += looks.rays;
  std::vector<SearchedPlace> winners;
  std::vector<Want> limits;
  for (std::size_t i = 0; i < searches.size(); ++i) {
    const Search& search = searches[i];
    CanonicalBytes asked;
    asked.add("hottest", light.key.high, light.key.low, setting.stream(kHottestSearchStage, i),
              scene.animal->reach);
    asked.add(starts);
    search.identify_in(asked);
    // At full power no place reads less than as declared: where that reads most is looked at as well.
    std::optional<Vec3> known;
    if (search.power == Power::full) known = winners[i - 2].at, asked.add(*known);
    const Found found = setting.field.memory().recall(asked, [&] {
      return search_for(setting, searcher, reachable, candidates_from(looks, searcher, starts, search),
                        search, spacing, i, known);
    });
    setting.spent += found.rays;
    winners.push_back(found.candidate);
    winners.back().brightest.direction = steady_direction(found.candidate.brightest.direction);
    Want want;
    want.quantity = light.zones.quantities[search.quantity];
    for (const Want& never : scene.animal->never)
      if (never.quantity == want.quantity) want.limits = never.limits;
    limits.push_back(want);
    const auto& outputs = search.power == Power::full ? setting.full_outputs : setting.outputs;
    constexpr double kUviFloor = 0.02, kIrradianceFloor = 0.5;
    tasks.push_back({fixed_receiver(winners[i].at.cast<float>(), winners[i].brightest.direction,
                                    setting.stream(kHottestReadingStage, i)),
                     {{quantity_weights(want.quantity, outputs, setting.day_outputs), want.limits,
                       search.quantity == ZoneChannels::kUvi ? kUviFloor : kIrradianceFloor}}});
  }
  std::vector<Response> responses =
      gather_to_tolerance(setting.field, tasks, setting.tolerance(), setting.budget, setting.spent);

  std::vector<HottestPlace> places;
  for (std::size_t i = 0; i < searches.size(); ++i) {
    HottestPlace place;
    place.quantity = limits[i].quantity;
    place.at = winners[i].at;
    place.direction = winners[i].brightest.direction.cast<double>().normalized();
    const Goal& goal = tasks[i].goals.front();
    place.figure = weigh_facing(responses[i], goal.weights);
    double most = -1;
    for (std::size_t source = 0; source < responses[i].sources; ++source) {
      const double share = weigh_facing(responses[i], alone(goal.weights, source)).value;
      place.by_source.push_back(share);
      if (share > most) most = share, place.lamp = scene.source_name(source);
    }
    if (limits[i].limits.max) {
      place.limit = limits[i].limits.max;
      place.figure.converged = place.figure.se <= goal.allowed_error(setting.tolerance(), place.figure.value);
      place.verdict = *place.figure.converged ? judge(place.figure, limits[i].limits) : Verdict::unsure;
    }
    place.response = std::move(responses[i]);
    places.push_back(std::move(place));
  }
  const std::size_t full = dimmed ? 2 : 0;
  return Hottest{places[0], places[1], places[full], places[full + 1]};
}

}  // namespace boughlight
