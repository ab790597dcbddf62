// The closest place to each lamp by geometry, and what mends it by the inverse-square law.
#include "assess/closest.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kPi = 3.14159265358979;
constexpr double kReach = 0.03;
constexpr double kStep = 1.5e-3;  // m: the search's last step is 1 mm along each axis

// Open on all sides.
Scene air(const Vec3& size = {0.6, 0.5, 0.5}) {
  Scene scene;
  kit::add_box(scene, size, -1);
  scene.animal = Animal{};
  scene.animal->reach = kReach;
  scene.survey.spacing = 0.1;
  return scene;
}

Lamp& add_point_lamp(Scene& scene, const Vec3& at, double irradiance_at_a_metre) {
  return kit::add_lamp(scene, make_point_emitter(make_isotropic()), at, irradiance_at_a_metre * 4 * kPi);
}

std::vector<ClosestPlace> closest_of(const Scene& scene) {
  kit::Stage stage(scene);
  return find_closest(stage.setting());
}

Want never(Quantity quantity, double max) {
  return kit::want(quantity, std::nullopt, max);
}

TEST(Closest, UnderAFlatTopIsStraightBelowTheLamp) {
  Scene scene = air();
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.001, 0.006, 0.006, 0)));
  add_point_lamp(scene, {0.2, 0.3, 0.6}, 4);
  const auto places = closest_of(scene);
  ASSERT_EQ(places.size(), 1u);
  const ClosestPlace& place = places[0];
  EXPECT_LT((place.at - Vec3(0.2, 0.3, 0.5 - kReach)).norm(), kStep);
  EXPECT_NEAR(place.distance_to_lamp, 0.13, kStep);
  EXPECT_NEAR(place.below_top, kReach, 1e-9);
  EXPECT_EQ(place.top, "mesh");
  // A sixth of the area is wire in each direction: 25/36 goes through, face on.
  const double expected = 4 / (0.13 * 0.13) * 25 / 36;
  EXPECT_NEAR(place.irradiance.figure.value, expected, 1e-3 * expected);
  EXPECT_GT(place.irradiance.direction.z(), 0.999);
  EXPECT_EQ(place.irradiance.lamp, "lamp 1");
  EXPECT_DOUBLE_EQ(place.irradiance.share, 1);
}

TEST(Closest, OfALampOverADomeIsInsideTheDome) {
  Scene scene = air();
  Box dome;
  dome.name = "dome";
  dome.corner = {0.2, 0.15, 0.5};
  dome.size = {0.2, 0.2, 0.15};
  dome.face.fill(-1);
  scene.boxes.push_back(dome);
  add_point_lamp(scene, {0.3, 0.25, 0.72}, 4);     // over the dome
  add_point_lamp(scene, {0.06, 0.25, 0.56}, 4);    // over the roof beside it
  add_point_lamp(scene, {0.505, 0.25, 0.625}, 4);  // level with the dome, beside it, high over the roof
  const auto places = closest_of(scene);
  ASSERT_EQ(places.size(), 3u);
  EXPECT_LT((places[0].at - Vec3(0.3, 0.25, 0.65 - kReach)).norm(), kStep);
  EXPECT_NEAR(places[0].below_top, kReach, 1e-9);
  EXPECT_NEAR(places[0].distance_to_lamp, 0.07 + kReach, kStep);
  EXPECT_LT((places[1].at - Vec3(0.06, 0.25, 0.5 - kReach)).norm(), kStep);
  EXPECT_NEAR(places[1].below_top, kReach, 1e-9);
  // 10.5 cm from the dome's side and a reach further in, 12.5 cm over the roof and a reach further down.
  EXPECT_NEAR(places[2].distance_to_lamp, 0.105 + kReach, kStep);
  EXPECT_NEAR(places[2].at.x(), 0.4 - kReach, kStep);
  EXPECT_GT(places[2].at.z(), 0.6);
  EXPECT_NEAR(places[2].below_top, 0.65 - places[2].at.z(), 1e-9);
}

