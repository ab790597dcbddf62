// The map of the top, against what is known of simple scenes.
#include "plan/place_map.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kTrayWatts = 10, kLeastIrradiance = 4;

// An open black box of 40 x 40 x 60 cm; a sensor 5 cm below its top's middle sees every place over the top.
Scene tray() {
  Scene scene;
  const int black = kit::add_material(scene, kit::grey(0));
  Box& box = kit::add_box(scene, {0.4, 0.4, 0.6}, black);
  kit::set_face(box, Side::top, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 0.7}, kTrayWatts);
  kit::add_point(scene, "eye", {0.2, 0.2, 0.6})
      .wants.push_back(kit::want(Quantity::irradiance, kLeastIrradiance, std::nullopt));
  return scene;
}

double expected_at(const Hang& hang) {
  const Vec3 way(hang.x - 0.2, hang.y - 0.2, hang.gap);
  return kTrayWatts / (4 * M_PI) * way.z() / std::pow(way.norm(), 3);
}

TEST(PlaceMap, TheRegionUnderAPointLampIsWhatTheInverseSquareAndCosineSay) {
  const PlaceMap map = map_places(tray(), 0, {std::nullopt, {0.1, 0.2, 0.3, 0.4, 0.5}});
  EXPECT_GE(map.lattice.in_layer(), kLeastPlaces);
  ASSERT_EQ(map.field.asks.asks.size(), 1u);
  for (std::size_t place = 0; place < map.lattice.size(); ++place) {
    const double expected = expected_at(map.lattice.hang(place));
    ASSERT_NEAR(map.field.figure(place, 0).value, expected, 1e-5 * expected);
    if (std::abs(expected - kLeastIrradiance) < 1e-4) continue;
    EXPECT_EQ(map.region.states[place],
              expected > kLeastIrradiance ? ChoiceState::allowed : ChoiceState::refused);
  }
  ASSERT_TRUE(map.present.has_value());
  EXPECT_NEAR(map.present->gap, 0.1, 1e-12);
  ASSERT_EQ(map.at_present.size(), 1u);
  EXPECT_NEAR(map.at_present[0].value, expected_at(*map.present), 1e-4);
}

TEST(PlaceMap, SlackUpwardsIsWhereTheInverseSquareLawEndsIt) {
  const PlaceMap map = map_places(tray(), 0, {0.02, {0.3, 0.35, 0.4, 0.45, 0.5}});
  // Right above the sensor: the reading falls to the limit at sqrt(10 / 4 pi / 4) = 44.6 cm.
  const double reach = std::sqrt(kTrayWatts / (4 * M_PI) / kLeastIrradiance);
  const Slack up = slack_along(map.field, map.field.at({10, 10, 0}), 2, true);
  ASSERT_TRUE(up.ask.has_value());
  // Straight between gaps 5 cm apart: 3 h^2 / 8 d of the law's bend.
  EXPECT_NEAR(up.distance, reach - 0.3, 3 * 0.05 * 0.05 / (8 * reach));
}

TEST(PlaceMap, AnotherLampsPlaceIsTaken) {
  Scene scene = tray();
  kit::add_lamp(scene, make_disc_emitter(0.097, nullptr), {0.1, 0.3, 0.7}, 5);
  const PlaceMap map = map_places(scene, 0, {0.02, {0.1, 0.2}});
  std::size_t taken = 0;
  for (std::size_t place = 0; place < map.lattice.size(); ++place) {
    const Hang hang = map.lattice.hang(place);
    // A disc of 9.7 cm across, level; a point closer than 1 cm to it touches.
    const double beside = std::max(0.0, std::hypot(hang.x - 0.1, hang.y - 0.3) - 0.0485);
    const bool touches = std::hypot(beside, hang.gap - 0.1) < kTouching;
    EXPECT_EQ(map.in_the_way[place], touches ? "lamp 2" : "") << hang.x << " " << hang.y << " " << hang.gap;
    taken += touches;
  }
  EXPECT_GT(taken, 10u);
  EXPECT_EQ(map.region.blocked, taken);
}

TEST(PlaceMap, WhatTheLampHasNoneOfItDoesNotChange) {
  Scene scene = tray();
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.3, 0.9}, 0.01);
  scene.points[0].wants.push_back(kit::want(Quantity::uvi, 1000, std::nullopt));
  const PlaceMap map = map_places(scene, 0, {0.05, {0.1, 0.2}});
  ASSERT_EQ(map.changed.size(), 2u);
  EXPECT_TRUE(map.changed[0]);
  EXPECT_FALSE(map.changed[1]) << "visible light has no UV index";
  EXPECT_GT(map.region.allowed, 0u) << "what it cannot mend does not close the region";
}

TEST(PlaceMap, ANarrowBeamOnACrownIsNotSmearedOverPlacesThatLieFarApart) {
  // A crown of 1 cm and next to no leaves, 40 cm below the lamp: the light at its middle, of a beam that
  // falls to half 8 degrees off, (n + 1) / (2 pi) cos^(n + 1) off / distance^2 of the watts.
  Scene scene = tray();
  const double n = std::log(0.5) / std::log(std::cos(8 * M_PI / 180));
  scene.lamps.clear();
  kit::add_lamp(scene, make_point_emitter(make_cosine_power(8 * M_PI / 180)), {0.2, 0.2, 0.7}, 5);
  Plant& cress = kit::add_plant(scene, {0.2, 0.2, 0.3}, {0.01, 0.01, 0.01}, 1e-6, 1e-3, 1e-3, 0);
  cress.needs = {kit::want(Quantity::irradiance, 1, std::nullopt)};
  const PlaceMap map = map_places(scene, 0, {0.08, {0.1, 0.2}});
  std::size_t figure = 0;
  while (map.field.asks.figures[figure].item != 0) ++figure;  // plants come before points
  for (std::size_t place = 0; place < map.lattice.size(); ++place) {
    const Hang hang = map.lattice.hang(place);
    const Vec3 way(hang.x - 0.2, hang.y - 0.2, 0.3 + hang.gap);
    const double expected =
        5 * (n + 1) / (2 * M_PI) * std::pow(way.z() / way.norm(), n + 1) / way.squaredNorm();
    const Figure& found = map.field.figure(place, figure);
    EXPECT_NEAR(found.value, expected, 0.02 * expected + 5 * found.se + 1e-3)
        << hang.x << " " << hang.y << " " << hang.gap;
  }
}

TEST(PlaceMap, TheSameBitsWhateverTheThreads) {
  Scene scene = tray();
  scene.materials[0].reflectance.setConstant(0.5);
  const PlaceChoice choice{0.05, {0.1, 0.2}};
  const PlaceMap one = map_places(scene, 0, choice, {1, nullptr}),
                 two = map_places(scene, 0, choice, {2, nullptr});
  ASSERT_EQ(one.field.figures.size(), two.field.figures.size());
  for (std::size_t i = 0; i < one.field.figures.size(); ++i) {
    EXPECT_EQ(one.field.figures[i].value, two.field.figures[i].value);
    EXPECT_EQ(one.field.figures[i].se, two.field.figures[i].se);
  }
}

}  // namespace
}  // namespace boughlight
