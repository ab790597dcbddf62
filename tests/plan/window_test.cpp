// The window of gap, depth and output, against closed forms and against surveys of scenes built so.
#include "plan/window.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey_kit.h"
#include "scene/load.h"

namespace boughlight {
namespace {

constexpr double kShaftWatts = 10;

// An open black box of 40 x 40 x 80 cm; a perch 30 cm below its top's middle, the lamp 20 cm above it. The
// perch looks up, and nothing but the lamp's straight light is there.
Scene shaft() {
  Scene scene;
  const int black = kit::add_material(scene, kit::grey(0));
  Box& box = kit::add_box(scene, {0.4, 0.4, 0.8}, black);
  kit::set_face(box, Side::top, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 1.0}, kShaftWatts);
  Perch perch;
  perch.name = "stick end";
  perch.at = {0.2, 0.2, 0.5};
  perch.facing.brightest = false;
  perch.wants = {kit::want(Quantity::irradiance, 2, 4)};
  scene.perches.push_back(perch);
  return scene;
}

double irradiance(double gap, double depth) {
  return kShaftWatts / (4 * M_PI * (gap + depth) * (gap + depth));
}

TEST(Window, UnderAPointLampItIsWhatTheInverseSquareLawSays) {
  const Window window = find_window(shaft(), 0, {});
  const FigureField& field = window.field;
  ASSERT_EQ(field.asks.asks.size(), 2u);
  EXPECT_NEAR(window.now[0], 0.2, 1e-9);
  EXPECT_NEAR(window.now[1], 0.3, 1e-9);
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    const std::array<std::size_t, 3> at = field.index(choice);
    const double expected = field.axes[2][at[2]] * irradiance(field.axes[0][at[0]], field.axes[1][at[1]]);
    ASSERT_NEAR(field.figure(choice, 0).value, expected, 2e-5 * expected);
    if (std::abs(expected - 2) < 1e-4 || std::abs(expected - 4) < 1e-4) continue;
    EXPECT_EQ(window.region.states[choice],
              expected > 2 && expected < 4 ? ChoiceState::allowed : ChoiceState::refused);
  }
}

TEST(Window, TheWeakestAndTheStrongestLampGiveJustTheLimits) {
  const Window window = find_window(shaft(), 0, {});
  ASSERT_TRUE(window.as_it_is.has_value());
  ASSERT_TRUE(window.as_it_is->least.has_value());
  // Light is linear in the output, so that the ends are exact: 2 and 4 W/m2.
  const double declared = irradiance(0.2, 0.3);
  EXPECT_NEAR(*window.as_it_is->least, 2 / declared, 1e-4 * 2 / declared);
  EXPECT_NEAR(*window.as_it_is->most, 4 / declared, 1e-4 * 4 / declared);
  EXPECT_EQ(window.as_it_is->below, 0u);
  EXPECT_EQ(window.as_it_is->above, 1u);
  for (const OutputRange& range : window.by_gap) {
    const double here = irradiance(range.gap, 0.3);
    if (2 / here > 3.9 || 4 / here < 0.26) continue;
    ASSERT_TRUE(range.least.has_value()) << range.gap;
    EXPECT_NEAR(*range.least, std::max(0.25, 2 / here), 2e-4 * 2 / here);
    EXPECT_NEAR(*range.most, std::min(4.0, 4 / here), 2e-4 * 4 / here);
  }
}

