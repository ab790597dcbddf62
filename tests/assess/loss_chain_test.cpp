// The chain of losses, term by term against closed forms.
#include "assess/loss_chain.h"

#include <numbers>

#include "assess/doubt_kit.h"

namespace boughlight {
namespace {

using std::numbers::pi;

// Six digits of single precision on the rays.
constexpr double kSingle = 1e-5;
const std::vector<std::string_view> kNames = {"age",  "dimmer", "distance_and_shape",  "slant",
                                              "mesh", "panes",  "leaves_and_branches", "reflection_gained"};

Scene point_over_open_box() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  Lamp& lamp = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 1.2}, 100);
  kit::own_fixture(lamp)->parts[0].anchor_m = 0.25;
  return scene;
}

LossChain chain_at(const Scene& scene, const Vec3& at, Quantity quantity = Quantity::lux) {
  Scene with = scene;
  kit::add_point(with, "here", at).wants = {kit::want(quantity, std::nullopt, 1e9)};
  const Survey survey = kit::doubts_of(with);
  for (const LossChain& chain : survey.doubt.readings.front().chains)
    if (chain.quantity == quantity) {
      const double reading = survey.readings.front().by_lamp.at(chain.lamp).at(quantity);
      // Responses are single precision; the two add them up in another order.
      EXPECT_NEAR(chain.value, reading, 1e-7 * reading);
      EXPECT_NEAR(kit::product(chain), reading, 1e-7 * reading) << "the product is the reading";
      EXPECT_NEAR(kit::product(chain), chain.value, 1e-12 * reading);
      return chain;
    }
  ADD_FAILURE() << "no chain";
  return {};
}

TEST(LossChain, InFreeAirIsInverseSquareAndCosineByHand) {
  Scene scene = point_over_open_box();
  scene.lamps[0].dim = 0.5;
  scene.lamps[0].burned_h = 1000;
  kit::own_fixture(scene.lamps[0])->parts[0].ageing =
      Table({0, 2000}, {1, 0.6}, Between::linear, Beyond::hold);
  // 0.3 m aside, 0.4 m under: 0.5 m away, cosine 0.8.
  const LossChain chain = chain_at(scene, {0.8, 0.5, 0.8});
  const double lumens_per_watt = scene.lamps[0].fixture->parts[0].per_watt.total(Quantity::lux);
  EXPECT_TRUE(chain.declared);
  EXPECT_EQ(chain.start_m, 0.25);
  const double start = 100 * lumens_per_watt / (4 * pi * 0.25 * 0.25);
  EXPECT_NEAR(chain.start, start, kSingle * start);
  EXPECT_NEAR(kit::factor(chain, "age"), 0.8, kSingle);
  EXPECT_NEAR(kit::factor(chain, "dimmer"), 0.5, kSingle);
  EXPECT_NEAR(kit::factor(chain, "distance_and_shape"), 0.25, kSingle) << "(0.25 / 0.5)^2";
  EXPECT_NEAR(kit::factor(chain, "slant"), 0.8, kSingle);
  for (const char* none : {"mesh", "panes", "leaves_and_branches", "reflection_gained"})
    EXPECT_NEAR(kit::factor(chain, none), 1, kSingle) << none;
  std::vector<std::string_view> names;
  for (const Loss& loss : chain.losses) names.push_back(loss.name);
  EXPECT_EQ(names, kNames);
}

TEST(LossChain, WithoutAnAnchorStartsAtThirtyCentimetres) {
  Scene scene = point_over_open_box();
  kit::own_fixture(scene.lamps[0])->parts[0].anchor_m.reset();
  const LossChain chain = chain_at(scene, {0.5, 0.5, 0.6});
  EXPECT_FALSE(chain.declared);
  EXPECT_EQ(chain.start_m, 0.3);
  EXPECT_NEAR(kit::factor(chain, "distance_and_shape"), 0.25, kSingle);
}

TEST(LossChain, OfALampDarkOnItsAxisStartsAtTheReading) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_intensity_table({0.3, 0.6, 1.5}, {0, 1, 1})), {0.5, 0.5, 1.2},
                100);
  const LossChain chain = chain_at(scene, {0.9, 0.5, 0.8});
  EXPECT_FALSE(chain.declared);
  EXPECT_NEAR(chain.start_m, std::sqrt(0.32), 1e-9);
  EXPECT_NEAR(kit::factor(chain, "distance_and_shape"), 1, kSingle);
  EXPECT_NEAR(kit::factor(chain, "slant"), std::sqrt(0.5), kSingle);
}

