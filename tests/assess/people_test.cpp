#include <gtest/gtest.h>

#include <cmath>

#include "assess/day.h"
#include "assess/exposure.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

// A closed black box with a point of ultraviolet of 302 nm in its middle; a keeper 30 cm off, outside the
// front.
Scene dark_box() {
  Scene scene;
  kit::add_box(scene, {0.6, 0.4, 0.6}, kit::add_material(scene, kit::grey(0)));
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.2, 0.3}, 0.01);
  Workplace place;
  place.name = "feeding";
  place.at = {0.3, -0.1, 0.3};
  place.hours_a_day = 0.25;
  scene.workplaces = {place};
  scene.survey.tolerance = 0.05;
  return scene;
}

WorkplaceFindings only(Scene scene) {
  kit::Stage stage(std::move(scene));
  return read_workplaces(stage.setting()).at(0);
}

TEST(Workplace, BehindAShutDoorIsDark) {
  const WorkplaceFindings found = only(dark_box());
  EXPECT_EQ(found.actinic.value, 0);
  EXPECT_FALSE(found.skin_minutes);
  EXPECT_FALSE(found.eye_minutes);
  EXPECT_EQ(found.skin_share, 0);
}

TEST(Workplace, WithTheDoorOpenGetsTheInverseSquare) {
  Scene scene = dark_box();
  scene.workplaces[0].open = {{0, Side::front}};
  const WorkplaceFindings found = only(scene);
  // 10 mW over a sphere of 30 cm, on a sensor that faces the lamp.
  const double irradiance = 0.01 / (4 * 3.14159265358979 * 0.09);
  const double actinic = irradiance * weighting(Quantity::actinic).at(kit::kUvNm);
  EXPECT_GT(found.direction.y(), 1 - 1e-6);
  EXPECT_NEAR(found.actinic.value, actinic, 1e-4 * actinic);
  EXPECT_NEAR(found.uva.value, 0, 1e-12);
  ASSERT_TRUE(found.skin_minutes);
  EXPECT_NEAR(*found.skin_minutes, 30 / actinic / 60, 1e-3 * *found.skin_minutes);
  EXPECT_NEAR(found.skin_share, actinic * 900 / 30, 1e-3 * found.skin_share);
  EXPECT_FALSE(found.eye_minutes);
}

TEST(Workplace, PlacesWithOtherDoorsAreReadApartAndInOrder) {
  Scene scene = dark_box();
  Workplace shut = scene.workplaces[0], open = shut, back = shut;
  open.open = {{0, Side::front}};
  back.open = {{0, Side::back}};
  scene.workplaces = {shut, open, back, open};
  kit::Stage stage(std::move(scene));
  const auto people = read_workplaces(stage.setting());
  ASSERT_EQ(people.size(), 4u);
  for (std::size_t i = 0; i < people.size(); ++i) EXPECT_EQ(people[i].workplace, i);
  EXPECT_EQ(people[0].actinic.value, 0);
  EXPECT_GT(people[1].actinic.value, 0);
  EXPECT_EQ(people[2].actinic.value, 0);
  EXPECT_NEAR(people[3].actinic.value, people[1].actinic.value, 1e-4 * people[1].actinic.value);
}

TEST(Workplace, RoomLightIsNotCounted) {
  Scene scene = dark_box();
  kit::add_room(scene, 5, 350);
  EXPECT_EQ(only(scene).uva.value, 0);
}

TEST(ExposureLimits, AreReachedWithinEightHoursOrNot) {
  // ICNIRP 2004: 30 J/m2 in 8 h is a steady 1.04 mW/m2, 1e4 J/m2 a steady 0.3472 W/m2.
  EXPECT_FALSE(actinic_limit_seconds(0));
  EXPECT_FALSE(actinic_limit_seconds(30.0 / 28800));
  EXPECT_NEAR(*actinic_limit_seconds(0.0011), 27273, 1);
  EXPECT_NEAR(*actinic_limit_seconds(0.5), 60, 1e-9);
  EXPECT_FALSE(eye_uva_limit_seconds(0.347));
  EXPECT_NEAR(*eye_uva_limit_seconds(10), 1000, 1e-9);
}

}  // namespace
}  // namespace boughlight
