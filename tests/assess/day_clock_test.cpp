#include "assess/clock.h"

#include <gtest/gtest.h>

#include <numeric>

#include "assess/readings.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

// A visible and an ultraviolet lamp over a perch in free air.
Scene two_lamps_over_a_perch() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 20);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.8}, 1);
  scene.perches.push_back({"perch", {0.5, 0.5, 0.3}, {}, {}, {}, {}});
  return scene;
}

Survey read(const Scene& scene) {
  kit::Stage stage(scene);
  Survey survey;
  survey.scene = scene;
  survey.has_day = has_day_quantities(scene);
  take_readings(stage.setting(), survey);
  survey.day.clock = follow_the_clock(survey);
  return survey;
}

const std::vector<double>& series(const Survey& survey, Quantity quantity) {
  const auto at = std::find(kClockQuantities.begin(), kClockQuantities.end(), quantity);
  return survey.day.clock.readings.at(0).at(static_cast<std::size_t>(at - kClockQuantities.begin()));
}

std::size_t moment(double hour) {
  return static_cast<std::size_t>(hour * 12 + 0.5);
}

TEST(DayClock, ShowsEachLampByItsHours) {
  Scene scene = two_lamps_over_a_perch();
  scene.lamps[0].lit = {{7, 20}};
  scene.lamps[1].lit = {{0, 2}, {8, 12}, {22, 24}};
  const Survey survey = read(scene);
  const auto& by_lamp = survey.readings[0].by_lamp;
  const double uvi = by_lamp.at("lamp 2").at(Quantity::uvi), ppfd = by_lamp.at("lamp 1").at(Quantity::ppfd);
  for (const auto& [hour, expected_uvi, expected_ppfd] : {std::array{0.0, uvi, 0.0},
                                                          {1.95, uvi, 0.0},
                                                          {2.0, 0.0, 0.0},
                                                          {7.0, 0.0, ppfd},
                                                          {8.0, uvi, ppfd},
                                                          {11.95, uvi, ppfd},
                                                          {12.0, 0.0, ppfd},
                                                          {20.0, 0.0, 0.0},
                                                          {23.95, uvi, 0.0}}) {
    EXPECT_NEAR(series(survey, Quantity::uvi)[moment(hour)], expected_uvi, 1e-9 * uvi) << hour;
    EXPECT_NEAR(series(survey, Quantity::ppfd)[moment(hour)], expected_ppfd, 1e-9 * ppfd) << hour;
  }
}

TEST(DayClock, SumsToTheQuantitiesOfTheDay) {
  Scene scene = two_lamps_over_a_perch();
  scene.lamps[0].dim = 0.7;
  scene.lamps[0].lit = {{7, 20}};
  scene.lamps[0].ramp_h = 0.5;
  scene.lamps[1].lit = {{8, 12}, {13, 18.5}};
  scene.lamps[1].ramp_h = 0.25;
  const Survey survey = read(scene);
  // Straight ramps whose ends are moments: the sum of 5-minute steps is their area.
  const auto sum_h = [&](Quantity quantity) {
    const auto& values = series(survey, quantity);
    return std::accumulate(values.begin(), values.end(), 0.0) / 12;
  };
  const Figures& day = survey.readings[0].values;
  EXPECT_NEAR(sum_h(Quantity::ppfd) * 3600e-6, day.at(Quantity::dli).value,
              1e-9 * day.at(Quantity::dli).value);
  EXPECT_NEAR(sum_h(Quantity::uvi), day.at(Quantity::uvi_hours).value,
              1e-9 * day.at(Quantity::uvi_hours).value);
  EXPECT_NEAR(day.at(Quantity::uvi_hours).value,
              (4 - 0.25 + 5.5 - 0.25) * survey.readings[0].values.at(Quantity::uvi).value,
              1e-6 * sum_h(Quantity::uvi));
  EXPECT_NEAR(sum_h(Quantity::infrared) / 1000, day.at(Quantity::infrared_hours).value, 1e-12);
}

TEST(DayClock, LongestDarkGoesRoundMidnightAndCountsOnlyLight) {
  Scene scene = two_lamps_over_a_perch();
  scene.lamps[0].lit = {{7, 12}, {14, 20}};
  scene.lamps[1].lit = {{0, 24}};  // nothing to see
  const Survey survey = read(scene);
  ASSERT_TRUE(survey.day.clock.longest_dark);
  EXPECT_NEAR(survey.day.clock.longest_dark->from_h, 20, 1e-9);
  EXPECT_NEAR(survey.day.clock.longest_dark->to_h, 31, 1e-9);
}

TEST(DayClock, IsNotThereWithoutHours) {
  const Survey survey = read(two_lamps_over_a_perch());
  EXPECT_TRUE(survey.day.clock.sources.empty());
  EXPECT_TRUE(survey.day.clock.readings.empty());
  EXPECT_FALSE(survey.day.clock.longest_dark);
}

}  // namespace
}  // namespace boughlight
