// Surfaces of triangles and bodies of lamps as rays meet them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "aimed_rays.h"
#include "geometry/stream.h"
#include "geometry/world.h"
#include "scene_kit.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

// Of rays aimed within a tenth of a millimetre of an edge or corner ten in a million may slip out.
constexpr double kLeakRateAtEdges = 1e-5;

Scene scene_of(const kit::Surface& surface) {
  Scene scene;
  kit::add_model(scene, surface, kit::add_material(scene, kit::grey(0.5)));
  return scene;
}

// A corner or a place on an edge, or a hair off it, a tenth of a millimetre to a tenth of a micrometre. Aimed
// at a corner to the last bit, one ray in 500 would slip between the triangles that meet there, where every
// sign that Embree goes by is one of rounding; that is a set of directions that no light is in.
Vec3 near_an_edge(const Shell& shell, Stream& random) {
  const Triangle& t = shell.triangles()[static_cast<std::size_t>(
      random.next() * static_cast<double>(shell.triangles().size()))];
  const Vec3 &a = shell.vertices()[t[0]], &b = shell.vertices()[t[1]];
  const Vec3 on = random.next() < 0.5 ? a : Vec3(a + random.next() * (b - a));
  return on + std::pow(10.0, -4 - 3 * random.next()) * uniform_direction(random);
}

// A ray that grazes the surface comes as near to it as single precision can tell, and what lies on it is not
// inside.
bool inside_or_on(const Shell& shell, const Vec3& place) {
  constexpr double kRounding =
      4e-6;  // m; more than twice what contains() takes as lying on a surface 4 m out
  if (shell.contains(place)) return true;
  for (const double x : {-kRounding, kRounding})
    for (const double y : {-kRounding, kRounding})
      for (const double z : {-kRounding, kRounding})
        if (shell.contains(place + Vec3(x, y, z))) return true;
  return false;
}

// Rays from places inside: each must end on the surface, and
// run inside all the way there. How a place is known to be inside is checked apart, in tests/scene.
Leaks cast_from_inside(const kit::Surface& surface, Aim aim, long rays, std::uint64_t seed) {
  const Scene scene = scene_of(surface);
  const World world(scene);
  const Shell& shell = *scene.models[0].shell;
  Stream random(seed, 0);
  Leaks leaks;
  const Vec3 size = shell.high() - shell.low();
  while (leaks.rays < rays) {
    const double x = random.next(), y = random.next(), z = random.next();
    const Vec3f origin = (shell.low() + size.cwiseProduct(Vec3(x, y, z))).cast<float>();
    if (!shell.contains(origin.cast<double>())) continue;
    const Vec3 way = aim == Aim::at_edges ? Vec3(near_an_edge(shell, random) - origin.cast<double>())
                                          : uniform_direction(random);
    const Vec3f direction = way.normalized().cast<float>();
    ++leaks.rays;
    Hit hit;
    if (!world.closest(origin, direction, hit)) {
      ++leaks.escaped;
      continue;
    }
    EXPECT_LE(hit.normal.dot(direction), 0);
    EXPECT_NEAR(hit.normal.norm(), 1, 1e-5);
    const float reach = 0.999f * hit.distance - 2e-6f;  // a rounding short of the surface
    const Vec3f on_the_way = origin + static_cast<float>(random.next()) * std::max(0.0f, reach) * direction;
    leaks.escaped += !inside_or_on(shell, on_the_way.cast<double>());
  }
  return leaks;
}