TEST(Closest, OfATubeIsUnderItsMiddle) {
  Scene scene = air({0.8, 0.5, 0.5});
  kit::add_uv_lamp(scene, make_tube_emitter(0.4, 0.016, nullptr), {0.4, 0.2, 0.58}, 10);
  const auto places = closest_of(scene);
  EXPECT_NEAR(places.at(0).at.x(), 0.4, 0.01) << "the light is level there: E changes by 1 % over 2 cm";
  EXPECT_NEAR(places[0].at.y(), 0.2, 5e-3);
  EXPECT_NEAR(places[0].distance_to_lamp, 0.08 - 0.008 + kReach, kStep);
}

TEST(Closest, OfABeamIsInTheBeamAndNotWhereItIsDark) {
  // Aimed 45 degrees to the right from over the left: straight below it is dark.
  Scene scene = air();
  kit::add_lamp(scene, make_point_emitter(make_cosine_power(10 * kPi / 180)), {0.1, 0.25, 0.7}, 20,
                Vec3(1, 0, -1), Vec3(1, 0, 1));
  const auto places = closest_of(scene);
  // Where the beam's axis meets the reachable top.
  EXPECT_NEAR(places.at(0).at.x(), 0.1 + 0.2 + kReach, 0.03);
  EXPECT_NEAR(places[0].at.z(), 0.5 - kReach, kStep);
}

TEST(Closest, SumsAllLampsAndNamesTheOneThatGivesMost) {
  Scene scene = air();
  add_point_lamp(scene, {0.2, 0.25, 0.56}, 1).dim = 0.5;
  add_point_lamp(scene, {0.4, 0.25, 0.56}, 40);
  scene.animal->never = {never(Quantity::irradiance, 300)};
  const auto places = closest_of(scene);
  const ClosestPlace& weak = places.at(0);
  const auto light = [&](double dim) {
    const Vec3 first = Vec3(0.2, 0.25, 0.56) - weak.at, second = Vec3(0.4, 0.25, 0.56) - weak.at;
    return (dim * first / std::pow(first.norm(), 3) + 40 * second / std::pow(second.norm(), 3)).norm();
  };
  EXPECT_NEAR(weak.at.x(), 0.2, kStep) << "its own light decides where its closest place is";
  EXPECT_NEAR(weak.irradiance.figure.value, light(0.5), 1e-3 * light(0.5));
  EXPECT_NEAR(weak.irradiance_at_full.figure.value, light(1), 1e-3 * light(1));
  EXPECT_EQ(weak.irradiance.lamp, "lamp 2");
  EXPECT_GT(weak.irradiance.share, 0.5);
  EXPECT_EQ(*weak.irradiance.verdict, light(0.5) > 300 ? Verdict::above : Verdict::met);
  EXPECT_EQ(*places.at(1).irradiance.verdict, Verdict::above);
  EXPECT_FALSE(weak.uvi.limit);
}

TEST(Closest, IsNotThereWithoutAnAnimal) {
  Scene scene = air();
  add_point_lamp(scene, {0.2, 0.25, 0.56}, 1);
  scene.animal.reset();
  EXPECT_TRUE(closest_of(scene).empty());
}

TEST(TopAbove, IsTheFaceStraightAbove) {
  Scene scene = air();
  const int mesh = kit::add_material(scene, kit::mesh(0.001, 0.006, 0.006, 0));
  Box dome;
  dome.name = "dome";
  dome.corner = {0.2, 0.15, 0.5};
  dome.size = {0.2, 0.2, 0.15};
  dome.face.fill(-1);
  kit::set_face(dome, Side::top, mesh);
  scene.boxes.push_back(dome);
  EXPECT_NEAR(top_above(scene, {0.3, 0.25, 0.3}).distance, 0.35, 1e-12);
  EXPECT_EQ(top_above(scene, {0.3, 0.25, 0.3}).material, "mesh");
  EXPECT_NEAR(top_above(scene, {0.1, 0.25, 0.3}).distance, 0.2, 1e-12);
  EXPECT_EQ(top_above(scene, {0.1, 0.25, 0.3}).material, "open");
  EXPECT_NEAR(top_above(scene, {0.2, 0.15, 0.3}).distance, 0.2, 1e-9) << "on the seam: the nearer";
}

