// Failure cases from one traced response, against scenes that are declared so and traced anew.
#include "assess/failures.h"

#include <gtest/gtest.h>

#include "assess/doubt_kit.h"

namespace boughlight {
namespace {

using Breaks = std::vector<BrokenLimit>;

// A dimmed flood with a filament, an aged UV lamp, two layers of mesh over a grey box with an animal in it.
Scene furnished() {
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 0.8}, kit::add_material(scene, kit::grey(0.4)));
  Material mesh = kit::mesh(0.3e-3, 1.5e-3, 1.5e-3, 0.3);
  mesh.layers = 2;
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, mesh));
  Lamp& flood = kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.2, 0.25, 0.95}, 60);
  const auto fixture = kit::own_fixture(flood);
  fixture->parts[0].filament_k = 2900;
  fixture->parts[0].components = {{Blackbody{2900}, 1}};
  fixture->parts[0].per_watt = integrate_spectrum(fixture->parts[0].components);
  flood.name = "flood";
  flood.dim = 0.5;
  Lamp& tube = kit::add_uv_lamp(scene, make_tube_emitter(0.4, 0.016, nullptr), {0.35, 0.25, 0.9}, 1);
  tube.name = "tube";
  tube.burned_h = 2000;
  kit::own_fixture(tube)->parts[0].ageing = Table({0, 2000}, {1, 0.5}, Between::linear, Beyond::hold);
  kit::add_point(scene, "perch", {0.3, 0.25, 0.5});
  scene.survey.tolerance = 0.005;
  return scene;
}

// The figure that a case reports for a limit that is always broken.
Figure figure_of_case(Scene scene, Quantity quantity, const char* kind, const char* name = "") {
  scene.points[0].wants = {kit::want(quantity, std::nullopt, 1e-12)};
  const Survey survey = kit::doubts_of(scene);
  const Breaks& breaks = kit::failure(survey, kind, name).breaks;
  EXPECT_EQ(breaks.size(), 1u);
  return breaks.at(0).figure;
}

// The same, declared so and traced anew.
Figure traced(Scene scene, Quantity quantity) {
  const Survey survey = kit::doubts_of(std::move(scene));
  return survey.readings[0].values.at(quantity);
}

void expect_same(const Figure& a, const Figure& b, double systematic = 0) {
  EXPECT_NEAR(a.value, b.value, 5 * std::hypot(a.se, b.se) + (systematic + 1e-6) * b.value);
}

TEST(Failure, DimmerAtFullIsTheFilamentsLightAtFull) {
  Scene full = furnished();
  full.lamps[0].dim = 1;
  for (const Quantity quantity : {Quantity::irradiance, Quantity::lux})
    expect_same(figure_of_case(furnished(), quantity, "dimmer-full", "flood"), traced(full, quantity));
  // Light rises faster than heat when a filament gets hotter.
  const double lux = traced(full, Quantity::lux).value / traced(furnished(), Quantity::lux).value;
  EXPECT_GT(lux, 2.5);
}

TEST(Failure, FreshLampIsTheLampAtNoHours) {
  Scene fresh = furnished();
  fresh.lamps[1].burned_h = 0;
  expect_same(figure_of_case(furnished(), Quantity::uvi, "fresh-lamp", "tube"), traced(fresh, Quantity::uvi));
}

TEST(Failure, ALampThatIsOutGivesNothing) {
  Scene without = furnished();
  without.lamps.erase(without.lamps.begin());
  expect_same(figure_of_case(furnished(), Quantity::uvi, "lamp-out", "flood"),
              traced(without, Quantity::uvi));
}