TEST(ModelRaysSlow, NeverLeaveAClosedSurface) {
  std::uint64_t seed = 0;
  for (const kit::Surface& surface : {kit::box_surface({0.3, 0.2, 0.4}), kit::ball_surface(0.25, 1),
                                      kit::ball_surface(0.25, 4), kit::ring_surface(0.3, 0.08)})
    for (const kit::Surface& placed : {surface, surface.turned(kit::some_turn(), {3, 2, 4}).inside_out()}) {
      SCOPED_TRACE(++seed);
      const Leaks anywhere = cast_from_inside(placed, Aim::everywhere, 1'000'000, seed);
      EXPECT_LE(static_cast<double>(anywhere.escaped), kLeakRate * static_cast<double>(anywhere.rays));
      const Leaks at_edges = cast_from_inside(placed, Aim::at_edges, 300'000, seed);
      EXPECT_LE(static_cast<double>(at_edges.escaped), kLeakRateAtEdges * static_cast<double>(at_edges.rays));
    }
}

TEST(ModelRaysSlow, BouncingLightStaysInAClosedSurface) {
  for (const kit::Surface& surface : {kit::box_surface({0.3, 0.2, 0.4}),
                                      kit::ball_surface(0.25, 3).turned(kit::some_turn(), {1, 2, 0.5})}) {
    const Scene scene = scene_of(surface);
    const World world(scene);
    const Shell& shell = *scene.models[0].shell;
    const Vec3f middle = (0.5 * (shell.low() + shell.high())).cast<float>();
    Stream random(9, 0);
    Vec3f origin = middle, normal = Vec3f::Zero();
    constexpr long kRays = 2'000'000;
    long escaped = 0;
    for (long i = 0; i < kRays; ++i) {
      const Vec3f direction = (1.000001f * normal + uniform_direction(random).cast<float>()).normalized();
      Hit hit;
      if (world.closest(origin, direction, hit)) {
        normal = hit.normal;
        origin = origin + hit.distance * direction + world.offset() * normal;
      } else {
        ++escaped;
        origin = middle, normal.setZero();
      }
    }
    EXPECT_LE(static_cast<double>(escaped), kLeakRate * kRays);
  }
}

TEST(ModelRays, MeetABoxWhereItStands) {
  const kit::Surface box = kit::box_surface({0.2, 0.4, 0.6});
  const World world(scene_of(
      box.turned(Eigen::AngleAxisd(std::acos(-1.0) / 2, Vec3::UnitZ()).toRotationMatrix(), {1, 1, 1})));
  Hit hit;
  // Turned by a right angle, it is 40 cm wide along x.
  ASSERT_TRUE(world.closest({0, 1, 1}, Vec3f::UnitX(), hit));
  EXPECT_NEAR(hit.distance, 0.8, 1e-6);
  EXPECT_TRUE(hit.normal.isApprox(Vec3f(-Vec3f::UnitX()), 1e-5f));
  ASSERT_TRUE(world.closest({1, 1, 3}, -Vec3f::UnitZ(), hit));
  EXPECT_NEAR(hit.distance, 1.7, 1e-6);
  EXPECT_TRUE(world.blocked({1, 0, 1}, Vec3f::UnitY(), 0.91f));
  EXPECT_FALSE(world.blocked({1, 0, 1}, Vec3f::UnitY(), 0.89f));
  EXPECT_TRUE(world.bounds().contains(Vec3f(1.2f, 1.1f, 1.3f)));
}

TEST(ModelRays, EachModelHasItsOwnMaterial) {
  Scene scene;
  const int dark = kit::add_material(scene, kit::grey(0.1)), light = kit::add_material(scene, kit::grey(0.9));
  const kit::Surface ball = kit::ball_surface(0.1, 2);
  kit::add_model(scene, ball.turned(Eigen::Matrix3d::Identity(), {1, 0, 0}), light);
  kit::add_model(scene, ball.turned(Eigen::Matrix3d::Identity(), {-1, 0, 0}), dark);
  const World world(scene);
  Hit hit;
  ASSERT_TRUE(world.closest(Vec3f::Zero(), Vec3f::UnitX(), hit));
  EXPECT_FLOAT_EQ(world.diffuse(hit.optics).reflectance[0], 0.9f);
  ASSERT_TRUE(world.closest(Vec3f::Zero(), -Vec3f::UnitX(), hit));
  EXPECT_FLOAT_EQ(world.diffuse(hit.optics).reflectance[0], 0.1f);
}

TEST(LampBodyRays, StopAtItsSixSides) {
  Scene scene;
  Lamp& lamp = kit::add_lamp(scene, make_tube_emitter(0.5, 0.016, nullptr), {0.3, 0.2, 1});
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->body = LampBody{0.6, 0.08, 0.05, SpectralD::Constant(0.7)};
  lamp.fixture = fixture;
  const World world(scene);
  const OrientedBox body = *lamp.body();
  for (int axis = 0; axis < 3; ++axis)
    for (const double side : {-1.0, 1.0}) {
      const Vec3 away = side * body.axes.col(axis);
      Hit hit;
      ASSERT_TRUE(world.closest((body.centre + away).cast<float>(), (-away).cast<float>(), hit));
      EXPECT_NEAR(hit.distance, 1 - body.half[axis], 1e-6);
      EXPECT_TRUE(hit.normal.isApprox(away.cast<float>(), 1e-5f));
      EXPECT_FLOAT_EQ(world.diffuse(hit.optics).reflectance[20], 0.7f);
    }
  EXPECT_TRUE(world.bounds().contains(Vec3f(0.6f, 0.24f, 1.058f)));
  // From below the tube's own places are free, right up to its rear.
  EXPECT_FALSE(world.blocked({0.3f, 0.2f, 0.5f}, Vec3f::UnitZ(), 0.508f));
  EXPECT_TRUE(world.blocked({0.3f, 0.2f, 0.5f}, Vec3f::UnitZ(), 0.509f));
}

}  // namespace
}  // namespace boughlight
