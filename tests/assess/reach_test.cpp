#include <gtest/gtest.h>

#include "assess/perchable.h"
#include "assess/reachable.h"
#include "assess/survey_kit.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

Scene with_animal(double back, double reach) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, kit::add_material(scene, kit::grey(0)));
  Animal animal;
  animal.back = back;
  animal.reach = reach;
  scene.animal = animal;
  return scene;
}

TEST(Perchable, LevelBranchHasBacksStraightAbove) {
  Scene scene = with_animal(0.05, 0.03);
  scene.branches.push_back({"bough", {{0.2, 0.5, 0.5}, {0.8, 0.5, 0.5}}, 0.04, 0});
  const auto places = perchable_places(scene, 0.1);
  ASSERT_EQ(places.size(), 6u);
  double length = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    length += places[i].length;
    EXPECT_LT((places[i].back - Vec3(0.25 + 0.1 * static_cast<double>(i), 0.5, 0.57)).norm(), 1e-9);
    EXPECT_EQ(places[i].on, "bough");
  }
  EXPECT_NEAR(length, 0.6, 1e-9);
}

TEST(Perchable, SlopingBranchHasBacksOnTheSideNearestUp) {
  Scene scene = with_animal(0.03, 0.03);
  scene.branches.push_back({"slope", {{0.2, 0.5, 0.2}, {0.6, 0.5, 0.6}}, 0.02, 0});
  for (const PerchablePlace& place : perchable_places(scene, 0.05)) {
    EXPECT_NEAR(scene.branches[0].signed_distance(place.back), 0.03, 1e-9);
    EXPECT_NEAR(place.back.y(), 0.5, 1e-12);
    EXPECT_GT(place.back.z(), place.back.x()) << "above it, not below";
  }
}

TEST(Perchable, UprightBranchIsReadFromTheFront) {
  Scene scene = with_animal(0.05, 0.03);
  scene.branches.push_back({"trunk", {{0.5, 0.5, 0.1}, {0.5, 0.5, 0.9}}, 0.06, 0});
  const auto places = perchable_places(scene, 0.1);
  ASSERT_EQ(places.size(), 8u);
  for (const PerchablePlace& place : places) {
    EXPECT_NEAR(place.back.y(), 0.42, 1e-9);
    EXPECT_NEAR(place.back.x(), 0.5, 1e-9);
  }
}

TEST(Perchable, BoardIsSteppedAlongItsLongestEdgeThroughItsMiddle) {
  // The same board with its edges in any order and sense: backs are above it.
  for (const int turn : {0, 1, 2}) {
    Scene scene = with_animal(0.05, 0.03);
    Board board{"ledge", {0.1, 0.4, 0.6}, {0.5, 0, 0}, {0, 0.2, 0}, 0};
    if (turn == 1) std::swap(board.edge_u, board.edge_v);
    if (turn == 2) board.corner = {0.6, 0.4, 0.6}, board.edge_u = {-0.5, 0, 0};
    scene.boards.push_back(board);
    const auto places = perchable_places(scene, 0.1);
    ASSERT_EQ(places.size(), 5u);
    for (const PerchablePlace& place : places) {
      EXPECT_NEAR(place.back.y(), 0.5, 1e-9);
      EXPECT_NEAR(place.back.z(), 0.65, 1e-9) << "order " << turn;
      EXPECT_NEAR(place.length, 0.1, 1e-9);
    }
  }
}

TEST(Perchable, PlacesOutsideOrInsideABranchAreLeftOut) {
  Scene scene = with_animal(0.05, 0.03);
  scene.branches.push_back({"under the roof", {{0.2, 0.2, 0.96}, {0.8, 0.2, 0.96}}, 0.02, 0});
  EXPECT_TRUE(perchable_places(scene, 0.1).empty()) << "no room for a back";
  scene.branches.push_back({"low", {{0.1, 0.5, 0.5}, {0.9, 0.5, 0.5}}, 0.02, 0});
  scene.branches.push_back({"thick, over it", {{0.5, 0.1, 0.58}, {0.5, 0.9, 0.58}}, 0.14, 0});
  int on_low = 0;
  for (const PerchablePlace& place : perchable_places(scene, 0.1)) {
    EXPECT_FALSE(scene.inside_solid(place.back));
    EXPECT_TRUE(scene.inside(place.back));
    on_low += place.on == "low";
  }
  EXPECT_GT(on_low, 4);
  EXPECT_LT(on_low, 8);
}

TEST(Reachable, KeepsItsDistanceFromWallsOpenFacesAndLamps) {
  Scene scene = with_animal(0, 0.03);
  kit::set_face(scene.boxes[0], Side::front, -1);
  kit::add_lamp(scene, make_sphere_emitter(0.1, nullptr), {0.5, 0.5, 0.5});
  const Reachable reachable(scene);
  EXPECT_TRUE(reachable.contains({0.031, 0.5, 0.2}));
  EXPECT_FALSE(reachable.contains({0.029, 0.5, 0.2}));
  EXPECT_FALSE(reachable.contains({0.5, 0.029, 0.2})) << "an open face keeps its distance too";
  EXPECT_FALSE(reachable.contains({0.5, 0.5, 0.971}));
  EXPECT_FALSE(reachable.contains({1.5, 0.5, 0.5})) << "outside";
  EXPECT_FALSE(reachable.contains({0.579, 0.5, 0.5}));
  EXPECT_TRUE(reachable.contains({0.581, 0.5, 0.5}));
  EXPECT_FALSE(reachable.contains({0.5, 0.5, 0.5})) << "inside the lamp";
}

