#include "assess/hottest.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "assess/judge.h"
#include "assess/reachable.h"
#include "transport/brightest.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kSearchStage = 401, kChoiceStage = 402, kReadingStage = 403, kScatterStage = 404 };

// One thing to look for: the greatest reading of a quantity with the dimmers in a given state.
struct Search {
  std::size_t quantity;  // position in ZoneChannels
  Power power;
  Eigen::ArrayXf scale;  // by channel of the zones
  // Those channels that count here, with their scale: lamps in none of them need not be asked.
  std::vector<Channel> channels;
  Eigen::ArrayXf channel_scale;

  Search(std::size_t quantity_position, Power lamps, const ZoneChannels& zones)
      : quantity(quantity_position),
        power(lamps),
        scale(Eigen::ArrayXf::Zero(static_cast<Eigen::Index>(zones.channels.size()))) {
    for (std::size_t source = 0; source < zones.sources; ++source) {
      const ZoneChannels::Use& use = zones.use(quantity, source, power);
      scale[static_cast<Eigen::Index>(use.channel)] += use.scale;
    }
    std::vector<float> kept;
    for (std::size_t channel = 0; channel < zones.channels.size(); ++channel) {
      const float times = scale[static_cast<Eigen::Index>(channel)];
      if (!(times > 0)) continue;
      channels.push_back(zones.channels[channel]);
      kept.push_back(times);
    }
    channel_scale = Eigen::Map<const Eigen::ArrayXf>(kept.data(), static_cast<Eigen::Index>(kept.size()));
  }
};

struct Candidate {
  Vec3 at = Vec3::Zero();
  Brightest brightest;
};

class Searcher {
 public:
  Searcher(Setting& setting, const GridLight& light) : setting_(setting), light_(light) {}

  // Reading at its brightest orientation. Direct light at the place; what is reflected as the mean over the
  // cell, or with `paths` > 0 from light paths of its own. The same random numbers everywhere, so that places
  // compare.
  Brightest at(const Vec3& place, const Search& search, const GatherEffort& effort, RayCount& rays,
               std::uint64_t id) const {
    const DirectedLight found =
        collect_light(setting_.field, search.channels, place.cast<float>(), id, effort);
    rays += found.rays;
    return weigh(found, search.channel_scale, place, search, effort.paths == 0);
  }

  // The same of light already collected, its channels weighed by `scale`; `mean_reflected`: it holds no light
  // paths, so the cell's mean stands in.
  Brightest weigh(const DirectedLight& found, const Eigen::ArrayXf& scale, const Vec3& place,
                  const Search& search, bool mean_reflected) const {
    Brightest brightest = brightest_orientation(found, scale);
    if (mean_reflected) {
      const std::size_t cell = light_.grid->nearest_cell(place.cast<float>());
      Orientations reflected = Orientations::Zero();
      for (std::size_t channel = 0; channel < light_.zones.channels.size(); ++channel)
        reflected += search.scale[static_cast<Eigen::Index>(channel)] * light_.light->oriented(channel, cell);
      Eigen::Index nearest = 0;
      const auto& all = orientations();
      float closeness = -1;
      for (int k = 0; k < kOrientations; ++k) {
        const float dot = all[static_cast<std::size_t>(k)].dot(brightest.direction);
        if (dot > closeness) closeness = dot, nearest = k;
      }
      if (brightest.value > 0) {
        brightest.value += reflected[nearest];
      } else {
        brightest.value = reflected.maxCoeff(&nearest);
        brightest.direction = all[static_cast<std::size_t>(nearest)];
      }
    }
    return brightest;
  }

  static constexpr GatherEffort kLook{16, 0};
  // Every search's reading at a place, from the same light.
  std::vector<Brightest> look(const Vec3& place, const std::vector<Search>& searches, RayCount& rays,
                              std::uint64_t id) const {
    const DirectedLight found =
        collect_light(setting_.field, light_.zones.channels, place.cast<float>(), id, kLook);
    rays += found.rays;
    std::vector<Brightest> readings;
    for (const Search& search : searches) readings.push_back(weigh(found, search.scale, place, search, true));
    return readings;
  }

  // Direct light alone, at the orientation where it is greatest.
  float direct_at(const Vec3& place, const Search& search, std::uint64_t id) const {
    return brightest_orientation(
               collect_light(setting_.field, search.channels, place.cast<float>(), id, {256, 0}),
               search.channel_scale)
        .value;
  }

  // Climbs from a place in ever smaller steps along the axes and diagonals while the reading rises.
  Candidate climb(const Candidate& start, const Search& search, const Reachable& reachable, double step,
                  double least, const GatherEffort& effort, RayCount& rays, std::uint64_t id) const {
    Candidate best{start.at, at(start.at, search, effort, rays, id)};
    while (step >= least) {
      Candidate better = best;
      for (const Vec3f& way : orientations()) {
        const Vec3 place = best.at + step * way.cast<double>();
        if (!reachable.contains(place)) continue;
        const Brightest brightest = at(place, search, effort, rays, id);
        if (brightest.value > better.brightest.value) better = {place, brightest};
      }
      if (better.brightest.value > best.brightest.value) {
        best = better;
      } else {
        step /= 2;
      }
    }
    return best;
  }

 private:
  Setting& setting_;
  const GridLight& light_;
};

// The best few that are not next to each other.
std::vector<Candidate> spread_out(std::vector<Candidate> candidates, std::size_t count, double apart) {
  std::stable_sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
    return a.brightest.value > b.brightest.value;
  });
  std::vector<Candidate> chosen;
  for (const Candidate& candidate : candidates) {
    if (chosen.size() == count) break;
    if (std::all_of(chosen.begin(), chosen.end(),
                    [&](const Candidate& other) { return (other.at - candidate.at).norm() > apart; }))
      chosen.push_back(candidate);
  }
  return chosen;
}

