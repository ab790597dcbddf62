#include "assess/crowns.h"

#include <gtest/gtest.h>

#include "assess/readings.h"
#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

BandedNeed steps(std::optional<Limits> survive, std::optional<Limits> hold, std::optional<Limits> grow) {
  return {Quantity::dli, survive, hold, grow, {}};
}

TEST(PlantStanding, FollowsTheSteps) {
  const BandedNeed all = steps(Limits{0.2, 20}, Limits{0.6, 15}, Limits{2, 10});
  const std::pair<double, PlantStanding> cases[] = {
      {0.1, PlantStanding::does_not_live},  {0.2, PlantStanding::only_survives},
      {0.59, PlantStanding::only_survives}, {0.6, PlantStanding::holds},
      {1.9, PlantStanding::holds},          {2, PlantStanding::grows},
      {10, PlantStanding::grows},           {12, PlantStanding::holds},
      {15.1, PlantStanding::only_survives}, {20, PlantStanding::only_survives},
      {20.1, PlantStanding::too_much}};
  for (const auto& [value, expected] : cases)
    EXPECT_EQ(standing_name(standing_of(all, value)), standing_name(expected)) << value;
}

TEST(PlantStanding, SaysNoMoreThanWasDeclared) {
  EXPECT_EQ(standing_of(steps({}, Limits{1, 5}, {}), 0.5), PlantStanding::does_not_hold);
  EXPECT_EQ(standing_of(steps({}, {}, Limits{1, 5}), 0.5), PlantStanding::does_not_grow);
  EXPECT_EQ(standing_of(steps({}, Limits{1, 5}, {}), 6), PlantStanding::too_much);
  EXPECT_EQ(standing_of(steps(Limits{0.2, {}}, {}, Limits{1, 5}), 6), PlantStanding::only_survives)
      << "without an upper limit of survival nothing is too much";
}

Scene bush(const Vec3& centre) {
  Scene scene;
  kit::add_box(scene, {0.6, 0.6, 0.6}, -1);
  kit::add_plant(scene, centre, {0.1, 0.15, 0.2}, 0.05, 0.03, 0.02,
                 kit::add_material(scene, kit::grey(0.1, 0.1)));
  return scene;
}

TEST(CrownPart, MiddleAndShadedSideAreWhereTheySay) {
  const Scene scene = bush({0.3, 0.3, 0.3});
  const Plant& plant = scene.plants[0];
  Vec3 mean = Vec3::Zero();
  constexpr std::uint64_t kPlaces = 500;
  for (std::uint64_t i = 0; i < kPlaces; ++i) {
    const Vec3 middle = place_in_crown_part(scene, plant, CrownPart::middle, i);
    EXPECT_LE((middle - plant.crown_centre).cwiseQuotient(plant.radii).norm(), 0.5);
    mean += middle / kPlaces;
    const Vec3 shaded = place_in_crown_part(scene, plant, CrownPart::shaded, i);
    EXPECT_LE(shaded.z(), 0.1 + 0.25 * 0.4);
    EXPECT_LE((shaded - plant.crown_centre).cwiseQuotient(plant.radii).norm(), 1);
  }
  // Uniform in an ellipsoid of half the radii: the mean of 500 has a standard deviation of radius/2/sqrt(5 x
  // 500).
  EXPECT_LT((mean - plant.crown_centre).cwiseQuotient(plant.radii).norm(),
            5 * 0.5 * std::sqrt(3.0) / std::sqrt(2500.0));
}

TEST(CrownPart, ShadedSideIsEvenlyFull) {
  // Of the unit ball the lowest quarter of the height is the cap from -1 to -1/2. Its volume is 5/32 of the
  // ball's; the means of h and of a squared breadth over it are the integrals of h (1 - h^2) and of
  // (1 - h^2)^2 / 4 over that of 1 - h^2.
  const Scene scene = bush({0.3, 0.3, 0.3});
  const Plant& plant = scene.plants[0];
  constexpr double kVolume = 5.0 / 24, kHeight = -9.0 / 64 / kVolume, kSquare = 53.0 / 480 / 4 / kVolume;
  double height = 0, squares_x = 0, squares_y = 0;
  constexpr std::uint32_t kPlaces = 1u << 16;
  for (std::uint32_t i = 0; i < kPlaces; ++i) {
    const Vec3 place = (place_in_crown_part(scene, plant, CrownPart::shaded, 3, i) - plant.crown_centre)
                           .cwiseQuotient(plant.radii);
    EXPECT_GE(place.z(), -1);
    EXPECT_LE(place.z(), -0.5);
    height += place.z() / kPlaces, squares_x += place.x() * place.x() / kPlaces,
        squares_y += place.y() * place.y() / kPlaces;
  }
  // Each has a standard deviation of 0.15 or less: five standard errors of as many independent places.
  constexpr double kSlack = 5 * 0.15 / 256;
  EXPECT_NEAR(height, kHeight, kSlack);
  EXPECT_NEAR(squares_x, kSquare, kSlack);
  EXPECT_NEAR(squares_y, kSquare, kSlack);
}

TEST(CrownPart, ShadedSideOfACrownCutByTheFloorIsItsLowestPartInside) {
  const Scene scene = bush({0.3, 0.3, 0.05});
  for (std::uint64_t i = 0; i < 200; ++i) {
    const Vec3 shaded = place_in_crown_part(scene, scene.plants[0], CrownPart::shaded, i);
    EXPECT_GE(shaded.z(), 0);
    EXPECT_LE(shaded.z(), 0.25 * 0.25);
  }
}

