// Shade along branches, the way to it, and ultraviolet without heat, against closed forms in black boxes.
#include "assess/shelter.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kBack = 0.03;

// A black box, open above; a level branch along x under a UV lamp over its left end.
Scene one_bough() {
  Scene scene;
  Box& box = kit::add_box(scene, {1, 0.4, 0.5}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(box, Side::top, -1);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.1, 0.2, 0.45},
                   kit::watts_for_uvi_at_a_metre(0.1));
  scene.branches = {{"bough", {{0.05, 0.2, 0.2}, {0.95, 0.2, 0.2}}, 0.02, 0}};
  scene.animal = Animal{};
  scene.animal->back = kBack;
  scene.animal->reach = 0.02;
  Perch perch;
  perch.name = "sun perch";
  perch.at = {0.1, 0.2, 0.21};
  scene.perches.push_back(perch);
  scene.survey.spacing = 0.05;
  return scene;
}

// UVI at a back: inverse square times the best of the 26 orientations.
double uvi_at(const Scene& scene, const Vec3& back) {
  const Vec3 way = scene.lamps[0].at - back;
  return 0.1 / way.squaredNorm() * kit::greatest_of_26(way);
}

std::vector<std::string> kinds(const Survey& survey) {
  std::vector<std::string> found;
  for (const Caution& caution : survey.cautions)
    for (const char* kind : {"shade", "refuge-path", "uv-without-heat"})
      if (caution.kind == kind) {
        EXPECT_NE(caution.reason, "") << caution.kind;
        found.push_back(caution.kind);
      }
  return found;
}

using Kinds = std::vector<std::string>;

TEST(Shelter, PlacesAreSplitByTheirShareOfTheSunPerchsUvi) {
  const Scene scene = one_bough();
  const Survey survey = run_survey(scene);
  ASSERT_TRUE(survey.animal.shelter);
  const Shelter& shelter = *survey.animal.shelter;
  const double sun = 0.1 / (0.21 * 0.21);  // 21 cm below the lamp
  EXPECT_NEAR(shelter.sun_uvi, sun, 1e-4 * sun);
  ASSERT_EQ(shelter.places.size(), 18u);
  ShadeSplit expected;
  for (const SeatPlace& place : shelter.places) {
    const double share = uvi_at(scene, place.at) / sun;
    EXPECT_NEAR(place.share, share, 1e-4);
    (share < 0.1 ? expected.below_10 : share > 0.5 ? expected.above_50 : expected.from_10_to_50) += 1.0 / 18;
    EXPECT_EQ(place.refuge, share < 0.1) << "without limits of a refuge a tenth is one";
  }
  EXPECT_GT(expected.below_10 * expected.from_10_to_50 * expected.above_50, 0) << "all three occur";
  EXPECT_NEAR(shelter.fraction.below_10, expected.below_10, 1e-9);
  EXPECT_NEAR(shelter.fraction.from_10_to_50, expected.from_10_to_50, 1e-9);
  EXPECT_NEAR(shelter.fraction.above_50, expected.above_50, 1e-9);
  EXPECT_LT(shelter.fraction_se.below_10, 1e-3);
  ASSERT_EQ(shelter.levels.size(), 1u);
  EXPECT_NEAR(shelter.levels[0].z, 0.225, 1e-6);
  EXPECT_NEAR(shelter.levels[0].length, 0.9, 1e-9);

  ASSERT_TRUE(shelter.way);
  EXPECT_TRUE(shelter.way->covered);
  EXPECT_LE(shelter.way->worst_share, 0.5);
  ASSERT_EQ(shelter.refuges.size(), 1u);
  EXPECT_NEAR(shelter.refuges[0].length, 0.9 * expected.below_10, 1e-9);
  EXPECT_EQ(kinds(survey), Kinds{});
}

TEST(Shelter, ARefugeIsWhatTheAnimalAsksFor) {
  Scene scene = one_bough();
  scene.animal->refuge = {kit::want(Quantity::uvi, std::nullopt, 0.4)};
  const Survey survey = run_survey(scene);
  for (const SeatPlace& place : survey.animal.shelter->places)
    EXPECT_EQ(place.refuge, uvi_at(scene, place.at) <= 0.4);
}

TEST(Shelter, NoTrueShadeIsACaution) {
  Scene scene = one_bough();
  scene.branches[0].path[1].x() = 0.4;  // all of it in the sun's neighbourhood
  EXPECT_EQ(kinds(run_survey(scene)), (Kinds{"shade", "refuge-path"}));
}

