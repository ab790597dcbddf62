#include "assess/crowns.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "assess/judge.h"
#include "assess/stages.h"
#include "geometry/foliage.h"

namespace boughlight {
namespace {

constexpr double kPartTolerance = 0.05;
constexpr double kInnermost = 0.5;  // of the radii
constexpr double kLowest = 0.25;    // of the height

bool above_all(const std::optional<Limits>& limits, double value) {
  return !limits || (limits->max && value > *limits->max);
}

bool holds(const std::optional<Limits>& limits, double value) {
  if (!limits) return false;
  return value >= limits->min.value_or(0) &&
         value <= limits->max.value_or(std::numeric_limits<double>::infinity());
}

// The part of a crown, inside the enclosure or not.
CrownSlab slab_of(const Scene& scene, const Plant& plant, CrownPart part) {
  CrownSlab slab;
  if (part == CrownPart::middle) slab.share = kInnermost;
  if (part != CrownPart::shaded) return slab;
  const double centre = plant.crown_centre.z(), radius = plant.grown_radii().z();
  slab.from = std::max(-1.0, (scene.boxes.front().corner.z() - centre) / radius);
  const double highest = std::min(1.0, (scene.boxes.back().far_corner().z() - centre) / radius);
  slab.to = slab.from + kLowest * (highest - slab.from);
  return slab;
}

// How far a place is outside of it, in radii: 0 or less inside.
double outside_of(const CrownSlab& slab, const Plant& plant, const Vec3& place) {
  constexpr double kRounding = 1e-9;
  const Vec3 in_radii = (place - plant.crown_centre).cwiseQuotient(plant.grown_radii());
  return std::max(in_radii.norm() - slab.share, in_radii.z() - slab.to) - kRounding;
}

NeedStanding compare(const BandedNeed& need, const Reading& reading, const PlantFindings& parts) {
  const Figure& crown = reading.values.at(need.quantity);
  const double half = kIntervalFactor * crown.se;
  const auto at = [&](const Figures& figures) { return standing_of(need, figures.at(need.quantity).value); };
  return {need,
          standing_of(need, crown.value),
          standing_of(need, crown.value - half) == standing_of(need, crown.value + half),
          at(reading.top),
          at(parts.middle),
          at(parts.shaded)};
}

}  // namespace

std::string_view standing_name(PlantStanding standing) {
  switch (standing) {
    case PlantStanding::grows:
      return "grows";
    case PlantStanding::holds:
      return "holds";
    case PlantStanding::only_survives:
      return "only survives";
    case PlantStanding::does_not_live:
      return "does not live";
    case PlantStanding::does_not_hold:
      return "does not hold";
    case PlantStanding::does_not_grow:
      return "does not grow";
    case PlantStanding::too_much:
      return "too much";
  }
  return "";
}

PlantStanding standing_of(const BandedNeed& need, double value) {
  if (holds(need.grow, value)) return PlantStanding::grows;
  if (holds(need.hold, value)) return PlantStanding::holds;
  if (holds(need.survive, value)) return PlantStanding::only_survives;
  if (above_all(need.survive, value) && above_all(need.hold, value) && above_all(need.grow, value))
    return PlantStanding::too_much;
  if (need.survive) return PlantStanding::does_not_live;
  return need.hold ? PlantStanding::does_not_hold : PlantStanding::does_not_grow;
}

Vec3 place_in_crown_part(const Scene& scene, const Plant& plant, CrownPart part, std::uint64_t stream,
                         std::uint32_t index) {
  constexpr int kTries = 300;
  const CrownSlab slab = slab_of(scene, plant, part);
  PairSampler sampler(mix64(plant.seed ^ 0x9d1ce5a7u, stream), index);
  Vec3 best = Vec3::Zero();
  double nearest = std::numeric_limits<double>::infinity();
  // The later half of the tries goes all over the crown, in case nothing of the part is free.
  for (int i = 0; i < kTries && nearest > 0; ++i) {
    const Pair around = sampler.next(), up = sampler.next();
    const Vec3 place =
        crown_place_of(plant, i < kTries / 2 ? slab : CrownSlab{}, Vec3(around.u, around.v, up.u));
    if (!scene.inside(place)) continue;
    const double outside = outside_of(slab, plant, place);
    // Solids last: most places are outside of the part.
    if (outside < nearest && (i + 1 == kTries || !scene.inside_solid(place))) nearest = outside, best = place;
  }
  // A crown that is hardly inside, or nearly all branch there.
  return std::isfinite(nearest) ? best : place_in_crown(scene, plant, mix64(stream, index));
}

LightKey crown_part_key(const Plant& plant, CrownPart part) {
  CanonicalBytes bytes;
  bytes.add("crown", part, plant.crown_centre, plant.radii, plant.growth, plant.seed);
  return key_of(bytes);
}

Receiver crown_receiver(const Scene& scene, const Plant& plant, CrownPart part, std::uint64_t id) {
  const auto place = [&scene, &plant, part](std::uint64_t stream, std::uint32_t index) -> Vec3f {
    return place_in_crown_part(scene, plant, part, stream, index).cast<float>();
  };
  return {place, Vec3f::UnitZ(), id, crown_part_key(plant, part), kMirrorChance};
}

std::vector<PlantFindings> read_crowns(Setting& setting, const Survey& survey) {
  const Scene& scene = setting.scene;
  std::vector<Task> tasks;
  const auto add = [&](const Plant& plant, CrownPart part, std::uint64_t id) {
    tasks.push_back({crown_receiver(scene, plant, part, id), goals_with(setting, plant.needs), kLeastSpread});
  };
  for (std::size_t i = 0; i < scene.plants.size(); ++i) {
    add(scene.plants[i], CrownPart::middle, setting.stream(kCrownMiddleStage, i));
    add(scene.plants[i], CrownPart::shaded, setting.stream(kCrownShadedStage, i));
  }
  const std::vector<Response> responses = gather_to_tolerance(
      setting.field, tasks, std::max(kPartTolerance, setting.tolerance()), setting.budget, setting.spent);

  std::vector<PlantFindings> plants(scene.plants.size());
  for (std::size_t i = 0; i < plants.size(); ++i) {
    PlantFindings& plant = plants[i];
    plant.reading = scene.perches.size() + i;
    plant.middle = facing_figures(setting, responses[2 * i]);
    plant.shaded = facing_figures(setting, responses[2 * i + 1]);
    for (const BandedNeed& need : scene.plants[i].bands)
      plant.needs.push_back(compare(need, survey.readings[plant.reading], plant));
  }
  return plants;
}

std::optional<FloorFindings> read_floor(const Survey& survey) {
  if (survey.levels.empty() || survey.grid.empty()) return std::nullopt;
  FloorFindings floor;
  floor.z = survey.levels.front().z;
  floor.ppfd_mean = survey.levels.front().ppfd_mean;
  floor.dli_mean = survey.levels.front().dli_mean;
  if (!survey.has_day) return floor;
  const GridBox& box = survey.grid.front();
  const auto count = static_cast<std::size_t>(box.count[0] * box.count[1]);
  std::vector<std::pair<double, double>> cells;  // DLI, free share
  double whole = 0;
  for (std::size_t i = box.first; i < box.first + count; ++i) {
    const Cell& cell = survey.cells[i];
    if (!(cell.free_share > 0)) continue;
    cells.emplace_back(cell.up[static_cast<std::size_t>(Quantity::dli)].value, cell.free_share);
    whole += cell.free_share;
  }
  std::sort(cells.begin(), cells.end());
  double below = 0;
  for (const auto& [dli, share] : cells) {
    below += share;
    if (!floor.dli_low && below >= 0.1 * whole) floor.dli_low = dli;
    if (!floor.dli_high && below >= 0.9 * whole) floor.dli_high = dli;
  }
  return floor;
}

}  // namespace boughlight