// A lamp 6 cm over the top that gives UVI 1 at 30 cm: at 9 cm 11.1.
Scene too_near(double limit) {
  Scene scene = air();
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.25, 0.56},
                   kit::watts_for_uvi_at_a_metre(0.09));
  Perch perch;
  perch.name = "sun perch";
  perch.at = {0.3, 0.25, 0.26};
  scene.perches.push_back(perch);
  scene.animal->never = {never(Quantity::uvi, limit)};
  return scene;
}

TEST(Mend, RaisesByTheInverseSquareLaw) {
  for (const double limit : {4.0, 8.0}) {
    const Survey survey = run_survey(too_near(limit));
    ASSERT_EQ(survey.animal.mends.size(), 1u);
    const Mend& mend = survey.animal.mends[0];
    const double near = 0.06 + kReach, raise = std::sqrt(0.09 / limit) - near;
    EXPECT_EQ(mend.lamp, "lamp 1");
    ASSERT_TRUE(mend.raise);
    EXPECT_LE(*mend.raise, raise + 7.5e-3) << "found to 2 mm, and rounded up to 5";
    EXPECT_GE(*mend.raise, raise - 2e-4) << "rather too much";
    EXPECT_NEAR(*mend.raise / 0.005, std::round(*mend.raise / 0.005), 1e-9);
    EXPECT_DOUBLE_EQ(mend.room, kMostRaise) << "nothing is above it";
    const double share = limit * near * near / 0.09;
    EXPECT_LE(*mend.output_share, share + 1e-4) << "rather too little";
    EXPECT_GE(*mend.output_share, share - 0.015) << "found to half a per cent, and rounded down to one";
    const double then = 0.09 / std::pow(0.3 + *mend.raise, 2);
    EXPECT_NEAR(*mend.sun_perch_uvi, then, 1e-4 * then);
    EXPECT_EQ(survey.verdict, WholeVerdict::unmet);
  }
}

TEST(Mend, ALampIsNotRaisedThroughWhatIsAboveIt) {
  Scene scene = too_near(4);  // 6 cm would do
  const Vec3 at = scene.lamps[0].at;
  scene.boards.push_back({"shelf",
                          at + Vec3(-0.1, -0.1, 0.03),
                          {0.2, 0, 0},
                          {0, 0.2, 0},
                          kit::add_material(scene, kit::grey(0))});
  const Survey survey = run_survey(scene);
  ASSERT_EQ(survey.animal.mends.size(), 1u);
  EXPECT_FALSE(survey.animal.mends[0].raise.has_value());
  EXPECT_NEAR(survey.animal.mends[0].room, 0.02, 1e-4);
}

TEST(Mend, IsNotAskedForWhereTheLimitHolds) {
  EXPECT_TRUE(run_survey(too_near(12)).animal.mends.empty());
}

TEST(Mend, OneLampCannotMendWhatTheOthersBreak) {
  Scene scene = too_near(5);
  // Four more, each of UVI 2.5 there: without the first there are 10 left.
  for (int i = 0; i < 4; ++i)
    kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.25, 0.67 + 0.001 * i},
                     kit::watts_for_uvi_at_a_metre(0.1));
  const Survey survey = run_survey(scene);
  const auto mend = std::find_if(survey.animal.mends.begin(), survey.animal.mends.end(),
                                 [](const Mend& other) { return other.lamp == "lamp 1"; });
  ASSERT_NE(mend, survey.animal.mends.end());
  EXPECT_FALSE(mend->raise);
  EXPECT_FALSE(mend->output_share);
  EXPECT_FALSE(mend->sun_perch_uvi);
}

TEST(Mend, CountsTheMeshThatScatters) {
  // What is told must be so: the scene with the lamp raised keeps its limit there, and 1 cm less breaks it.
  Scene scene = too_near(3);
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.0003, 0.0015, 0.0015, 0.5)));
  const Survey survey = run_survey(scene);
  ASSERT_EQ(survey.animal.mends.size(), 1u);
  ASSERT_TRUE(survey.animal.mends[0].raise);
  for (const double less : {0.0, 0.01}) {
    Scene raised = scene;
    raised.lamps[0].at.z() += *survey.animal.mends[0].raise - less;
    const Figure hottest = run_survey(raised).hottest->uvi.figure;
    EXPECT_EQ(hottest.value < 3 * 1.01, less == 0) << hottest.value;
  }
}

}  // namespace
}  // namespace boughlight