TEST(Window, TargetAtTheBackAndLimitAtTheTopExcludeEachOtherWhereTheGapIsSmall) {
  // The back 30 cm below the top may want UVI 2, the top may not exceed 4 at 3 cm below it: with the lamp
  // right above both, that is ((gap + 30) / (gap + 3))^2 <= 2 only from a gap of 62.2 cm on.
  Scene scene;
  const int black = kit::add_material(scene, kit::grey(0));
  Box& box = kit::add_box(scene, {0.4, 0.4, 0.8}, black);
  kit::set_face(box, Side::top, -1);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 1.0},
                   kit::watts_for_uvi_at_a_metre(2));
  Perch perch;
  perch.name = "stick end";
  perch.at = {0.2, 0.2, 0.5};
  perch.facing.brightest = false;
  perch.wants = {kit::want(Quantity::uvi, 2, std::nullopt)};
  scene.perches.push_back(perch);
  scene.animal.emplace();
  scene.animal->reach = 0.03;
  scene.animal->reach_given = true;
  scene.animal->never = {kit::want(Quantity::uvi, std::nullopt, 4)};
  WindowChoice choice;
  choice.depths = {0.3, 0.32};
  choice.gaps = {0.1, 0.2, 0.3, 0.5};
  const Window none = find_window(scene, 0, choice);
  EXPECT_EQ(none.region.allowed, 0u);
  ASSERT_EQ(none.region.conflicts.size(), 1u);
  EXPECT_EQ(none.region.conflicts[0].size(), 2u) << "target and limit, neither impossible by itself";
  EXPECT_FALSE(none.best.has_value());
  EXPECT_FALSE(none.region.openings.empty());
  choice.gaps = {0.5, 0.7, 0.8};
  const Window open = find_window(scene, 0, choice);
  EXPECT_GT(open.region.allowed, 0u);
  for (std::size_t i = 0; i < open.field.size(); ++i) {
    if (open.region.states[i] != ChoiceState::allowed) continue;
    EXPECT_GT(open.field.axes[0][open.field.index(i)[0]], 0.6);
  }
}

TEST(Window, ABranchMovesWithItsPerchesAndStaysInside) {
  Scene scene = shaft();
  scene.branches.push_back({"bough", {{0.05, 0.2, 0.45}, {0.35, 0.2, 0.45}}, 0.02, 0});
  scene.branches.push_back({"low bough", {{0.05, 0.3, 0.2}, {0.35, 0.3, 0.2}}, 0.02, 0});
  scene.perches[0].at = {0.2, 0.2, 0.46};
  scene.perches.push_back(scene.perches[0]);
  scene.perches[1].name = "its end", scene.perches[1].at = {0.3, 0.2, 0.46};
  scene.perches.push_back(scene.perches[0]);
  scene.perches[2].name = "elsewhere", scene.perches[2].at = {0.2, 0.3, 0.21};
  scene.animal.emplace();
  scene.animal->back = 0.04, scene.animal->reach = 0.02;
  const Top top = top_of(scene);
  const PerchSeat seat = seat_of(scene, 0);
  EXPECT_EQ(seat.name, "bough");
  EXPECT_EQ(seat.perches, (std::vector<std::size_t>{0, 1}));
  EXPECT_NEAR(depth_of(scene, 0, top), 0.8 - 0.5, 1e-12);
  // Down until the branch lies on the floor, up until the backs are the reach below the top.
  const auto [down, up] = room_to_move(scene, seat, top);
  EXPECT_NEAR(down, -(0.45 - 0.01), 1e-12);
  EXPECT_NEAR(up, 0.8 - 0.02 - 0.5, 1e-12);
  const Scene moved = with_seat_moved(scene, seat, -0.1);
  EXPECT_NEAR(moved.branches[0].path[1].z(), 0.35, 1e-12);
  EXPECT_NEAR(moved.perches[1].at.z(), 0.36, 1e-12);
  EXPECT_EQ(moved.perches[2].at, scene.perches[2].at);
  EXPECT_EQ(moved.branches[1].path, scene.branches[1].path);
}

TEST(Window, IsForThePerchWithTheHighestWantedUvIndexWhereTheLampHasAny) {
  Scene scene = shaft();
  scene.perches.push_back(scene.perches[0]);
  scene.perches[1].wants = {kit::want(Quantity::uvi, 1, 2)};
  scene.perches.push_back(scene.perches[0]);
  scene.perches[2].wants = {kit::want(Quantity::uvi, 3, 4)};
  EXPECT_EQ(perch_for(scene, 0), 0u) << "visible light alone";
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.3, 0.9}, 1);
  EXPECT_EQ(perch_for(scene, 1), 2u);
  scene.perches.clear();
  EXPECT_FALSE(perch_for(scene, 1).has_value());
}

