#include "sample_day.h"

#include "assess/output.h"

namespace boughlight {

Survey survey_with_day() {
  Survey survey = sample_survey();
  Scene& scene = survey.scene;
  scene.lamps[0].lit = {{8, 18}};
  scene.lamps[1].lit = {{9, 12}, {14, 17}};
  scene.lamps[1].ramp_h = 0.5;
  scene.lamps[2].lit = {{7, 20}};
  DayFindings& day = survey.day;
  for (const Lamp& lamp : scene.lamps) {
    day.clock.sources.emplace_back(kClockMoments, 0.0);
    for (std::size_t k = 0; k < kClockMoments; ++k)
      day.clock.sources.back()[k] = lit_share(*lamp.lit, lamp.ramp_h, static_cast<double>(k) / 12);
  }
  for (const Reading& reading : survey.readings) {
    ClockReadings& row = day.clock.readings.emplace_back();
    for (std::size_t q = 0; q < row.size(); ++q) {
      row[q].assign(kClockMoments, 0.0);
      for (std::size_t k = 0; k < kClockMoments; ++k)
        for (const auto& shares : day.clock.sources)
          row[q][k] += shares[k] / 3 * reading.values.at(kClockQuantities[q]).value;
    }
  }
  day.clock.longest_dark = ClockSpan{20, 31};

  for (std::size_t i = 0; i < scene.plants.size(); ++i) {
    PlantFindings plant;
    plant.reading = scene.perches.size() + i;
    plant.middle = plant.shaded = survey.readings[plant.reading].values;
    for (auto& [quantity, figure] : plant.shaded) figure.value /= 4;
    day.plants.push_back(plant);
  }
  NeedStanding need;
  need.need = {Quantity::dli, Limits{0.2, 20}, Limits{1, 12}, {}, {}};
  need.crown = PlantStanding::holds;
  need.top = PlantStanding::too_much;
  need.middle = PlantStanding::holds;
  need.shaded = PlantStanding::does_not_live;
  day.plants[0].needs = {need};
  need.crown = PlantStanding::does_not_live;
  need.sure = false;
  day.plants[1].needs = {need};
  day.floor = FloorFindings{0.025, 12, 0.5, 0.1, 0.9};

  day.warmth_length_m = 0.023;
  for (std::size_t i = 0; i < scene.perches.size(); ++i)
    day.warmth.push_back({i,
                          {{"day", 24, false, 300, {41, 34, 49}},
                           {"hot", 30, false, 300, {47, 40, 55}},
                           {"day", 24, true, 360, {43, 35, 52}},
                           {"hot", 30, true, 360, {49, 41, 58}}}});

  Workplace feeding;
  feeding.name = "feeding";
  feeding.at = {0.45, -0.05, 1.4};
  feeding.open = {{1, Side::front}};
  feeding.hours_a_day = 1;
  Workplace planting;
  planting.name = "planting";
  scene.workplaces = {feeding, planting};
  WorkplaceFindings found;
  found.uvi = {1.5, 0.01, {}};
  found.actinic = {0.012, 0.0001, {}};
  found.uva = {0.9, 0.01, {}};
  found.skin_minutes = 30 / 0.012 / 60;
  found.eye_minutes = 1e4 / 0.9 / 60;
  found.skin_share = 0.012 * 3600 / 30;
  found.eye_share = 0.9 * 3600 / 1e4;
  day.people = {found, {}};
  day.people[1].workplace = 1;
  return survey;
}

}  // namespace boughlight
