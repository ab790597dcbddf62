#include "assess/day.h"

#include "assess/clock.h"
#include "assess/crowns.h"

namespace boughlight {
namespace {

// Of a back whose size is not given: 15 by 5 cm. The estimate goes with the -1/4th power of its size.
constexpr std::pair<double, double> kAssumedBody = {0.15, 0.05};

}  // namespace

DayFindings find_day(Setting& setting, const Survey& survey) {
  DayFindings day;
  day.clock = follow_the_clock(survey);
  day.plants = read_crowns(setting, survey);
  day.floor = read_floor(survey);
  const auto body = setting.scene.animal ? setting.scene.animal->body : std::nullopt;
  const auto [length, height] = body.value_or(kAssumedBody);
  day.warmth_body_assumed = !body;
  day.warmth_length_m = plate_length(length, height);
  day.warmth = estimate_warmth(setting, survey, day.warmth_length_m);
  day.people = read_workplaces(setting);
  return day;
}

std::vector<PerchWarmth> estimate_warmth(const Setting& setting, const Survey& survey, double length_m) {
  std::vector<PerchWarmth> perches;
  const std::optional<Air>& air = setting.scene.air;
  if (!air) return perches;
  std::vector<std::pair<std::string, double>> airs = {{"day", air->day_c}};
  if (air->hot_c) airs.emplace_back("hot", *air->hot_c);
  if (air->cold_c) airs.emplace_back("cold", *air->cold_c);
  const auto full = quantity_weights(Quantity::irradiance, setting.full_outputs, setting.day_outputs);
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    if (survey.readings[i].kind != ReadingKind::perch) continue;
    PerchWarmth perch{i, {}};
    for (const bool full_power : {false, true}) {
      const double irradiance = full_power ? weigh_facing(survey.responses[i], full).value
                                           : survey.readings[i].values.at(Quantity::irradiance).value;
      for (const auto& [name, celsius] : airs)
        perch.cases.push_back(
            {name, celsius, full_power, irradiance, back_warmth(irradiance, celsius, length_m)});
    }
    perches.push_back(std::move(perch));
  }
  return perches;
}

}  // namespace boughlight