TEST(CrownPart, WhereNothingOfItIsFreeTheNearestPlacesAreTaken) {
  // The lowest quarter of the crown, from 0.25 to 0.35 m, is outside: below the upper box, beside the lower.
  Scene scene = bush({0.3, 0.3, 0.45});
  scene.boxes[0].size.z() = 0.36;
  Box upper = scene.boxes[0];
  scene.boxes[0].size.x() = 0.1;
  upper.corner.z() = 0.36;
  upper.size = {0.6, 0.6, 0.4};
  scene.boxes.push_back(upper);
  const Plant& plant = scene.plants[0];
  for (std::uint64_t i = 0; i < 200; ++i) {
    const Vec3 shaded = place_in_crown_part(scene, plant, CrownPart::shaded, i);
    EXPECT_TRUE(scene.inside(shaded));
    EXPECT_LT(shaded.z(), 0.42) << "of what is inside, up to 0.65 m, the lowest places are nearest";
  }
}

TEST(Crowns, ThatTwoLampsLightPastTheSameLeavesAreKnownToWhatIsAsked) {
  Scene scene = bush({0.3, 0.3, 0.3});
  scene.plants[0].leaf_area = 0.15;
  scene.plants[0].needs = {kit::want(Quantity::ppfd, 1, {})};
  kit::add_lamp(scene, make_disc_emitter(0.05, nullptr), {0.28, 0.3, 0.59}, 50);
  kit::add_lamp(scene, make_disc_emitter(0.05, nullptr), {0.32, 0.3, 0.59}, 50);
  kit::add_uv_lamp(scene, make_disc_emitter(0.05, nullptr), {0.3, 0.2, 0.59}, 1);
  for (const std::uint64_t seed : {1, 2, 3, 4}) {
    scene.survey.seed = seed;
    kit::Stage stage(scene);
    Survey survey;
    survey.scene = stage.scene();
    take_readings(stage.setting(), survey);
    const Figures& values = survey.readings[0].values;
    const Figure ppfd = values.at(Quantity::ppfd), uvi = values.at(Quantity::uvi);
    EXPECT_LE(ppfd.se, 0.02 * ppfd.value) << "seed " << seed;
    EXPECT_LE(uvi.se, 0.05 * uvi.value) << "what no need judges, seed " << seed;
    EXPECT_TRUE(*survey.readings[0].wants[0].figure.converged) << "seed " << seed;
  }
}

TEST(Crowns, TopMiddleAndShadedSideDarkenDownwards) {
  // A dense crown of black leaves under an even lamp: each part sees more leaves above it.
  Scene scene = bush({0.3, 0.3, 0.3});
  scene.plants[0].leaf_area = 0.25;
  scene.plants[0].bands = {steps(Limits{0.01, {}}, Limits{0.02, {}}, {})};
  scene.plants[0].needs = {kit::want(Quantity::dli, 0.02, {})};
  kit::add_lamp(scene, make_rectangle_emitter(0.5, 0.5, nullptr), {0.3, 0.3, 0.59}, 50);
  scene.lamps[0].lit = {{8, 18}};
  scene.survey.spacing = 0.1;
  scene.survey.tolerance = 0.05;
  const Survey survey = run_survey(scene);
  ASSERT_EQ(survey.day.plants.size(), 1u);
  const PlantFindings& plant = survey.day.plants[0];
  const auto ppfd = [](const Figures& figures) { return figures.at(Quantity::ppfd).value; };
  const Reading& reading = survey.readings[plant.reading];
  EXPECT_GT(ppfd(reading.top), ppfd(plant.middle));
  EXPECT_GT(ppfd(plant.middle), ppfd(plant.shaded));
  EXPECT_GT(ppfd(plant.shaded), 0);
  EXPECT_LT(plant.middle.at(Quantity::ppfd).se, 0.05 * ppfd(plant.middle));
  ASSERT_EQ(plant.needs.size(), 1u);
  EXPECT_EQ(plant.needs[0].top, standing_of(plant.needs[0].need, reading.top.at(Quantity::dli).value));
}

TEST(Floor, IsTheLowestLevelOfTheGrid) {
  Scene scene;
  kit::add_box(scene, {0.4, 0.4, 0.6}, kit::add_material(scene, kit::grey(0.3)));
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.1, 0.1, 0.59}, 50);
  scene.lamps[0].lit = {{8, 18}};
  scene.survey.spacing = 0.1;
  const Survey survey = run_survey(scene);
  ASSERT_TRUE(survey.day.floor);
  const FloorFindings& floor = *survey.day.floor;
  EXPECT_NEAR(floor.z, 0.05, 1e-6);
  EXPECT_EQ(floor.ppfd_mean, survey.levels[0].ppfd_mean);
  // DLI = PPFD x 3600 x hours / 1e6, the definition, cell by cell and on average.
  EXPECT_NEAR(*floor.dli_mean, floor.ppfd_mean * 3600 * 10 / 1e6, 1e-9);
  EXPECT_LT(*floor.dli_low, *floor.dli_mean);
  EXPECT_GT(*floor.dli_high, *floor.dli_mean);
  for (const Level& level : survey.levels)
    EXPECT_NEAR(level.dli_mean.value(), level.ppfd_mean * 3600 * 10 / 1e6, 1e-9);
}

}  // namespace
}  // namespace boughlight
