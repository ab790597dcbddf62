#include "geometry/world.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "aimed_rays.h"
#include "geometry/stream.h"
#include "scene_kit.h"

namespace boughlight {
namespace {

constexpr float kFar = 100;
// Positions of a metre in single precision, with Embree's curves some ten times that.
constexpr float kPlaceRounding = 1e-5f;

TEST(Branch, IsARoundRodWithItsNormalTowardsTheRay) {
  Scene scene = kit::open_air();
  scene.branches.push_back(
      {"bough", {{0.2, 0.5, 0.5}, {0.8, 0.5, 0.5}}, 0.04, kit::add_material(scene, kit::grey(0.3))});
  const World world(scene);
  Hit hit;
  ASSERT_TRUE(world.closest({0.5f, 0.5f, 1.0f}, -Vec3f::UnitZ(), hit));
  EXPECT_NEAR(hit.distance, 0.48, kPlaceRounding);
  EXPECT_NEAR(hit.normal.z(), 1, 1e-4);
  // Off the axis by half the radius: the circle stands 0.02 cos(30 deg) high, its normal 30 deg from up.
  ASSERT_TRUE(world.closest({0.5f, 0.51f, 1.0f}, -Vec3f::UnitZ(), hit));
  EXPECT_NEAR(hit.distance, 0.5 - 0.02 * std::cos(std::numbers::pi / 6), kPlaceRounding);
  EXPECT_NEAR(hit.normal.y(), 0.5, 1e-3);
  EXPECT_FALSE(world.closest({0.5f, 0.521f, 1.0f}, -Vec3f::UnitZ(), hit)) << "passes beside it";
  EXPECT_TRUE(world.blocked({0.5f, 0.5f, 0.0f}, Vec3f::UnitZ(), 1));
  EXPECT_FALSE(world.blocked({0.5f, 0.5f, 0.0f}, Vec3f::UnitZ(), 0.47f)) << "ends before it";
}

TEST(Branch, EndsRoundAndHasNoGapAtABend) {
  Scene scene = kit::open_air();
  scene.branches.push_back({"bough",
                            {{0.2, 0.5, 0.5}, {0.5, 0.5, 0.5}, {0.5, 0.8, 0.5}},
                            0.06,
                            kit::add_material(scene, kit::grey(0.3))});
  const World world(scene);
  Hit hit;
  // A milliradian off the axis: Embree does not see a rod along a ray that is exactly parallel to it.
  ASSERT_TRUE(world.closest({0.0f, 0.5f, 0.5f}, Vec3f(1, 0.001f, 0).normalized(), hit));
  EXPECT_NEAR(hit.distance, 0.2 - 0.03, 2 * kPlaceRounding) << "the round end";
  // Over the outside of the bend, where two bare cylinders would leave a notch.
  const Vec3f outside(0.5f + 0.02f, 0.5f - 0.01f, 1);
  EXPECT_TRUE(world.blocked(outside, -Vec3f::UnitZ(), 1));
}

TEST(Branch, IsMetWhereItsDistanceFieldSaysSo) {
  // Sphere tracing through the branch's own distance function, for rays at random past a bent bough.
  Scene scene = kit::open_air();
  scene.branches.push_back({"bough",
                            {{0.2, 0.5, 0.5}, {0.5, 0.55, 0.5}, {0.5, 0.8, 0.7}, {0.7, 0.8, 0.3}},
                            0.05,
                            kit::add_material(scene, kit::grey(0.3))});
  const World world(scene);
  Stream random(9, 0);
  const auto place = [&] { return Vec3(random.next(), random.next(), random.next()); };
  for (int i = 0; i < 50000; ++i) {
    const Vec3 origin = place(), direction = (place() - origin).normalized();
    if (scene.inside_solid(origin)) continue;
    double along = 0, gap = 0, least = 1;
    while (along < 2 && (gap = scene.branches[0].signed_distance(origin + along * direction)) > 1e-6)
      along += gap, least = std::min(least, gap);
    const bool expected = gap <= 1e-6;
    if (!expected && least < 1e-5) continue;  // touches within rounding
    Hit hit;
    ASSERT_EQ(world.closest(origin.cast<float>(), direction.cast<float>(), hit), expected) << "ray " << i;
    if (expected) {
      // A ray that grazes meets the surface less surely than one that comes straight on.
      EXPECT_NEAR(hit.distance, along, 2e-4) << "ray " << i;
    }
  }
}

TEST(Board, StopsLightFromBothSides) {
  Scene scene = kit::open_air();
  scene.boards.push_back(
      {"shelf", {0.2, 0.2, 0.5}, {0.4, 0, 0.1}, {0, 0.3, 0}, kit::add_material(scene, kit::grey(0.3))});
  const World world(scene);
  for (const float side : {1.0f, -1.0f}) {
    Hit hit;
    const Vec3f origin(0.4f, 0.3f, 0.55f + side * 0.3f), direction(0, 0, -side);
    ASSERT_TRUE(world.closest(origin, direction, hit));
    EXPECT_NEAR(hit.distance, 0.3, kPlaceRounding);
    EXPECT_LT(hit.normal.dot(direction), 0) << "the normal is on the side the ray came from";
    EXPECT_NEAR(hit.normal.norm(), 1, 1e-6);
    EXPECT_TRUE(world.blocked(origin, direction, 0.31f));
    EXPECT_FALSE(world.blocked(origin, direction, 0.29f));
  }
}

TEST(Surfaces, EveryHitLeadsToItsOwnMaterial) {
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.2)), floor = kit::add_material(scene, kit::grey(0.7));
  const int bark = kit::add_material(scene, kit::grey(0.4)),
            leaf = kit::add_material(scene, kit::grey(0.1, 0.3));
  Box& box = kit::add_box(scene, {1, 1, 1}, wall);
  kit::set_face(box, Side::floor, floor);
  scene.branches.push_back({"bough", {{0.2, 0.2, 0.5}, {0.8, 0.2, 0.5}}, 0.1, bark});
  scene.boards.push_back({"leaf-like", {0.1, 0.7, 0.5}, {0.5, 0, 0}, {0, 0.2, 0}, leaf});
  const World world(scene);
  const auto met = [&](const Vec3f& origin, const Vec3f& direction) {
    Hit hit;
    EXPECT_TRUE(world.closest(origin, direction, hit));
    return world.diffuse(hit.optics);
  };
  EXPECT_FLOAT_EQ(met({0.5f, 0.5f, 0.4f}, -Vec3f::UnitZ()).reflectance[0], 0.7f);
  EXPECT_FLOAT_EQ(met({0.5f, 0.5f, 0.4f}, Vec3f::UnitZ()).reflectance[0], 0.2f);
  EXPECT_FLOAT_EQ(met({0.5f, 0.2f, 0.9f}, -Vec3f::UnitZ()).reflectance[0], 0.4f);
  EXPECT_FLOAT_EQ(met({0.3f, 0.8f, 0.9f}, -Vec3f::UnitZ()).transmittance[0], 0.3f);
}