// Every search's readings at the places to start from, all from the same light.
std::vector<std::vector<Candidate>> look_at(Setting& setting, const Searcher& searcher,
                                            const std::vector<Vec3>& starts,
                                            const std::vector<Search>& searches) {
  std::vector<std::vector<Candidate>> looked(searches.size(), std::vector<Candidate>(starts.size()));
  std::vector<RayCount> rays(starts.size());
  tbb::parallel_for(std::size_t{0}, starts.size(), [&](std::size_t i) {
    const std::vector<Brightest> readings =
        searcher.look(starts[i], searches, rays[i], setting.stream(kSearchStage, 0));
    for (std::size_t k = 0; k < searches.size(); ++k) looked[k][i] = {starts[i], readings[k]};
  });
  for (const RayCount& count : rays) setting.spent += count;
  return looked;
}

// From the places looked at to the one that reads most.
Candidate search_for(Setting& setting, const Searcher& searcher, const Reachable& reachable,
                     std::vector<Candidate> candidates, const Search& search, double spacing,
                     std::uint64_t number) {
  constexpr GatherEffort kClimb{32, 0}, kChoose{256, 2048}, kRefine{64, 512};
  constexpr std::size_t kClimbs = 10, kChoices = 4, kScattered = 16, kJitters = 24;
  constexpr double kLeastStep = 1e-3;
  constexpr float kMostlyDirect = 0.9f;
  const std::uint64_t id = setting.stream(kSearchStage, 0);

  // Leaves and branches cut the light into pieces smaller than the lattice: look again around the best.
  const std::size_t first_scattered = candidates.size();
  for (const Candidate& centre : spread_out(candidates, kScattered, spacing))
    for (std::size_t i = 0; i < kJitters; ++i) {
      Stream stream(setting.stream(kScatterStage, number), candidates.size());
      const double x = 2 * stream.next() - 1, y = 2 * stream.next() - 1, z = 2 * stream.next() - 1;
      const Vec3 place = centre.at + spacing * Vec3(x, y, z);
      if (reachable.contains(place)) candidates.push_back({place, {}});
    }
  std::vector<RayCount> rays(candidates.size());
  tbb::parallel_for(first_scattered, candidates.size(), [&](std::size_t i) {
    candidates[i].brightest = searcher.at(candidates[i].at, search, Searcher::kLook, rays[i], id);
  });

  std::vector<Candidate> climbed = spread_out(candidates, kClimbs, spacing / 2);
  tbb::parallel_for(std::size_t{0}, climbed.size(), [&](std::size_t i) {
    climbed[i] = searcher.climb(climbed[i], search, reachable, spacing / 2, kLeastStep, kClimb, rays[i], id);
  });
  // Between the few that are left light paths decide, since what is reflected counts too.
  std::vector<Candidate> chosen = spread_out(climbed, kChoices, kLeastStep);
  const std::uint64_t choice = setting.stream(kChoiceStage, number);
  tbb::parallel_for(std::size_t{0}, chosen.size(), [&](std::size_t i) {
    chosen[i].brightest = searcher.at(chosen[i].at, search, kChoose, rays[i], choice);
  });
  Candidate winner = spread_out(chosen, 1, 0).front();
  // Where reflected light is much of it, its own slope within a cell can move the place.
  if (searcher.direct_at(winner.at, search, choice) < kMostlyDirect * winner.brightest.value)
    winner = searcher.climb(winner, search, reachable, spacing / 4, spacing / 16, kRefine, rays[0], choice);
  for (const RayCount& count : rays) setting.spent += count;
  return winner;
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

  const ZoneChannels& zones = light.zones;
  const Searcher searcher(setting, light);
  const bool dimmed =
      std::any_of(scene.lamps.begin(), scene.lamps.end(), [](const Lamp& l) { return l.dim != 1; });
  std::vector<Search> searches;
  for (const Power power : {Power::as_declared, Power::full})
    for (const std::size_t quantity : {ZoneChannels::kUvi, ZoneChannels::kIrradiance}) {
      if (power == Power::full && !dimmed) continue;  // the same as declared
      searches.emplace_back(quantity, power, zones);
    }

  // The reported figures come from samples of their own, to the survey's tolerance.
  std::vector<Task> tasks;
  std::vector<std::vector<Candidate>> looked = look_at(setting, searcher, starts, searches);
  std::vector<Candidate> winners;
  std::vector<Want> limits;
  for (std::size_t i = 0; i < searches.size(); ++i) {
    const Search& search = searches[i];
    winners.push_back(search_for(setting, searcher, reachable, std::move(looked[i]), search, spacing, i));
    Want want;
    want.quantity = zones.quantities[search.quantity];
    for (const Want& never : scene.animal->never)
      if (never.quantity == want.quantity) want.limits = never.limits;
    limits.push_back(want);
    const auto& outputs = search.power == Power::full ? setting.full_outputs : setting.outputs;
    constexpr double kUviFloor = 0.02, kIrradianceFloor = 0.5;
    tasks.push_back({fixed_receiver(winners[i].at.cast<float>(), winners[i].brightest.direction,
                                    setting.stream(kReadingStage, i)),
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
      std::vector<SpectralD> alone(responses[i].sources, SpectralD::Zero());
      alone[source] = goal.weights[source];
      const double share = weigh_facing(responses[i], alone).value;
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