TEST(Failure, AMeshLayerLessIsTracedLightThroughOneLayer) {
  Scene one = furnished();
  one.materials[1].layers = 1;
  // The straight light is exact; what is reflected takes the way in of the straight light, and a layer less
  // scatters less: a few per cent of what the wires send on (measured here, below 2 %).
  expect_same(figure_of_case(furnished(), Quantity::uvi, "mesh-off", "mesh"), traced(one, Quantity::uvi),
              0.03);
  Scene clear = furnished();
  clear.materials[1].reflectance.setZero();
  Scene clear_one = clear;
  clear_one.materials[1].layers = 1;
  // Black wires scatter nothing, so all of this is the light that walls reflect: it came in at a slant, where
  // a layer takes more than of the straight light (measured here, 2.3 % of the figure).
  expect_same(figure_of_case(clear, Quantity::uvi, "mesh-off", "mesh"), traced(clear_one, Quantity::uvi),
              0.03);
}

TEST(Failure, DustIsAFactorOnEveryLayer) {
  Scene dusty = furnished();
  dusty.materials[1].reflectance.setZero();
  const Scene clean = dusty;
  // `soiling` is one factor for all layers; the case's dust lies on both.
  dusty.materials[1].soiling = kDustyMesh * kDustyMesh;
  expect_same(figure_of_case(clean, Quantity::uvi, "dusty-mesh"), traced(dusty, Quantity::uvi), 0.01);
}

TEST(Failure, DustDimsTheRoomsLightToo) {
  Scene dusty = furnished();
  dusty.materials[1].reflectance.setZero();
  for (Lamp& lamp : dusty.lamps) lamp.dim = 0;
  kit::add_room(dusty, 2);
  const Scene clean = dusty;
  dusty.materials[1].soiling = kDustyMesh * kDustyMesh;
  // It comes in through both layers; at a slant as many. (Measured here, 0.3 %.)
  expect_same(figure_of_case(clean, Quantity::lux, "dusty-mesh"), traced(dusty, Quantity::lux), 0.01);
  Scene one = clean;
  one.materials[1].layers = 1;
  expect_same(figure_of_case(clean, Quantity::lux, "mesh-off", "mesh"), traced(one, Quantity::lux), 0.03);
}

TEST(Failure, TellsWhatBreaksWithItsLimitAndWhatWasBrokenBefore) {
  Scene scene = furnished();
  const double lux = traced(scene, Quantity::lux).value, uvi = traced(scene, Quantity::uvi).value;
  scene.points[0].wants = {kit::want(Quantity::lux, std::nullopt, 1.5 * lux),
                           kit::want(Quantity::uvi, 0.5 * uvi, std::nullopt),
                           kit::want(Quantity::irradiance, std::nullopt, 1e-3)};
  const Survey survey = kit::doubts_of(scene);
  const Breaks& full = kit::failure(survey, "dimmer-full", "flood").breaks;
  ASSERT_EQ(full.size(), 2u);
  EXPECT_EQ(full[0].reading, "perch");
  EXPECT_EQ(full[0].quantity, Quantity::lux);
  EXPECT_EQ(full[0].verdict, Verdict::above);
  EXPECT_DOUBLE_EQ(full[0].limit, 1.5 * lux);
  EXPECT_FALSE(full[0].already);
  EXPECT_EQ(full[1].quantity, Quantity::irradiance);
  EXPECT_TRUE(full[1].already) << "broken as declared too: comes last";
  const Breaks& out = kit::failure(survey, "lamp-out", "tube").breaks;
  ASSERT_EQ(out.size(), 2u);
  EXPECT_EQ(out[0].verdict, Verdict::below);
  EXPECT_DOUBLE_EQ(out[0].limit, 0.5 * uvi);
  EXPECT_LT(out[0].figure.value, 0.01 * uvi) << "the filament's own";
}

TEST(Failure, TooMuchAsDeclaredAndTooLittleThenIsTold) {
  Scene scene = furnished();
  const double uvi = traced(scene, Quantity::uvi).value;
  scene.points[0].wants = {kit::want(Quantity::uvi, 0.5 * uvi, 0.8 * uvi)};
  const Survey survey = kit::doubts_of(scene);
  const Breaks& out = kit::failure(survey, "lamp-out", "tube").breaks;
  ASSERT_EQ(out.size(), 1u);
  EXPECT_EQ(out[0].verdict, Verdict::below);
  EXPECT_FALSE(out[0].already) << "what is broken as declared is the other limit";
}