TEST(LossChain, MeshIsTheClosedFormAndPaneTheDataSheet) {
  Scene scene = point_over_open_box();
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.28e-3, 1.41e-3, 1.59e-3, 0)));
  // 45 degrees along x: T = (1 - d / pu sqrt 2) (1 - d / pv).
  const LossChain slanted = chain_at(scene, {0.8, 0.5, 0.9});
  EXPECT_NEAR(kit::factor(slanted, "mesh"), (1 - 0.28 / 1.41 * std::sqrt(2.0)) * (1 - 0.28 / 1.59), kSingle);
  EXPECT_NEAR(kit::factor(slanted, "panes"), 1, kSingle);
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::pane(0.8)));
  const LossChain straight = chain_at(scene, {0.5, 0.5, 0.9});
  EXPECT_NEAR(kit::factor(straight, "panes"), 0.8, kSingle);
  EXPECT_NEAR(kit::factor(straight, "mesh"), 1, kSingle);
}

TEST(LossChain, SaysWhereNothingComesStraight) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, kit::add_material(scene, kit::grey(0.6)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 100);
  Board board;
  board.name = "shade";
  board.corner = {0.2, 0.2, 0.6};
  board.edge_u = {0.6, 0, 0};
  board.edge_v = {0, 0.6, 0};
  board.material = 0;
  scene.boards.push_back(board);
  kit::add_point(scene, "below", {0.5, 0.5, 0.4}).wants = {kit::want(Quantity::lux, std::nullopt, 1e9)};
  const Survey survey = kit::doubts_of(scene);
  const LossChain& chain = survey.doubt.readings.front().chains.back();
  ASSERT_TRUE(kit::factor(chain, "leaves_and_branches") == 0);
  EXPECT_TRUE(std::isnan(kit::factor(chain, "reflection_gained"))) << "there is no such factor";
  EXPECT_GT(chain.value, 0);
  EXPECT_DOUBLE_EQ(chain.reflected, chain.value);
}

TEST(LossChain, ReflectionGainedIsTheWholeOverWhatComesStraight) {
  // White walls: much more than what comes straight; the board of the last test away.
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, kit::add_material(scene, kit::grey(0.6)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 100);
  const LossChain chain = chain_at(scene, {0.5, 0.5, 0.4});
  EXPECT_NEAR(kit::factor(chain, "leaves_and_branches"), 1, kSingle);
  const double straight = chain.start * kit::factor(chain, "distance_and_shape");
  EXPECT_NEAR(kit::factor(chain, "reflection_gained"), chain.value / straight, 1e-4);
  EXPECT_GT(kit::factor(chain, "reflection_gained"), 1.1);
}

TEST(LossChain, MirroredLightIsGainedNotALeaf) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::set_face(scene.boxes[0], Side::left, kit::add_material(scene, kit::pane(0.9)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.05, 0.5, 0.9}, 100);
  const LossChain chain = chain_at(scene, {0.05, 0.5, 0.5});
  EXPECT_NEAR(kit::factor(chain, "leaves_and_branches"), 1, 1e-4);
  EXPECT_GT(kit::factor(chain, "reflection_gained"), 1.03);
}

TEST(LossChain, IsMadeForTheLampsThatCount) {
  Scene scene = point_over_open_box();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.4, 0.5, 1.2}, 50);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.6, 0.5, 1.2}, 1);
  kit::add_point(scene, "with a want", {0.5, 0.5, 0.5}).wants = {kit::want(Quantity::lux, 1, std::nullopt)};
  kit::add_point(scene, "without", {0.5, 0.5, 0.5});
  const Survey survey = kit::doubts_of(scene);
  std::vector<std::string> lux_lamps;
  for (const LossChain& chain : survey.doubt.readings[0].chains) {
    EXPECT_NE(chain.quantity, Quantity::uvi) << "there is none";
    if (chain.quantity == Quantity::lux) lux_lamps.push_back(chain.lamp);
  }
  EXPECT_EQ(lux_lamps, (std::vector<std::string>{"lamp 1", "lamp 2"})) << "1 % is left out; greatest first";
  EXPECT_TRUE(survey.doubt.readings[1].chains.empty());
}

}  // namespace
}  // namespace boughlight