TEST(Shelter, ASunnyPatchOnTheWayIsACaution) {
  Scene scene = one_bough();
  // A second lamp half way along: the shade behind it is reached through its light only.
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.55, 0.2, 0.36},
                   kit::watts_for_uvi_at_a_metre(0.04));
  scene.animal->refuge = {kit::want(Quantity::uvi, std::nullopt, 0.5)};
  const Survey survey = run_survey(scene);
  ASSERT_TRUE(survey.animal.shelter->way);
  EXPECT_FALSE(survey.animal.shelter->way->covered);
  EXPECT_GT(survey.animal.shelter->way->worst_share, 0.5);
  EXPECT_TRUE(survey.animal.shelter->refuges.empty());
  EXPECT_EQ(kinds(survey).back(), "refuge-path");
}

TEST(Shelter, AnAnimalCrossesGapsUpToItsStride) {
  Scene scene = one_bough();
  scene.branches[0].path[1].x() = 0.4;
  // Right of it and lower, in the shadow of a board.
  scene.branches.push_back({"den", {{0.5, 0.2, 0.2}, {0.9, 0.2, 0.2}}, 0.02, 0});
  scene.boards = {{"lid", {0.42, 0.02, 0.3}, {0.55, 0, 0}, {0, 0.36, 0}, 0}};
  const auto way = [&](double stride) {
    scene.animal->stride = stride;
    return run_survey(scene).animal.shelter->way;
  };
  // From the last seat at 0.375 it is 10 cm and more to the lid, which is a way over as well.
  EXPECT_FALSE(way(0.08));
  ASSERT_TRUE(way(0.13));
  EXPECT_TRUE(way(0.13)->covered);
  scene.animal->stride.reset();
  scene.animal->body = {0.13, 0.05};
  EXPECT_TRUE(run_survey(scene).animal.shelter->way) << "a body's length where no stride is given";
}

TEST(Shelter, UltravioletWithoutHeatIsWhereTheHeatersBeamEnds) {
  Scene scene = one_bough();
  // Infrared from the same place in a beam of 15 degrees.
  kit::add_lamp(scene, make_point_emitter(make_cosine_power(15 * 3.14159265358979 / 180)), {0.1, 0.2, 0.45},
                60, -Vec3::UnitZ(), Vec3::UnitX(), 1000);
  const Survey survey = run_survey(scene);
  const Shelter& shelter = *survey.animal.shelter;
  EXPECT_TRUE(shelter.heat_matters);
  ASSERT_TRUE(shelter.uv_without_heat);
  EXPECT_TRUE(shelter.places[*shelter.uv_without_heat].uv_without_heat);
  for (const SeatPlace& place : shelter.places) {
    if (!place.uv_without_heat) continue;
    EXPECT_GT(place.share, 0.5);
    EXPECT_LT(place.values.at(Quantity::infrared).value, shelter.sun_infrared / 2);
  }
  EXPECT_EQ(kinds(survey), Kinds{});
  // The same spread for both: wherever there is UV there is heat.
  Scene together = one_bough();
  kit::add_lamp(together, make_point_emitter(make_isotropic()), {0.1, 0.2, 0.45}, 60, -Vec3::UnitZ(),
                Vec3::UnitX(), 1000);
  EXPECT_EQ(kinds(run_survey(together)), Kinds{"uv-without-heat"});
  // Basking limits may call half the heat too little: then a place with enough UV is cool as well.
  together.animal->basking = {kit::want(Quantity::uvi, 0.8, std::nullopt),
                              kit::want(Quantity::irradiance, 90, std::nullopt)};
  EXPECT_EQ(kinds(run_survey(together)), Kinds{});
}

TEST(Shelter, IsNotAskedForWithoutUltraviolet) {
  Scene scene = one_bough();
  scene.lamps.clear();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.1, 0.2, 0.45}, 60);
  EXPECT_FALSE(run_survey(scene).animal.shelter);
  EXPECT_EQ(kinds(run_survey(scene)), Kinds{});
}

TEST(SunPerch, IsTheOneThatAsksForMostUltraviolet) {
  Scene scene = one_bough();
  Perch far = scene.perches[0];
  far.name = "far perch";
  far.at.x() = 0.6;
  scene.perches.push_back(far);
  EXPECT_EQ(run_survey(scene).animal.sun_perch, "sun perch") << "where none asks, the one that reads most";
  scene.perches[1].wants = {kit::want(Quantity::uvi, 0.1, std::nullopt)};
  EXPECT_EQ(run_survey(scene).animal.sun_perch, "far perch");
  scene.perches[0].wants = {kit::want(Quantity::uvi, 1, std::nullopt)};
  EXPECT_EQ(run_survey(scene).animal.sun_perch, "sun perch");
}

}  // namespace
}  // namespace boughlight