TEST(Leaves, AreInTheWorldAndCounted) {
  Scene scene = kit::open_air();
  kit::add_plant(scene, {0.5, 0.5, 0.5}, {0.2, 0.2, 0.2}, 3, 0.05, 0.05,
                 kit::add_material(scene, kit::grey(0.1, 0.3)));
  const World world(scene);
  EXPECT_EQ(world.leaf_count(), 1200u);
  EXPECT_TRUE(world.blocked({0.5f, 0.5f, 1.0f}, -Vec3f::UnitZ(), 1))
      << "a crown that dense lets nothing through";
}

// A mesh across the top, wires 0.2 mm every 1 mm.
Scene under_mesh(int layers, double soiling) {
  Scene scene = kit::open_air();
  Material mesh = kit::mesh(0.2e-3, 1e-3, 0.8e-3, 0.3);
  mesh.layers = layers;
  mesh.soiling = soiling;
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, mesh));
  return scene;
}

float straight_share(const World& world, const Vec3f& origin, const Vec3f& direction, float distance = kFar) {
  Straight through;
  return world.straight(origin, direction, distance, through) ? through.scalar : 0;
}

TEST(MeshPanel, IsCountedOnceACrossingAndNotBeyondTheEnd) {
  const World world(under_mesh(1, 1));
  const Vec3f origin(0.5f, 0.5f, 0.2f), slanted = Vec3f(0.3f, -0.2f, 1).normalized();
  EXPECT_NEAR(straight_share(world, origin, Vec3f::UnitZ()), 0.8 * 0.75, 1e-6);
  EXPECT_NEAR(straight_share(world, origin, slanted),
              (1 - 0.2 * std::sqrt(1.09)) * (1 - 0.25 * std::sqrt(1.04)), 1e-5)
      << "u is along x, v along y";
  EXPECT_EQ(straight_share(world, origin, Vec3f::UnitZ(), 0.79f), 1) << "ends before the mesh";
  EXPECT_EQ(straight_share(world, origin, -Vec3f::UnitZ()), 1) << "leads away from it";
  EXPECT_EQ(straight_share(world, {0.5f, 0.5f, 1.2f}, Vec3f(2, 0, -0.5f).normalized()), 1)
      << "passes outside";
}

