#include "assess/shelter.h"

#include <algorithm>
#include <cmath>

#include "assess/body.h"
#include "assess/judge.h"
#include "assess/way.h"

namespace boughlight {
namespace {

constexpr double kShade = 0.1, kSun = 0.5;  // of the sun perch's UVI
constexpr double kLeastUvi = 0.05;

double stride_of(const Scene& scene) {
  const Animal& animal = *scene.animal;
  if (animal.stride) return *animal.stride;
  // An animal of unknown size crosses what touches.
  return animal.body ? animal.body->first : scene.survey.spacing;
}

// The bounds of the grid's level that a height lies in.
std::size_t level_of(const Survey& survey, double z) {
  std::size_t nearest = 0;
  for (std::size_t i = 1; i < survey.levels.size(); ++i)
    if (std::abs(survey.levels[i].z - z) < std::abs(survey.levels[nearest].z - z)) nearest = i;
  return nearest;
}

SeatPlace seat_of(const Setting& setting, const PerchedLight& perched, std::size_t i, double sun_uvi) {
  const PerchablePlace& place = perched.places()[i];
  SeatPlace seat;
  seat.on = place.on;
  seat.at = place.back;
  seat.seat_z = place.seat.z();
  seat.length = place.length;
  for (const Quantity quantity : perched.quantities()) seat.values[quantity] = perched.figure(i, quantity);
  seat.share = seat.values.at(Quantity::uvi).value / sun_uvi;
  const Animal& animal = *setting.scene.animal;
  seat.refuge = animal.refuge.empty() ? seat.share < kShade : perched.chance(i, animal.refuge) >= 0.5;
  for (const Want& want : animal.basking)
    if (want.quantity == Quantity::uvi)
      seat.basking = within(want.limits, seat.values.at(Quantity::uvi).value);
  return seat;
}

// Shares of the length, and their errors from the chance that a place belongs to a class.
void split(const std::vector<SeatPlace>& places, double sun_uvi, Shelter& shelter) {
  double length = 0;
  for (const SeatPlace& place : places) length += place.length;
  ShadeSplit variance;
  for (const SeatPlace& place : places) {
    const double part = place.length / length;
    double& of = place.share < kShade ? shelter.fraction.below_10
                 : place.share > kSun ? shelter.fraction.above_50
                                      : shelter.fraction.from_10_to_50;
    of += part;
    const Figure& uvi = place.values.at(Quantity::uvi);
    const double shade = chance_at_most(uvi, kShade * sun_uvi), cover = chance_at_most(uvi, kSun * sun_uvi);
    const auto spread = [&](double chance) { return part * part * chance * (1 - chance); };
    variance.below_10 += spread(shade);
    variance.from_10_to_50 += spread(std::max(0.0, cover - shade));
    variance.above_50 += spread(1 - cover);
  }
  shelter.fraction_se = {std::sqrt(variance.below_10), std::sqrt(variance.from_10_to_50),
                         std::sqrt(variance.above_50)};
}

void split_by_level(const Survey& survey, Shelter& shelter) {
  std::map<std::size_t, ShadeLevel> levels;
  for (const SeatPlace& place : shelter.places) {
    const std::size_t at = level_of(survey, place.seat_z);
    ShadeLevel& level = levels[at];
    level.z = survey.levels[at].z;
    level.length += place.length;
    (place.share < kShade ? level.fraction.below_10
     : place.share > kSun ? level.fraction.above_50
                          : level.fraction.from_10_to_50) += place.length;
  }
  for (auto& [at, level] : levels) {
    level.fraction.below_10 /= level.length;
    level.fraction.from_10_to_50 /= level.length;
    level.fraction.above_50 /= level.length;
    shelter.levels.push_back(level);
  }
}

void find_way(const Setting& setting, const Survey& survey, const std::vector<PerchablePlace>& places,
              const Vec3& sun, Shelter& shelter) {
  const Steps steps = steps_between(setting.scene, places, shelter.stride);
  std::vector<double> share;
  std::vector<char> refuge;
  std::size_t start = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    share.push_back(shelter.places[i].share);
    refuge.push_back(shelter.places[i].refuge);
    if ((places[i].back - sun).norm() < (places[start].back - sun).norm()) start = i;
  }
  shelter.way = most_covered_way(places, steps, share, refuge, start);
  const std::vector<char> covered = covered_from(steps, share, start);
  std::map<std::size_t, double> lengths;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (refuge[i] && covered[i]) lengths[level_of(survey, places[i].seat.z())] += places[i].length;
  for (const auto& [level, length] : lengths) shelter.refuges.push_back({survey.levels[level].z, length});
}

// A place counts where there is at least half the sun perch's UVI, or as much as basking asks for, and less
// than half its infrared, or less irradiance than basking asks for.
void find_uv_without_heat(const Setting& setting, Shelter& shelter) {
  shelter.heat_matters = shelter.sun_infrared >= kHeat;
  if (!shelter.heat_matters) return;
  std::optional<double> least_irradiance;
  for (const Want& want : setting.scene.animal->basking)
    if (want.quantity == Quantity::irradiance) least_irradiance = want.limits.min;
  for (std::size_t i = 0; i < shelter.places.size(); ++i) {
    SeatPlace& place = shelter.places[i];
    const bool uv = place.share >= kSun || place.basking;
    const bool cool = place.values.at(Quantity::infrared).value < shelter.sun_infrared / 2 ||
                      (least_irradiance && place.values.at(Quantity::irradiance).value < *least_irradiance);
    place.uv_without_heat = uv && cool;
    if (!place.uv_without_heat) continue;
    shelter.uv_without_heat_length += place.length;
    const auto& best = shelter.uv_without_heat;
    if (!best || place.share > shelter.places[*best].share) shelter.uv_without_heat = i;
  }
}

}  // namespace

std::optional<std::size_t> sun_perch_of(const Survey& survey) {
  std::optional<std::size_t> best;
  double asked = 0, most = 0;
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    if (reading.kind != ReadingKind::perch) continue;
    double asks = 0;
    for (const WantResult& want : reading.wants)
      if (want.want.quantity == Quantity::uvi) asks = want.want.limits.min.value_or(0);
    const double reads = reading.values.at(Quantity::uvi).value;
    if (best && (asks < asked || (asks == asked && reads <= most))) continue;
    best = i;
    asked = asks;
    most = reads;
  }
  return best;
}

std::optional<Shelter> find_shelter(Setting& setting, PerchedLight& perched, const Survey& survey) {
  const std::vector<PerchablePlace>& places = perched.places();
  const auto sun = sun_perch_of(survey);
  if (!setting.scene.animal || !sun || places.empty()) return std::nullopt;
  const Reading& reading = survey.readings[*sun];
  Shelter shelter;
  shelter.sun_perch = reading.name;
  shelter.sun_uvi = reading.values.at(Quantity::uvi).value;
  shelter.sun_infrared = reading.values.at(Quantity::infrared).value;
  shelter.stride = stride_of(setting.scene);
  if (shelter.sun_uvi < kLeastUvi) return std::nullopt;
  perched.look_once(setting);
  for (std::size_t i = 0; i < places.size(); ++i)
    shelter.places.push_back(seat_of(setting, perched, i, shelter.sun_uvi));
  split(shelter.places, shelter.sun_uvi, shelter);
  split_by_level(survey, shelter);
  find_way(setting, survey, places, reading.at, shelter);
  find_uv_without_heat(setting, shelter);
  return shelter;
}

}  // namespace boughlight