TEST(FailureSlow, JudgesTheClosestPlaceAndPutsItFirst) {
  Scene scene = furnished();
  scene.animal = Animal{};
  scene.animal->reach = 0.04;
  scene.survey.tolerance = 0.02;
  const Survey declared = kit::doubts_of(scene);
  const double hottest = declared.hottest->irradiance.figure.value;
  scene.animal->never = {kit::want(Quantity::irradiance, std::nullopt, 1.3 * hottest)};
  scene.points[0].wants = {kit::want(Quantity::uvi, 1e-6, std::nullopt)};
  const Survey survey = kit::doubts_of(scene);
  ASSERT_EQ(survey.hottest->irradiance.verdict, Verdict::met);
  ASSERT_TRUE(survey.hottest->irradiance.firm);
  const FailureCase& first = survey.doubt.failures.front();
  EXPECT_TRUE(first.kind == "dimmer-full" || first.kind == "mesh-off") << first.kind;
  ASSERT_FALSE(first.breaks.empty());
  EXPECT_EQ(first.breaks[0].reading, "");
  EXPECT_EQ(first.breaks[0].quantity, Quantity::irradiance);
  const FailureCase& full = kit::failure(survey, "dimmer-full", "flood");
  const Figure& at_full = survey.hottest->irradiance_at_full.figure;
  ASSERT_FALSE(full.breaks.empty());
  EXPECT_GE(full.breaks[0].figure.value, at_full.value * (1 - 1e-6))
      << "the place found with every dimmer at full is one of those looked at";
  EXPECT_NEAR(full.breaks[0].figure.value, at_full.value, 0.05 * at_full.value)
      << "found within 2 %, known to 2 % each";
}

TEST(Failure, HoldsTheAirsTemperatureAndEverySourcesIrradiance) {
  Scene scene = furnished();
  scene.air = Air{};
  scene.air->hot_c = 31;
  scene.air->cold_c = 15;
  scene.points[0].wants = {kit::want(Quantity::uvi, 1e-6, std::nullopt)};
  const Survey survey = kit::doubts_of(scene);
  const FailureCase& hot = kit::failure(survey, "hot-room");
  EXPECT_EQ(hot.air_c, 31);
  EXPECT_TRUE(hot.breaks.empty()) << "nothing of the light changes";
  EXPECT_EQ(kit::failure(survey, "cold-morning").air_c, 15);
  const auto& declared = survey.readings[0].by_lamp;
  for (std::size_t lamp = 0; lamp < 2; ++lamp) {
    const double own = declared.at(scene.lamps[lamp].name).at(Quantity::irradiance);
    EXPECT_NEAR(hot.irradiance_w_m2.at(0).at(lamp), own, 1e-6 * own);
  }
  const FailureCase& full = kit::failure(survey, "dimmer-full", "flood");
  EXPECT_FALSE(full.air_c);
  EXPECT_NEAR(full.irradiance_w_m2[0][0], 2 * hot.irradiance_w_m2[0][0], 0.1 * full.irradiance_w_m2[0][0])
      << "half the watts, nearly half the irradiance behind a mesh of nearly the same reflectance";
  EXPECT_EQ(kit::failure(survey, "lamp-out", "tube").irradiance_w_m2[0][1], 0);
}

TEST(Failure, LeavesOutWhatIsNotThere) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 1.2}, 100);
  kit::add_point(scene, "here", {0.5, 0.5, 0.7});
  std::vector<std::string> kinds;
  for (const FailureCase& about : kit::doubts_of(scene).doubt.failures) kinds.push_back(about.kind);
  EXPECT_EQ(kinds, std::vector<std::string>{"lamp-out"}) << "no dimmer, no age, no mesh, no air";
}

}  // namespace
}  // namespace boughlight
