#include "assess/readings.h"

#include <gtest/gtest.h>

#include <vector>

#include "assess/survey_kit.h"

namespace boughlight {
namespace {

// Responses are kept in single precision; a few roundings.
constexpr double kSinglePrecision = 2e-7;

// Free air in a box of open faces; readings there are closed forms.
Scene free_air() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  scene.survey.tolerance = 0.02;
  return scene;
}

Perch& add_perch(Scene& scene, const Vec3& at) {
  Perch perch;
  perch.name = "perch";
  perch.at = at;
  scene.perches.push_back(perch);
  return scene.perches.back();
}

std::vector<Reading> readings_of(kit::Stage& stage) {
  Survey survey;
  take_readings(stage.setting(), survey);
  EXPECT_EQ(survey.responses.size(), survey.readings.size());
  return survey.readings;
}

Reading first_reading(Scene scene) {
  kit::Stage stage(std::move(scene));
  return readings_of(stage).front();
}

TEST(Perch, IsReadAtTheBackFacingThePointLamp) {
  Scene scene = free_air();
  scene.animal = Animal{};
  scene.animal->back = 0.06;
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.7, 0.4, 0.9},
                   kit::watts_for_uvi_at_a_metre(1));
  add_perch(scene, {0.5, 0.5, 0.3});
  const Reading reading = first_reading(scene);
  const Vec3 way = scene.lamps[0].at - Vec3(0.5, 0.5, 0.36);
  EXPECT_LT((reading.at - Vec3(0.5, 0.5, 0.36)).norm(), 1e-12);
  EXPECT_EQ(reading.facing, "brightest");
  EXPECT_GT(reading.direction.dot(way.normalized()), 1 - 1e-6);
  EXPECT_NEAR(reading.values.at(Quantity::uvi).value, 1 / way.squaredNorm(), 1e-4 / way.squaredNorm());
  EXPECT_NEAR(reading.scalar.at(Quantity::uvi).value, 1 / way.squaredNorm(), 1e-4 / way.squaredNorm());
}

TEST(Perch, WithoutUltravioletFacesTheBrightestVisibleLight) {
  Scene scene = free_air();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.9, 0.5, 0.5}, 10);
  add_perch(scene, {0.4, 0.5, 0.5});
  EXPECT_GT(first_reading(scene).direction.x(), 1 - 1e-6);
}

TEST(Perch, UltravioletWinsOverMoreVisibleLight) {
  Scene scene = free_air();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.9, 0.5, 0.5}, 100);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.4, 0.5, 0.9},
                   kit::watts_for_uvi_at_a_metre(0.2));
  add_perch(scene, {0.4, 0.5, 0.5});
  // UVI 0.2 / 0.4^2 from above; from the side none.
  EXPECT_GT(first_reading(scene).direction.z(), 1 - 1e-6);
}

TEST(Reading, SharesOfTheLampsAddUp) {
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 0.8}, kit::add_material(scene, kit::grey(0.5)));
  kit::add_uv_lamp(scene, make_disc_emitter(0.1, nullptr), {0.2, 0.2, 0.75}, 1);
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.4, 0.3, 0.75}, 5);
  for (Lamp& lamp : scene.lamps) lamp.lit = {{8, 14}};
  add_perch(scene, {0.3, 0.25, 0.3});
  kit::add_point(scene, "slanted", {0.2, 0.3, 0.4}, {1, 0, 1});
  scene.survey.tolerance = 0.05;
  kit::Stage stage(scene);
  const auto readings = readings_of(stage);
  ASSERT_EQ(readings.size(), 2u);
  EXPECT_EQ(readings[1].facing, "given");
  for (const Reading& reading : readings) {
    ASSERT_EQ(reading.values.size(), static_cast<std::size_t>(kQuantities));
    ASSERT_EQ(reading.by_lamp.size(), 2u);
    for (const auto& [quantity, figure] : reading.values) {
      double sum = 0;
      for (const auto& [name, share] : reading.by_lamp) sum += share.at(quantity);
      EXPECT_NEAR(sum, figure.value, kSinglePrecision * std::abs(figure.value)) << info(quantity).name;
    }
  }
}

