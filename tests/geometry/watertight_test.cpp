#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "aimed_rays.h"
#include "geometry/stream.h"
#include "geometry/world.h"
#include "scene_kit.h"

namespace boughlight {
namespace {

// A place on an edge or corner of a random box, or a hair off it.
Vec3 near_an_edge(const std::vector<Box>& boxes, Stream& random) {
  const Box& box = boxes[static_cast<std::size_t>(random.next() * static_cast<double>(boxes.size()))];
  const int along = static_cast<int>(4 * random.next());  // 3: a corner
  Vec3 share;
  for (int axis = 0; axis < 3; ++axis)
    share[axis] = axis == along ? random.next() : random.next() < 0.5 ? 0 : 1;
  const double off = std::pow(10.0, -3 - 4 * random.next());
  const Vec3 shift(2 * random.next() - 1, 2 * random.next() - 1, 2 * random.next() - 1);
  return box.corner + box.size.cwiseProduct(share) + off * shift;
}

// Follows rays from wall to wall as light does, into edges and corners and out of them again, and counts
// those that meet no wall: as the nearest surface, or as something in the way of light from outside. Aimed at
// edges, half of the rays are.
Leaks bounce(const Scene& scene, Aim aim, long rays, std::uint64_t seed) {
  const World world(scene);
  Stream random(seed, 0);
  Leaks leaks;
  const Vec3f middle = (scene.boxes[0].corner + 0.5 * scene.boxes[0].size).cast<float>();
  Vec3f origin = middle, normal = Vec3f::Zero();
  for (; leaks.rays < rays; ++leaks.rays) {
    Vec3f direction =
        (1.000001f * normal + uniform_direction(random).cast<float>()).normalized();  // the cosine law
    if (aim == Aim::at_edges && random.next() < 0.5) {
      direction = (near_an_edge(scene.boxes, random).cast<float>() - origin).normalized();
      if (normal.dot(direction) < 0) direction -= 2 * normal.dot(direction) * normal;
    }
    Hit hit;
    const bool found = world.closest(origin, direction, hit);
    leaks.escaped += !found || !world.blocked(origin, direction, 100);
    normal = found ? hit.normal : Vec3f::Zero();
    origin = found ? Vec3f(hit.place + world.offset() * normal) : middle;
  }
  return leaks;
}

void expect_tight(const Scene& scene, long rays, std::uint64_t seed) {
  // Those aimed at edges and corners are held to the same.
  for (const Aim aim : {Aim::everywhere, Aim::at_edges}) {
    const Leaks leaks = bounce(scene, aim, rays, seed);
    EXPECT_LE(static_cast<double>(leaks.escaped), kLeakRate * static_cast<double>(leaks.rays))
        << (aim == Aim::at_edges ? "rays aimed at edges" : "rays everywhere") << ", first box of "
        << scene.boxes[0].size.transpose() << " m at " << scene.boxes[0].corner.transpose();
  }
}

TEST(WatertightSlow, ClosedBoxesOfAllSizesKeepTheirLight) {
  const std::vector<Vec3> sizes = {
      {0.1, 0.1, 0.1}, {0.1, 0.1, 3}, {3, 3, 3}, {0.9, 0.55, 1.6}, {3, 0.1, 1.7}};
  std::uint64_t seed = 1;
  for (const Vec3& size : sizes)
    for (const Vec3& corner : {Vec3(0, 0, 0), Vec3(0.137, 0.071, 0.733)}) {
      Scene scene;
      kit::add_box(scene, size, kit::add_material(scene, kit::grey(0.5))).corner = corner;
      expect_tight(scene, 1'000'000, seed++);
    }
}

// Four boxes whose footprints all differ: larger, smaller, shifted to a flush side, and overhanging.
Scene stack() {
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.5));
  const Vec3 sizes[] = {{0.9, 0.55, 0.7}, {0.6, 0.4, 0.3}, {0.77, 0.55, 0.31}, {0.2, 0.9, 0.4}};
  const Vec3 corners[] = {{0, 0, 0}, {0.15, 0.15, 0.7}, {0.13, 0, 1.0}, {0.4, -0.1, 1.31}};
  for (int i = 0; i < 4; ++i) kit::add_box(scene, sizes[i], wall).corner = corners[i];
  return scene;
}

