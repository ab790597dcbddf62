// The day by the clock, plants, warmth and the people at work. Plain data, no computation.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/figure.h"
#include "assess/warmth.h"
#include "scene/model.h"

namespace boughlight {

// --- the clock
// -----------------------------------------------------------------------------------------------

inline constexpr double kClockStepH = 1.0 / 12;    // between two moments, h
inline constexpr std::size_t kClockMoments = 288;  // from 00:00 to 23:55

// What is followed over the clock.
inline constexpr std::array<Quantity, 5> kClockQuantities = {
    Quantity::uvi, Quantity::irradiance, Quantity::infrared, Quantity::lux, Quantity::ppfd};

// Readings at every moment of the clock, by the position of the quantity in kClockQuantities. At the moment
// at which a lamp goes on or off it shows what comes after.
using ClockReadings = std::array<std::vector<double>, kClockQuantities.size()>;

struct ClockFindings {
  // One a reading of the survey, in its order. Empty where a lamp has no hours.
  std::vector<ClockReadings> readings;
  // How much of its setting each source of the scene gives at every moment (0..1).
  std::vector<std::vector<double>> sources;
  // The longest stretch in which no source gives light to speak of; its end may be past 24. Of no length
  // where it is never dark; nothing where it is never light.
  std::optional<ClockSpan> longest_dark;
};

// --- plants
// --------------------------------------------------------------------------------------------------

// How a plant stands to a need in steps. Below its outermost step it does_not_live where that is `survive`,
// else does_not_hold or does_not_grow; above all of them it has too_much.
enum class PlantStanding {
  grows,
  holds,
  only_survives,
  does_not_live,
  does_not_hold,
  does_not_grow,
  too_much
};
std::string_view standing_name(PlantStanding standing);  // "grows", "only survives", ...

struct NeedStanding {
  BandedNeed need;
  PlantStanding crown = PlantStanding::holds;  // its mean over the crown
  // Whether the 95 % interval of the mean lies in one band alone.
  bool sure = true;
  PlantStanding top = PlantStanding::holds, middle = PlantStanding::holds, shaded = PlantStanding::holds;
};

// Flat sensors looking up, averaged over a part of the crown. `middle`: within half its radii of its centre.
// `shaded`: the lowest quarter of the height that it has inside the enclosure. To 5 %.
struct PlantFindings {
  std::size_t reading = 0;  // of Survey::readings; the top is there as well
  Figures middle, shaded;
  std::vector<NeedStanding> needs;  // those in steps
};

// The lowest level of the grid, for planting: light on a flat sensor looking up.
struct FloorFindings {
  double z = 0;  // of the cells' centres, m
  double ppfd_mean = 0;
  std::optional<double> dli_mean;
  // A tenth of the level's free volume has less than `low`, a tenth more than `high`.
  std::optional<double> dli_low, dli_high;
};

// --- warmth
// --------------------------------------------------------------------------------------------------

struct WarmthCase {
  std::string air;  // "day", "hot", "cold"
  double air_c = 0;
  bool full_power = false;  // every dimmer at 100 %
  double irradiance_w_m2 = 0;
  Warmth back;
};

struct PerchWarmth {
  std::size_t reading = 0;  // of Survey::readings
  std::vector<WarmthCase> cases;
};

// --- people
// --------------------------------------------------------------------------------------------------

// What a keeper gets at work from the lamps alone, with the doors open; to 5 %.
struct WorkplaceFindings {
  std::size_t workplace = 0;  // of Scene::workplaces
  Vec3 direction = Vec3::UnitZ();
  Figure uvi, actinic, uva;
  // Until the daily limits for people at work are reached; nothing where 8 hours do not reach them.
  std::optional<double> skin_minutes;  // bare skin and eyes: 30 J/m2 actinic
  std::optional<double> eye_minutes;   // eyes: 1e4 J/m2 from 315 to 400 nm
  // Shares of the limits that the daily time takes (1 is all of it).
  double skin_share = 0, eye_share = 0;
};

struct DayFindings {
  ClockFindings clock;
  std::vector<PlantFindings> plants;
  std::optional<FloorFindings> floor;
  // Perches, where the scene gives the air.
  std::vector<PerchWarmth> warmth;
  double warmth_length_m = 0;  // the characteristic length that it was computed with
  bool warmth_body_assumed = false;
  std::vector<WorkplaceFindings> people;
};

}  // namespace boughlight