TEST(Reading, DayQuantitiesAreEachLampsOwnHours) {
  Scene scene = free_air();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 10);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.8}, 4);
  scene.lamps[0].lit = {{8, 12}};
  scene.lamps[1].lit = {{6, 20}};
  kit::add_point(scene, "floor", {0.5, 0.5, 0.1});
  const Reading reading = first_reading(scene);
  const double first = reading.by_lamp.at("lamp 1").at(Quantity::ppfd),
               second = reading.by_lamp.at("lamp 2").at(Quantity::ppfd);
  EXPECT_NEAR(reading.values.at(Quantity::ppfd).value, first + second, kSinglePrecision * (first + second));
  EXPECT_NEAR(reading.values.at(Quantity::dli).value, (4 * first + 14 * second) * 3600e-6,
              kSinglePrecision * (first + second));
  EXPECT_EQ(reading.facing, "up");

  scene.lamps[1].lit.reset();
  const Reading undated = first_reading(scene);
  EXPECT_FALSE(undated.values.contains(Quantity::dli)) << "a lamp without hours has no day";
  EXPECT_TRUE(undated.values.contains(Quantity::ppfd));
  EXPECT_TRUE(undated.by_lamp.at("lamp 1").contains(Quantity::dli));
  EXPECT_FALSE(undated.by_lamp.at("lamp 2").contains(Quantity::dli));
}

TEST(Reading, OnAFaceReadsTheSideItLooksInto) {
  Scene scene;
  kit::add_box(scene, {0.5, 0.5, 0.5}, kit::add_material(scene, kit::grey(0)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.25, 0.25, 0.4}, 10);
  kit::add_point(scene, "floor", {0.25, 0.25, 0}, {0, 0, 1});
  kit::add_point(scene, "under the floor", {0.25, 0.25, 0}, {0, 0, -1});
  kit::add_point(scene, "left wall", {0, 0.25, 0.4}, {1, 0, 0});
  kit::Stage stage(scene);
  const auto readings = readings_of(stage);
  const auto irradiance = [&](std::size_t i) { return readings[i].values.at(Quantity::irradiance).value; };
  const double i0 = 10 / (4 * 3.14159265358979);
  EXPECT_NEAR(irradiance(0), i0 / 0.16, 1e-3 * i0 / 0.16);
  EXPECT_EQ(irradiance(1), 0);
  EXPECT_NEAR(irradiance(2), i0 / 0.0625, 1e-3 * i0 / 0.0625);
}

TEST(Reading, OnAFaceReadsTheSideItLooksIntoHoweverTilted) {
  // The lamp is outside, before the left wall: a sensor on that wall reads it by its cosine while it looks
  // out at all, up to 89 degrees, and the dark inside from there on.
  Scene scene;
  kit::add_box(scene, {0.5, 0.5, 0.5}, kit::add_material(scene, kit::grey(0)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {-0.2, 0.25, 0.65}, 10, {1, 0, -1}, {0, 1, 0});
  const Vec3 at(0, 0.25, 0.45), way = scene.lamps[0].at - at;
  const std::vector<double> off_deg = {0, 45, 59, 61, 75, 89, 91, 120};
  std::vector<Vec3> facings;
  for (const double off : off_deg) {
    const double angle = off * 3.14159265358979 / 180;
    facings.emplace_back(-std::cos(angle), 0, std::sin(angle));
    kit::add_point(scene, "at " + std::to_string(off), at, facings.back());
  }
  kit::Stage stage(scene);
  const auto readings = readings_of(stage);
  for (std::size_t i = 0; i < facings.size(); ++i) {
    const double expected =
        off_deg[i] < 90 ? 10 / (4 * 3.14159265358979) / way.squaredNorm() * facings[i].dot(way.normalized())
                        : 0;
    EXPECT_NEAR(readings[i].values.at(Quantity::irradiance).value, expected, 1e-3 * expected) << off_deg[i];
  }
}

TEST(Reading, OnAWallFacesTheBrightestLightOnItsLitSide) {
  Scene scene;
  kit::add_box(scene, {0.5, 0.5, 0.5}, kit::add_material(scene, kit::grey(0)));
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.25, 0.4},
                   kit::watts_for_uvi_at_a_metre(1));
  const std::vector<Vec3> places = {
      {0, 0.25, 0.4}, {0.5, 0.25, 0.3}, {0.25, 0, 0.4}, {0.3, 0.5, 0.3}, {0.25, 0.3, 0}};
  for (const Vec3& at : places) kit::add_point(scene, "on a wall", at).facing.brightest = true;
  kit::Stage stage(scene);
  for (const Reading& reading : readings_of(stage)) {
    const Vec3 way = scene.lamps[0].at - reading.at;
    EXPECT_GT(reading.direction.dot(way.normalized()), 1 - 1e-6) << reading.at.transpose();
    EXPECT_NEAR(reading.values.at(Quantity::uvi).value, 1 / way.squaredNorm(), 2e-3 / way.squaredNorm());
  }
}