TEST(Reachable, LeavesDoNotBarButBranchesDo) {
  Scene scene = with_animal(0, 0.03);
  scene.branches.push_back({"bough", {{0.2, 0.5, 0.5}, {0.8, 0.5, 0.5}}, 0.1, 0});
  Plant plant;
  plant.name = "bush";
  plant.crown_centre = {0.5, 0.2, 0.2};
  plant.radii = {0.1, 0.1, 0.1};
  scene.plants.push_back(plant);
  const Reachable reachable(scene);
  EXPECT_FALSE(reachable.contains({0.5, 0.52, 0.5}));
  EXPECT_TRUE(reachable.contains({0.5, 0.551, 0.5})) << "on its surface";
  EXPECT_TRUE(reachable.contains({0.5, 0.2, 0.2}));
}

TEST(Reachable, ClosedModelsAndBodiesOfLampsBarButOpenModelsDoNot) {
  Scene scene = with_animal(0, 0.05);
  const kit::Surface ball = kit::ball_surface(0.2, 3).turned(Eigen::Matrix3d::Identity(), {0.5, 0.5, 0.5});
  kit::add_model(scene, ball, 0);
  EXPECT_FALSE(Reachable(scene).contains({0.55, 0.5, 0.6}));
  EXPECT_TRUE(Reachable(scene).contains({0.55, 0.5, 0.75}));
  for (const Vec3& start : Reachable(scene).starts(0.05))
    EXPECT_GE((start - Vec3(0.5, 0.5, 0.5)).norm(), 0.19);
  scene.branches.push_back({"bough", {{0.2, 0.5, 0.5}, {0.8, 0.5, 0.5}}, 0.02, 0});
  for (const PerchablePlace& place : perchable_places(scene, 0.05))
    EXPECT_GE(std::abs(place.back.x() - 0.5), 0.19) << "the branch runs through the ball";
  kit::Surface open = ball;
  open.triangles.pop_back();
  scene.branches.clear(), scene.models.clear();
  kit::add_model(scene, open, 0);
  EXPECT_TRUE(Reachable(scene).contains({0.55, 0.5, 0.6}));
  // A lamp that hangs inside: its body is barred besides the reach about its emitter.
  scene.models.clear();
  Lamp& lamp = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.6});
  EXPECT_TRUE(Reachable(scene).contains({0.58, 0.5, 0.67}));
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->body = LampBody{0.2, 0.2, 0.1, SpectralD::Zero()};
  lamp.fixture = fixture;
  EXPECT_FALSE(Reachable(scene).contains({0.58, 0.5, 0.67}));
  EXPECT_TRUE(Reachable(scene).contains({0.58, 0.5, 0.72}));
}

TEST(Reachable, PassesFromBoxToBoxButNotThroughTheLedgeBetween) {
  Scene scene = with_animal(0, 0.05);
  kit::add_box(scene, {0.4, 1, 0.6}, 0).corner = {0.3, 0, 1};
  const Reachable reachable(scene);
  EXPECT_TRUE(reachable.contains({0.5, 0.5, 1.0})) << "the opening between the boxes";
  EXPECT_TRUE(reachable.contains({0.36, 0.5, 1.0}));
  EXPECT_FALSE(reachable.contains({0.34, 0.5, 1.0})) << "too near the ledge's edge";
  EXPECT_FALSE(reachable.contains({0.1, 0.5, 0.96})) << "too near the ledge";
  EXPECT_FALSE(reachable.contains({0.32, 0.5, 1.3})) << "too near the upper box's wall";
  EXPECT_FALSE(reachable.contains({0.1, 0.5, 1.3})) << "beside the upper box";
}

TEST(Reachable, StartsAreReachableAndCoverEveryBox) {
  Scene scene = with_animal(0, 0.05);
  kit::add_box(scene, {0.4, 1, 0.6}, 0).corner = {0.3, 0, 1};
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.5, 0.5, 1.7});
  const Reachable reachable(scene);
  int low = 0, high = 0, below_the_lamp = 0;
  for (const Vec3& start : reachable.starts(0.1)) {
    ASSERT_TRUE(reachable.contains(start));
    ++(start.z() < 1 ? low : high);
    below_the_lamp += (start - Vec3(0.5, 0.5, 1.55)).norm() < 0.02;
  }
  EXPECT_GT(low, 800);
  EXPECT_GT(high, 100);
  EXPECT_GT(below_the_lamp, 0);
}

}  // namespace
}  // namespace boughlight
