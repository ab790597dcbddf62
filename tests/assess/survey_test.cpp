#include "assess/survey.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "assess/judge.h"
#include "assess/survey_kit.h"
#include "transport/directions.h"

namespace boughlight {
namespace {

// A little of everything.
Scene small_scene() {
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.5));
  const int mesh = kit::add_material(scene, kit::mesh(0.3e-3, 1.5e-3, 1.2e-3, 0.4));
  Box& box = kit::add_box(scene, {0.4, 0.3, 0.6}, wall);
  kit::set_face(box, Side::top, mesh);
  kit::set_face(box, Side::front, kit::add_material(scene, kit::pane(0.85)));
  scene.branches.push_back({"bough", {{0.05, 0.15, 0.3}, {0.35, 0.15, 0.35}}, 0.02, wall});
  Plant& bush = kit::add_plant(scene, {0.3, 0.2, 0.15}, {0.08, 0.08, 0.1}, 0.03, 0.03, 0.02,
                               kit::add_material(scene, kit::grey(0.2, 0.2)));
  bush.needs = {kit::want(Quantity::dli, 0.01, std::nullopt)};
  kit::add_uv_lamp(scene, make_tube_emitter(0.3, 0.016, nullptr), {0.2, 0.15, 0.67}, 1);
  kit::add_lamp(scene, make_disc_emitter(0.08, nullptr), {0.1, 0.15, 0.7}, 20);
  for (Lamp& lamp : scene.lamps) lamp.lit = {{8, 18}};
  scene.lamps[1].dim = 0.8;
  scene.lamps[1].ramp_h = 0.5;
  scene.air = Air{};
  scene.air->day_c = 24;
  Workplace work;
  work.at = {0.2, -0.1, 0.4};
  work.open = {{0, Side::front}};
  scene.workplaces = {work};
  kit::add_room(scene, 0.2);
  Perch perch;
  perch.name = "perch";
  perch.at = {0.2, 0.15, 0.335};
  perch.wants = {kit::want(Quantity::uvi, 0.1, 50)};
  scene.perches.push_back(perch);
  kit::add_point(scene, "outside", {0.2, -0.1, 0.3}, {0, 1, 0});
  scene.animal = Animal{};
  scene.animal->back = 0.03;
  scene.animal->reach = 0.03;
  scene.animal->basking = {kit::want(Quantity::uvi, 1, 5)};
  scene.animal->refuge = {kit::want(Quantity::uvi, std::nullopt, 1)};
  scene.animal->never = {kit::want(Quantity::uvi, std::nullopt, 100)};
  scene.zone_wants = {{"refuge", ZoneShare::volume, {0.1, std::nullopt}, {}}};
  scene.survey.spacing = 0.1;
  scene.survey.tolerance = 0.1;
  return scene;
}