TEST(Window, ALampIsToldByWhatItsFixtureStates) {
  const Scene scene = load_scene(BOUGHLIGHT_SOURCE_DIR "/scenes/fern-tower.yaml");
  const std::vector<LampReading> tube = lamp_readings(scene.lamps[0]);
  ASSERT_FALSE(tube.empty());
  EXPECT_EQ(tube[0].quantity, Quantity::uvi);
  EXPECT_NEAR(tube[0].distance, 0.3, 1e-9);
  // fixtures/lamps/tube-uv-55.yaml states UVI 4.0 at 30 cm for its ultraviolet part; the tail of its visible
  // part adds less than a thousandth.
  EXPECT_GE(tube[0].value, 4.0);
  EXPECT_LT(tube[0].value, 4.004);
  const std::vector<LampReading> panel = lamp_readings(scene.lamps[2]);
  EXPECT_EQ(panel[0].quantity, Quantity::lux) << "no ultraviolet to tell it by";
}

// The scene as one choice of the window has it, surveyed as a whole.
Survey surveyed(const Scene& scene, const Window& window, std::size_t choice) {
  const std::array<std::size_t, 3> at = window.field.index(choice);
  const double gap = window.field.axes[0][at[0]], depth = window.field.axes[1][at[1]],
               output = window.field.axes[2][at[2]];
  Scene built = with_seat_moved(scene, window.seat, window.now[1] - depth);
  Lamp& lamp = built.lamps[window.lamp];
  lamp = hung(lamp, window.top, {lamp.at.x(), lamp.at.y(), gap});
  auto stronger = std::make_shared<Fixture>(*lamp.fixture);
  for (LampPart& part : stronger->parts) part.radiant_flux_w *= output;
  lamp.fixture = stronger;
  return run_survey(built);
}

TEST(WindowSlow, AgreesWithDirectSurveysWithTheBranchMoved) {
  Scene scene = load_scene(BOUGHLIGHT_SOURCE_DIR "/scenes/small-shelf.yaml");
  scene.survey.tolerance = 0.05;
  scene.survey.spacing = 0.1;
  WindowChoice choice;
  choice.gaps = {0.08, 0.16, 0.3};
  choice.depths = {0.12, 0.19, 0.25};
  const Window window = find_window(scene, 0, choice);
  ASSERT_EQ(window.seat.name, "twig");
  const Asks& asks = window.field.asks;
  std::size_t compared = 0;
  constexpr std::size_t kChoices = 10;
  for (std::size_t i = 0; i < kChoices; ++i) {
    const std::size_t one = (i * 61 + 5) % window.field.size();
    const Survey survey = surveyed(scene, window, one);
    for (std::size_t f = 0; f < asks.figures.size(); ++f) {
      const FigureKey& key = asks.figures[f];
      const Figure& found = window.field.figure(one, f);
      const Figure truth = key.kind == FigureKind::reading ? survey.readings[key.item].values.at(key.quantity)
                           : key.kind == FigureKind::reach ? survey.hottest->uvi.figure
                                                           : survey.zones.at(key.zone).volume;
      // 40 comparisons, 1 in 1000 in all, t of about 30 degrees of freedom: 5. Both searches for the greatest
      // within reach end within 2 % of it; fractions are asked to 0.01, and straight lines between five
      // outputs cut the corners of a share that is 1 below an output and falls above it by as much again.
      double allowed = 5 * std::hypot(found.se, truth.se);
      if (key.kind == FigureKind::reach) allowed += 0.02 * truth.value;
      if (key.kind == FigureKind::share) allowed += 0.05;
      EXPECT_NEAR(found.value, truth.value, allowed) << "figure " << f << " of choice " << one;
      ++compared;
    }
  }
  EXPECT_EQ(compared, kChoices * asks.figures.size());
}

}  // namespace
}  // namespace boughlight
