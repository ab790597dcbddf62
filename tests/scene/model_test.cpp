#include "scene/model.h"

#include <gtest/gtest.h>

#include <limits>

namespace boughlight {
namespace {

TEST(Branch, DistanceIsThatOfAChainOfRoundEndedCylinders) {
  Branch branch;
  branch.path = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}};
  branch.diameter = 0.1;
  EXPECT_NEAR(branch.signed_distance({0.5, 0, 0.2}), 0.15, 1e-12);
  EXPECT_NEAR(branch.signed_distance({0.5, 0, 0.05}), 0, 1e-12);
  EXPECT_NEAR(branch.signed_distance({0.5, 0, 0}), -0.05, 1e-12);
  EXPECT_NEAR(branch.signed_distance({-0.3, 0, 0}), 0.25, 1e-12);
  EXPECT_NEAR(branch.signed_distance({1, 1.3, 0.4}), 0.45, 1e-12);
}

TEST(Board, DistanceIsThatOfAParallelogram) {
  Board board;
  board.edge_u = {1, 0, 0};
  board.edge_v = {1, 1, 0};  // oblique
  EXPECT_NEAR(board.distance({1, 0.5, 0.3}), 0.3, 1e-12);
  EXPECT_NEAR(board.distance({1, 0.5, -0.3}), 0.3, 1e-12);
  EXPECT_NEAR(board.distance({-0.3, 0, 0.4}), 0.5, 1e-12);
  EXPECT_NEAR(board.distance({2, 1, 0}), 0, 1e-12);
  // Left of the slanted edge from (0, 0) to (1, 1), whose distance from (0, 1) is sqrt(1/2).
  EXPECT_NEAR(board.distance({0, 1, 0}), std::sqrt(0.5), 1e-12);
  // Against the nearest of a fine lattice of its own points; half a lattice diagonal at most apart.
  for (const Vec3& p : {Vec3(0.2, 0.9, 0.3), Vec3(1.9, 0.1, -0.2), Vec3(2.5, 1.5, 0.1), Vec3(-1, -1, 0)}) {
    double nearest = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= 400; ++i) {
      for (int j = 0; j <= 400; ++j) {
        nearest = std::min(nearest, (p - board.edge_u * (i / 400.0) - board.edge_v * (j / 400.0)).norm());
      }
    }
    EXPECT_LE(board.distance(p), nearest + 1e-12);
    EXPECT_NEAR(board.distance(p), nearest, 0.003);
  }
}

TEST(Lamp, LocalFrameIsRightHandedAndInverts) {
  Lamp lamp;
  lamp.at = {0.4, 0.3, 1.7};
  lamp.aim = Vec3(1, 0, -2).normalized();
  lamp.along = Vec3(2, 0, 1).normalized();
  const Eigen::Matrix3d rotation = lamp.scene_from_local();
  EXPECT_NEAR(rotation.determinant(), 1, 1e-12);
  EXPECT_TRUE((rotation * Vec3::UnitZ()).isApprox(lamp.aim));
  EXPECT_TRUE((rotation * Vec3::UnitX()).isApprox(lamp.along));
  const Vec3 place(0.1, 0.2, 0.3);
  EXPECT_TRUE(lamp.to_scene(lamp.to_local(place)).isApprox(place));
  EXPECT_TRUE(lamp.to_scene({0, 0, 0.5}).isApprox(lamp.at + 0.5 * lamp.aim));
}

TEST(Scene, InsideCountsFacesAndAnyBox) {
  Scene scene;
  Box low, high;
  low.size = {0.9, 0.55, 1.1};
  high.corner = {0.15, 0, 1.1};
  high.size = {0.6, 0.55, 0.5};
  scene.boxes = {low, high};
  EXPECT_TRUE(scene.inside({0, 0, 0}));
  EXPECT_TRUE(scene.inside({0.9, 0.55, 1.1}));
  EXPECT_TRUE(scene.inside({0.3, 0.2, 1.1 + 0.5}));
  EXPECT_FALSE(scene.inside({0.8, 0.2, 1.3}));
  EXPECT_FALSE(scene.inside({0.3, -0.001, 0.5}));
}

TEST(Scene, SourcesAreTheLampsThenTheRoom) {
  Scene scene;
  scene.lamps.resize(2);
  scene.lamps[0].name = "a";
  scene.lamps[1].name = "b";
  EXPECT_EQ(scene.source_count(), 2u);
  scene.room.emplace();
  EXPECT_EQ(scene.source_count(), 2u) << "a dark room gives no light";
  scene.room->lux = 100;
  EXPECT_EQ(scene.source_count(), 3u);
  EXPECT_EQ(scene.source_name(1), "b");
  EXPECT_EQ(scene.source_name(2), "room");
}

TEST(Names, OfSidesAndSharesAreThoseOfSceneFiles) {
  std::string sides;
  for (Side side : kSides) sides += std::string(side_name(side)) + " ";
  EXPECT_EQ(sides, "floor top front back left right ");
  EXPECT_EQ(zone_share_name(ZoneShare::each_level), "each_level");
  EXPECT_EQ(zone_share_name(ZoneShare::perch), "perch");
  EXPECT_EQ(zone_share_name(ZoneShare::volume), "volume");
}

}  // namespace
}  // namespace boughlight