// Every number of a survey, in one row.
std::vector<double> all_numbers(const Survey& survey) {
  std::vector<double> all;
  const auto figure = [&](const Figure& f) {
    all.push_back(f.value);
    all.push_back(f.se);
    all.push_back(f.converged ? *f.converged : -1);
  };
  const auto place = [&](const Vec3& p) { all.insert(all.end(), p.data(), p.data() + 3); };
  for (const Reading& reading : survey.readings) {
    place(reading.at);
    place(reading.direction);
    for (const auto* figures : {&reading.values, &reading.scalar, &reading.top})
      for (const auto& [quantity, f] : *figures) figure(f);
    for (const auto& [name, shares] : reading.by_lamp)
      for (const auto& [quantity, value] : shares) all.push_back(value);
    for (const WantResult& result : reading.wants) all.push_back(static_cast<double>(result.verdict));
  }
  for (const Cell& cell : survey.cells) {
    place(cell.centre);
    for (const Figure& f : cell.up) figure(f);
    all.push_back(cell.free_share);
    all.push_back(cell.brightest_uvi);
  }
  for (const Level& level : survey.levels) all.insert(all.end(), {level.z, level.uvi_mean, level.ppfd_mean});
  for (const auto& [name, zone] : survey.zones) {
    figure(zone.volume);
    if (zone.perch) figure(*zone.perch);
    for (const Figure& f : zone.levels) figure(f);
  }
  for (const ZoneWantResult& result : survey.zone_wants) figure(result.figure);
  if (survey.hottest)
    for (const HottestPlace* hot : {&survey.hottest->uvi, &survey.hottest->irradiance,
                                    &survey.hottest->uvi_at_full, &survey.hottest->irradiance_at_full}) {
      figure(hot->figure);
      place(hot->at);
      place(hot->direction);
    }
  for (const ClockReadings& readings : survey.day.clock.readings)
    for (const std::vector<double>& values : readings) all.insert(all.end(), values.begin(), values.end());
  for (const PlantFindings& plant : survey.day.plants)
    for (const auto* figures : {&plant.middle, &plant.shaded})
      for (const auto& [quantity, f] : *figures) figure(f);
  for (const PerchWarmth& perch : survey.day.warmth)
    for (const WarmthCase& found : perch.cases)
      all.insert(all.end(), {found.back.value_c, found.back.low_c, found.back.high_c});
  for (const WorkplaceFindings& found : survey.day.people) {
    place(found.direction);
    figure(found.actinic);
    figure(found.uva);
  }
  return all;
}

void expect_finite_and_not_negative(const Survey& survey) {
  for (const double number : all_numbers(survey)) ASSERT_TRUE(std::isfinite(number));
  for (const Reading& reading : survey.readings)
    for (const auto* figures : {&reading.values, &reading.scalar, &reading.top})
      for (const auto& [quantity, f] : *figures) ASSERT_GE(f.value, 0) << info(quantity).name;
  for (const Cell& cell : survey.cells)
    for (const Figure& f : cell.up) ASSERT_GE(f.value, 0);
}

TEST(SurveySlow, GivesTheSameBitsOnAnyNumberOfThreadsAndEveryRun) {
  const Scene scene = small_scene();
  const auto run = [&](int threads) {
    SurveyControl control;
    control.threads = threads;
    return all_numbers(run_survey(scene, control));
  };
  const auto one = run(1);
  EXPECT_GT(one.size(), 500u);
  for (const int threads : {2, 7, 2}) {
    const auto other = run(threads);
    ASSERT_EQ(one.size(), other.size());
    for (std::size_t i = 0; i < one.size(); ++i)
      ASSERT_EQ(one[i], other[i]) << "number " << i << " on " << threads << " threads";
  }
}

TEST(SurveySlow, AnotherSeedGivesOtherNumbersThatAgree) {
  Scene scene = small_scene();
  const Survey first = run_survey(scene);
  scene.survey.seed = 2;
  const Survey second = run_survey(scene);
  for (std::size_t i = 0; i < first.readings.size(); ++i) {
    const Figure a = first.readings[i].values.at(Quantity::irradiance);
    const Figure b = second.readings[i].values.at(Quantity::irradiance);
    EXPECT_NE(a.value, b.value);
    // The brightest orientation is found anew, which costs a perch well under 1 %.
    EXPECT_NEAR(a.value, b.value, 5 * std::hypot(a.se, b.se) + 0.01 * a.value) << first.readings[i].name;
  }
}

TEST(Survey, HoldsNothingOddAndReportsItsStagesInOrder) {
  SurveyControl control;
  std::vector<double> shares;
  std::set<std::string> stages;
  control.progress = [&](const std::string& stage, double share) {
    stages.insert(stage);
    shares.push_back(share);
  };
  const Survey survey = run_survey(small_scene(), control);
  expect_finite_and_not_negative(survey);
  EXPECT_TRUE(survey.hottest);
  EXPECT_TRUE(survey.has_day);
  EXPECT_GT(survey.leaf_count, 40u);
  EXPECT_EQ(survey.cells.size(), 4u * 3u * 6u);
  EXPECT_GE(stages.size(), 5u);
  EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
  EXPECT_EQ(shares.front(), 0);
  EXPECT_EQ(shares.back(), 1);
}

