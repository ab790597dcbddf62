#include <gtest/gtest.h>

#include "assess/perchable.h"
#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kIrradiance = 40;  // W/m2 that the point lamp below gives at a metre

// A black box, open above, with a point lamp over it.
Scene box_under_a_point() {
  Scene scene;
  Box& box = kit::add_box(scene, {0.5, 0.4, 0.8}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(box, Side::top, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.15, 0.95},
                kIrradiance * 4 * 3.14159265358979);
  scene.animal = Animal{};
  scene.animal->back = 0.03;
  scene.animal->reach = 0.03;
  scene.survey.spacing = 0.1;
  scene.survey.tolerance = 0.05;
  return scene;
}

// What the greatest of the 26 orientations reads there: inverse square times the best cosine.
double greatest_reading(const Scene& scene, const Vec3& place) {
  const Vec3 way = scene.lamps[0].at - place;
  return kIrradiance * scene.lamps[0].dim / way.squaredNorm() * kit::greatest_of_26(way);
}

// Share of a slab of the box between two heights where the reading is at most `limit`, by midpoints.
double share_below(const Scene& scene, double limit, double from, double to) {
  constexpr int kSteps = 80;
  const Vec3 size = scene.boxes[0].size;
  int below = 0;
  for (int z = 0; z < kSteps; ++z)
    for (int y = 0; y < kSteps; ++y)
      for (int x = 0; x < kSteps; ++x) {
        const Vec3 place((x + 0.5) / kSteps * size.x(), (y + 0.5) / kSteps * size.y(),
                         from + (z + 0.5) / kSteps * (to - from));
        below += greatest_reading(scene, place) <= limit;
      }
  return static_cast<double>(below) / (kSteps * kSteps * kSteps);
}

TEST(Zones, RefugeIsWhatLiesOutsideTheSphereOfItsLimit) {
  Scene scene = box_under_a_point();
  for (const double limit : {70.0, 120.0, 300.0}) {
    scene.animal->refuge = {kit::want(Quantity::irradiance, std::nullopt, limit)};
    const Survey survey = run_survey(scene);
    const Figure& volume = survey.zones.at("refuge").volume;
    EXPECT_LE(volume.se, 0.01);
    EXPECT_NEAR(volume.value, share_below(scene, limit, 0, 0.8), 5 * volume.se + 1e-3) << "limit " << limit;
  }
}

TEST(Zones, BaskingLiesBetweenTwoSpheres) {
  Scene scene = box_under_a_point();
  scene.animal->basking = {kit::want(Quantity::irradiance, 80, 160)};
  const Survey survey = run_survey(scene);
  const Figure& volume = survey.zones.at("basking").volume;
  EXPECT_NEAR(volume.value, share_below(scene, 160, 0, 0.8) - share_below(scene, 80, 0, 0.8),
              5 * volume.se + 1e-3);
}

TEST(Zones, LevelsAreJudgedOneByOneAndTheWorstIsNamed) {
  Scene scene = box_under_a_point();
  constexpr double kLimit = 110;
  scene.animal->refuge = {kit::want(Quantity::irradiance, std::nullopt, kLimit)};
  scene.zone_wants = {{"refuge", ZoneShare::each_level, {0.3, std::nullopt}, {}},
                      {"refuge", ZoneShare::volume, {0.05, std::nullopt}, {}},
                      {"refuge", ZoneShare::volume, {std::nullopt, 0.05}, {}}};
  const Survey survey = run_survey(scene);
  ASSERT_EQ(survey.levels.size(), 8u);
  for (std::size_t level = 0; level < 8; ++level) {
    const Figure& figure = survey.zones.at("refuge").levels[level];
    const double low = 0.1 * static_cast<double>(level);
    EXPECT_NEAR(survey.levels[level].z, low + 0.05, 1e-6);
    EXPECT_NEAR(figure.value, share_below(scene, kLimit, low, low + 0.1), 5 * figure.se + 5e-3)
        << "level " << level;
    EXPECT_EQ(*survey.levels[level].refuge, figure.value);
    EXPECT_FALSE(survey.levels[level].basking);
  }
  ASSERT_EQ(survey.zone_wants.size(), 3u);
  EXPECT_EQ(survey.zone_wants[0].verdict, Verdict::below);
  double least = 1;
  for (const Figure& figure : survey.zones.at("refuge").levels) least = std::min(least, figure.value);
  EXPECT_EQ(survey.zone_wants[0].figure.value, least);
  EXPECT_GT(*survey.zone_wants[0].level_z, 0.5) << "in the upper part, towards the lamp";
  EXPECT_EQ(survey.zone_wants[1].verdict, Verdict::met);
  EXPECT_EQ(survey.zone_wants[2].verdict, Verdict::above);
  EXPECT_EQ(survey.verdict, WholeVerdict::unmet);
}

TEST(Zones, UniformRoomLightIsAllOrNothing) {
  Scene scene;
  kit::add_box(scene, {0.4, 0.4, 0.4}, -1);
  kit::add_room(scene, 2);
  scene.animal = Animal{};
  scene.animal->reach = 0.03;
  scene.survey.spacing = 0.1;
  // 2 W/m2 in every orientation everywhere; its cells are known to 5 % RMS.
  for (const double factor : {0.6, 1.6}) {
    scene.animal->refuge = {kit::want(Quantity::irradiance, std::nullopt, 2 * factor)};
    const Survey survey = run_survey(scene);
    EXPECT_EQ(survey.zones.at("refuge").volume.value, factor > 1 ? 1 : 0);
    for (const Cell& cell : survey.cells) {
      const Figure& up = cell.up[static_cast<std::size_t>(Quantity::irradiance)];
      EXPECT_NEAR(up.value, 2, 6 * up.se);
    }
  }
}

TEST(Zones, PerchShareIsTheLengthWhereTheBackHolds) {
  Scene scene = box_under_a_point();
  scene.branches.push_back({"bough", {{0.02, 0.3, 0.4}, {0.48, 0.3, 0.4}}, 0.02, 0});
  scene.boards.push_back({"ledge", {0.05, 0.05, 0.2}, {0.3, 0, 0}, {0, 0.1, 0}, 0});
  scene.survey.spacing = 0.02;
  constexpr double kLimit = 115;
  scene.animal->refuge = {kit::want(Quantity::irradiance, std::nullopt, kLimit)};
  double holds = 0, length = 0;
  for (const PerchablePlace& place : perchable_places(scene, scene.survey.spacing)) {
    // The board lies in the branch's shadow nowhere: the branch is behind it.
    length += place.length;
    if (greatest_reading(scene, place.back) <= kLimit) holds += place.length;
  }
  const Survey survey = run_survey(scene);
  ASSERT_TRUE(survey.zones.at("refuge").perch);
  EXPECT_GT(holds / length, 0.1);
  EXPECT_LT(holds / length, 0.9);
  EXPECT_NEAR(survey.zones.at("refuge").perch->value, holds / length, 1e-6);
}

TEST(Zones, WithoutBranchesThereIsNoPerchShare) {
  Scene scene = box_under_a_point();
  scene.animal->refuge = {kit::want(Quantity::irradiance, std::nullopt, 100)};
  EXPECT_FALSE(run_survey(scene).zones.at("refuge").perch);
}

}  // namespace
}  // namespace boughlight