TEST(MeshPanel, LayersMultiplyAndDirtCountsOnce) {
  const Vec3f origin(0.5f, 0.5f, 0.2f);
  EXPECT_NEAR(straight_share(World(under_mesh(2, 1)), origin, Vec3f::UnitZ()), 0.36, 1e-6);
  EXPECT_NEAR(straight_share(World(under_mesh(3, 0.9)), origin, Vec3f::UnitZ()), 0.216 * 0.9, 1e-6);
  EXPECT_NEAR(straight_share(World(under_mesh(2, 0.9)), {0.5f, 0.5f, 1.5f}, -Vec3f::UnitZ()), 0.36 * 0.9,
              1e-6)
      << "from outside as well";
  EXPECT_EQ(World(under_mesh(3, 1)).panels().size(), 1u) << "no room between them";
}

TEST(MeshPanel, SpacingIsCountedAlongTheSidesTheDesignNames) {
  // u, v = x, y on top and floor; x, z on front and back; y, z on left and right.
  struct Case {
    Side side;
    Vec3f out, slant;  // slant: tilted by 45 deg along u
  };
  for (const Case& c : {Case{Side::top, {0, 0, 1}, {1, 0, 1}}, Case{Side::front, {0, -1, 0}, {1, -1, 0}},
                        Case{Side::left, {-1, 0, 0}, {-1, 1, 0}}}) {
    Scene scene = kit::open_air();
    kit::set_face(scene.boxes[0], c.side, kit::add_material(scene, kit::mesh(0.2e-3, 1e-3, 1e6, 0)));
    const World world(scene);
    const Vec3f middle(0.5f, 0.5f, 0.5f), shifted = middle + 0.2f * c.out;
    EXPECT_NEAR(straight_share(world, middle, c.out), 0.8, 1e-5) << side_name(c.side);
    EXPECT_NEAR(straight_share(world, shifted, c.slant.normalized()), 1 - 0.2 * std::sqrt(2.0), 1e-5)
        << side_name(c.side);
  }
}

TEST(PanePanel, DimsSpectrallyAndTwicePassedTwice) {
  Scene scene = kit::open_air();
  Material pane = kit::pane(0.5);
  pane.transmittance[3] = 0.1;
  const int glass = kit::add_material(scene, pane);
  kit::set_face(scene.boxes[0], Side::left, glass);
  kit::set_face(scene.boxes[0], Side::right, glass);
  const World world(scene);
  Straight through;
  ASSERT_TRUE(world.straight({-0.5f, 0.5f, 0.5f}, Vec3f::UnitX(), kFar, through));
  ASSERT_TRUE(through.is_spectral);
  EXPECT_NEAR(through.spectral[0], 0.25, 1e-5);
  EXPECT_NEAR(through.spectral[3], 0.01, 1e-6);
  EXPECT_EQ(through.scalar, 1);
  EXPECT_EQ(world.pane_panels().size(), 2u);
}

TEST(Panels, AreMetInOrder) {
  Scene scene = kit::open_air();
  const int mesh = kit::add_material(scene, kit::mesh(0.2e-3, 1e-3, 1e-3, 0.3));
  kit::set_face(scene.boxes[0], Side::floor, mesh);
  kit::set_face(scene.boxes[0], Side::top, mesh);
  scene.boards.push_back({"screen", {0, 0, 0.4}, {1, 0, 0}, {0, 1, 0}, mesh});
  const World world(scene);
  float at = 0, from = 0;
  std::vector<float> met;
  while (world.next_panel({0.5f, 0.5f, 2.0f}, -Vec3f::UnitZ(), from, kFar, at) >= 0) met.push_back(from = at);
  ASSERT_EQ(met.size(), 3u);
  EXPECT_NEAR(met[0], 1, 1e-6);
  EXPECT_NEAR(met[1], 1.6, 1e-6);
  EXPECT_NEAR(met[2], 2, 1e-6);
}