TEST(WatertightSlow, StackedBoxesOfDifferentFootprintsHaveNoHoles) {
  expect_tight(stack(), 2'000'000, 71);
}

TEST(Watertight, EndsOfRaysStayInsideAndNothingElseMoves) {
  // A ray into a corner, from inside, ends inside all three walls; one that ends elsewhere, or comes from
  // outside, ends where it meets the wall.
  Scene scene;
  const Vec3 corner(0.137, 0.071, 0.733), size(0.9, 0.55, 1.6);
  kit::add_box(scene, size, kit::add_material(scene, kit::grey(0.5))).corner = corner;
  const World world(scene);
  const Box& box = scene.boxes[0];
  const Vec3f middle = (corner + 0.5 * size).cast<float>();
  for (const double off : {-1e-6, -1e-7, 0.0, 1e-7, 1e-6}) {
    const Vec3f target = (corner + Vec3::Constant(off)).cast<float>();
    Hit hit;
    ASSERT_TRUE(world.closest(middle, (target - middle).normalized(), hit));
    EXPECT_TRUE(box.contains((hit.place + world.offset() * hit.normal).cast<double>())) << off;
    EXPECT_LT((hit.place.cast<double>() - corner).norm(), 1.5 * static_cast<double>(world.offset()));
    const Vec3f outside = middle - 2 * (middle - target);
    ASSERT_TRUE(world.closest(outside, Vec3f(target + Vec3f::Constant(1e-3f) - outside).normalized(), hit));
    EXPECT_FALSE(box.contains((hit.place + world.offset() * hit.normal).cast<double>())) << off;
  }
  Stream random(8, 0);
  for (int i = 0; i < 10'000; ++i) {
    const Vec3f direction = uniform_direction(random).cast<float>();
    Hit hit;
    ASSERT_TRUE(world.closest(middle, direction, hit));
    const Vec3f end = middle + hit.distance * direction;
    const double edge = [&] {  // distance to the nearest edge
      Vec3 gap = (end.cast<double>() - corner).cwiseMin(corner + size - end.cast<double>());
      std::sort(gap.data(), gap.data() + 3);
      return gap[1];
    }();
    if (edge > static_cast<double>(world.offset())) {
      EXPECT_EQ((hit.place - end).norm(), 0);
    }
  }
}

TEST(Watertight, LightPassesBetweenStackedBoxes) {
  const World world(stack());
  Hit hit;
  // Straight up through all four.
  ASSERT_TRUE(world.closest({0.5f, 0.3f, 0.01f}, Vec3f::UnitZ(), hit));
  EXPECT_NEAR(hit.distance, 1.71 - 0.01, 1e-5);
}

TEST(Watertight, MeshBoxIsCrossedExactlyOnceOnTheWayOut) {
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 1.1}, kit::add_material(scene, kit::mesh(0.3e-3, 1.5e-3, 1.5e-3, 0.3)));
  const World world(scene);
  Stream random(5, 0);
  constexpr int kRays = 2'000'000;
  int wrong = 0;
  for (int i = 0; i < kRays; ++i) {
    const Vec3f share(random.next_float(), random.next_float(), random.next_float());
    const Vec3f origin = share.cwiseProduct(scene.boxes[0].size.cast<float>());
    const Vec3f direction = uniform_direction(random).cast<float>();
    int crossings = 0;
    float from = 0, at = 0;
    while (world.next_panel(origin, direction, from, 1e6f, at) >= 0) from = at, ++crossings;
    wrong += crossings != 1;
  }
  // Within a rounding (1e-7 m) of an edge the two panels there may be met both or neither: a strip that is
  // some 1e-6 of the area; ten times that is allowed.
  EXPECT_LE(wrong, 1e-5 * kRays);
}

}  // namespace
}  // namespace boughlight