TEST(Survey, WithoutLampsIsDarkButWhole) {
  Scene scene = small_scene();
  scene.lamps.clear();
  scene.room.reset();
  const Survey survey = run_survey(scene);
  expect_finite_and_not_negative(survey);
  for (const Reading& reading : survey.readings)
    for (const auto& [quantity, figure] : reading.values) EXPECT_EQ(figure.value, 0);
  EXPECT_EQ(survey.readings[0].wants[0].verdict, Verdict::below);
  EXPECT_EQ(survey.zones.at("refuge").volume.value, 1);
  EXPECT_EQ(survey.zones.at("basking").volume.value, 0);
}

TEST(Survey, LampsDimmedToNothingGiveNothingUntilAtFull) {
  Scene scene = small_scene();
  for (Lamp& lamp : scene.lamps) lamp.dim = 0;
  scene.room->lux = 0;
  scene.room->irradiance_w_m2 = 0;
  const Survey survey = run_survey(scene);
  expect_finite_and_not_negative(survey);
  EXPECT_EQ(survey.readings[0].values.at(Quantity::irradiance).value, 0);
  EXPECT_EQ(survey.hottest->uvi.figure.value, 0);
  EXPECT_GT(survey.hottest->uvi_at_full.figure.value, 1);
}

// Sixty receivers all over the box, off the walls and not inside the bough.
std::vector<Receiver> sixty_receivers(const Scene& scene, std::uint64_t id) {
  std::vector<Receiver> receivers;
  for (std::uint64_t i = 0; receivers.size() < 60; ++i) {
    Stream random(17, i);
    const Vec3f place(0.03f + 0.34f * random.next_float(), 0.03f + 0.24f * random.next_float(),
                      0.03f + 0.5f * random.next_float());
    if (scene.inside_solid(place.cast<double>())) continue;
    receivers.push_back(fixed_receiver(place, orientations()[i % kOrientations], mix64(id, i)));
  }
  return receivers;
}

TEST(ErrorBarsSlow, AreThoseOfStudentsT) {
  // (value - truth) / se has a t distribution with 15 degrees of freedom where replicates are independent and
  // near normal: its square has mean 15/13 and variance 3 x 15^2 / (13 x 11) - (15/13)^2 = 3.389. Truth: 64
  // times the samples, whose own error (an eighth or less) is added to se.
  kit::Stage stage(small_scene());
  const auto weights = stage.setting().weights(Quantity::irradiance);
  const auto run = [&](std::uint32_t samples, std::uint64_t id) {
    const auto receivers = sixty_receivers(stage.scene(), id);
    return gather(stage.field(), receivers, std::vector(receivers.size(), GatherEffort{samples, samples}));
  };
  const auto quick = run(32, 1), slow = run(32 * 64, 2);
  double sum = 0;
  int beyond = 0;
  for (std::size_t i = 0; i < quick.size(); ++i) {
    const Figure a = weigh_facing(quick[i], weights), b = weigh_facing(slow[i], weights);
    ASSERT_GT(a.se, 0);
    const double t = (a.value - b.value) / std::hypot(a.se, b.se);
    sum += t * t;
    beyond += std::abs(t) > kIntervalFactor;
  }
  const double mean = 60 * 15.0 / 13, deviation = std::sqrt(60 * 3.389);
  EXPECT_GT(sum, mean - 3.5 * deviation) << "errors are claimed too large";
  EXPECT_LT(sum, mean + 4 * deviation) << "errors are claimed too small";
  // 95 % intervals: 3 of 60 are expected outside, 11 have a chance below 2e-4 (binomial).
  EXPECT_LE(beyond, 10);
}

}  // namespace
}  // namespace boughlight