TEST(OnSurface, KnowsWallsMeshAndFreeAir) {
  Scene scene = under_mesh(1, 1);
  kit::set_face(scene.boxes[0], Side::left, kit::add_material(scene, kit::grey(0.3)));
  const World world(scene);
  constexpr float kHair = 5e-5f;
  EXPECT_TRUE(world.on_surface({0, 0.5f, 0.5f}, Vec3f::UnitX(), kHair));
  EXPECT_TRUE(world.on_surface({0, 0.5f, 0.5f}, -Vec3f::UnitX(), kHair));
  EXPECT_TRUE(world.on_surface({0.5f, 0.5f, 1}, Vec3f::UnitZ(), kHair));
  EXPECT_FALSE(world.on_surface({0.001f, 0.5f, 0.5f}, Vec3f::UnitX(), kHair));
  EXPECT_FALSE(world.on_surface({0.5f, 0.5f, 0}, Vec3f::UnitZ(), kHair)) << "an open face is no surface";
}

TEST(World, OfNothingButAirLetsEverythingPass) {
  const World world(kit::open_air());
  Hit hit;
  EXPECT_FALSE(world.closest({0.5f, 0.5f, 0.5f}, Vec3f::UnitZ(), hit));
  EXPECT_FALSE(world.blocked({0.5f, 0.5f, 0.5f}, Vec3f::UnitZ(), kFar));
  EXPECT_EQ(world.leaf_count(), 0u);
  EXPECT_TRUE(world.bounds().contains(Vec3f(1, 1, 1)));
}

TEST(World, RayAlongABranchesAxisIsStopped) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  scene.branches.push_back(
      {"trunk", {{0.5, 0.5, 0.1}, {0.5, 0.5, 0.6}}, 0.1, kit::add_material(scene, kit::grey(0.3))});
  const World world(scene);
  Hit hit;
  ASSERT_TRUE(world.closest(Vec3f(0.5f, 0.5f, 0.95f), -Vec3f::UnitZ(), hit));
  EXPECT_NEAR(hit.distance, 0.95 - 0.65, 1e-5);
  EXPECT_NEAR(hit.normal.z(), 1, 1e-5);
  EXPECT_TRUE(world.blocked(Vec3f(0.5f, 0.5f, 0.95f), -Vec3f::UnitZ(), 0.9f));
}

// Embree promises nothing of the kind, but tests each rectangle alike whatever the tree above it: light that
// was traced in one may be kept for the other.
TEST(Tree, BuiltForFewRaysMeetsTheSame) {
  Scene scene;
  kit::add_box(scene, {1, 0.8, 1.2}, kit::add_material(scene, kit::grey(0.5)));
  scene.branches.push_back({"bough",
                            {{0.1, 0.4, 0.9}, {0.6, 0.3, 0.8}, {0.9, 0.6, 0.9}},
                            0.03,
                            kit::add_material(scene, kit::grey(0.3))});
  kit::add_plant(scene, {0.5, 0.4, 0.5}, {0.25, 0.2, 0.3}, 1, 0.02, 0.01,
                 kit::add_material(scene, kit::grey(0.2)));
  const World many(scene), few(scene, TreeBuild::for_few_rays);
  ASSERT_EQ(few.leaf_count(), 5000u);
  for (std::uint64_t i = 0; i < 20000; ++i) {
    Stream random(1, i);
    const Vec3f origin = Vec3(random.next(), 0.8 * random.next(), 1.2 * random.next()).cast<float>();
    const Vec3f direction = uniform_direction(random).cast<float>().normalized();
    Hit a, b;
    ASSERT_EQ(many.closest(origin, direction, a), few.closest(origin, direction, b)) << i;
    ASSERT_EQ(a.distance, b.distance) << i;
    ASSERT_EQ(a.optics, b.optics) << i;
    ASSERT_EQ(a.normal, b.normal) << i;
    const float reach = static_cast<float>(random.next());
    ASSERT_EQ(many.blocked(origin, direction, reach), few.blocked(origin, direction, reach)) << i;
  }
}

}  // namespace
}  // namespace boughlight