TEST(Plant, IsReadOverItsCrownAndAtItsTop) {
  // No leaves to speak of, and a lamp far above: the crown's mean is close to the centre's, the top's is its
  // own.
  Scene scene = free_air();
  Plant plant;
  plant.name = "moss";
  plant.crown_centre = {0.5, 0.5, 0.2};
  plant.radii = {0.1, 0.1, 0.1};
  plant.leaf_area = 1e-6;
  plant.leaf_length = plant.leaf_width = 0.001;
  plant.leaf_material = kit::add_material(scene, kit::grey(0.1, 0.1));
  plant.seed = 5;
  plant.needs = {kit::want(Quantity::ppfd, 1e-3, std::nullopt)};
  scene.plants.push_back(plant);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 4.2}, 1000);
  const Reading reading = first_reading(scene);
  EXPECT_EQ(reading.kind, ReadingKind::plant);
  EXPECT_LT((reading.at - plant.crown_centre).norm(), 1e-12);
  const double i0 = 1000 / (4 * 3.14159265358979);
  // 1 / r^2 over a ball of radius 0.1 at 4 m: the mean differs from the centre's by (R/r)^2 / 5 x a number of
  // order 1.
  const Figure& mean = reading.values.at(Quantity::irradiance);
  EXPECT_NEAR(mean.value, i0 / 16, i0 / 16 * 1e-3 + 4 * mean.se);
  EXPECT_NEAR(reading.top.at(Quantity::irradiance).value, i0 / (3.9 * 3.9), 1e-3 * i0 / 16);
  ASSERT_TRUE(reading.top_at);
  EXPECT_NEAR(reading.top_at->z(), 0.3, 1e-9);
  EXPECT_EQ(reading.wants.front().verdict, Verdict::met);
}

TEST(Plant, TopStaysInsideTheEnclosure) {
  Scene scene = free_air();
  Plant plant;
  plant.name = "pushing at the roof";
  plant.crown_centre = {0.5, 0.5, 0.9};
  plant.radii = {0.2, 0.2, 0.4};
  plant.leaf_area = 1e-6;
  plant.leaf_length = plant.leaf_width = 0.001;
  plant.leaf_material = kit::add_material(scene, kit::grey(0.1, 0.1));
  scene.plants.push_back(plant);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 2}, 10);
  EXPECT_NEAR(first_reading(scene).top_at->z(), 1, 1e-6);
}

// A grey box with a lamp in a corner: much of the light is reflected and takes many rays to know.
Scene hard_to_know(double limit) {
  Scene scene;
  kit::add_box(scene, {0.5, 0.5, 0.5}, kit::add_material(scene, kit::grey(0.7)));
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.05, 0.05, 0.45}, 1);
  kit::add_point(scene, "far corner", {0.4, 0.4, 0.1}).wants = {
      kit::want(Quantity::uvi, limit, std::nullopt)};
  scene.survey.tolerance = 2e-3;
  return scene;
}

TEST(Budget, ThatIsTooSmallEndsUnsureNotMet) {
  kit::Stage stage(hard_to_know(1e-3));  // far below what is there
  stage.setting().budget.rays = 1000;
  const Reading reading = readings_of(stage).front();
  EXPECT_EQ(reading.wants.front().figure.converged, false);
  EXPECT_EQ(reading.wants.front().verdict, Verdict::unsure);
  EXPECT_GT(reading.values.at(Quantity::uvi).value, 1e-3);
  // The least passes are made all the same, and not many more.
  EXPECT_LT(static_cast<double>(stage.setting().spent.shadow + stage.setting().spent.closest), 3e6);
}

TEST(Budget, ThatEndsLeavesReadingsNoWorse) {
  Scene scene;
  kit::add_box(scene, {0.5, 0.5, 0.5}, kit::add_material(scene, kit::grey(0.9)));
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.25, 0.25, 0.49}, 10);
  kit::Stage stage(scene);
  for (const double budget : {3e5, 5e5, 8e5}) {
    RayCount spent;
    const std::vector<Task> tasks = {
        {fixed_receiver({0.1f, 0.2f, 0.1f}, Vec3f::UnitZ(), 3), common_goals(stage.setting())}};
    const Response response = gather_to_tolerance(stage.field(), tasks, 1e-6, {budget}, spent).front();
    const auto all = [](const RayCount& rays) { return static_cast<double>(rays.shadow + rays.closest); };
    EXPECT_LT(all(spent), 1.5 * budget);
    EXPECT_GT(all(response.rays), 0.4 * all(spent)) << "of a budget of " << budget;
  }
}

TEST(Budget, ThatIsAmpleReachesTheTolerance) {
  Scene scene = hard_to_know(1e-3);
  scene.survey.tolerance = 0.01;
  kit::Stage stage(scene);
  const Reading reading = readings_of(stage).front();
  const Figure& figure = reading.wants.front().figure;
  EXPECT_EQ(figure.converged, true);
  EXPECT_LE(figure.se, 0.01 * figure.value);
  EXPECT_EQ(reading.wants.front().verdict, Verdict::met);
  EXPECT_FALSE(reading.values.at(Quantity::lux).converged) << "only figures with a limit say so";
}

}  // namespace
}  // namespace boughlight
