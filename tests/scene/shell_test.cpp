// What is inside a surface of triangles, and what is wrong with it.
#include <gtest/gtest.h>

#include <random>

#include "scene/triangle_tests.h"
#include "shell_kit.h"

namespace boughlight {
namespace {

using kit::Surface;

const double kPi = std::numbers::pi;

TEST(Shell, VolumesAndAreasAreThoseOfTheSolids) {
  const Shell box = kit::box_surface({0.2, 0.3, 0.5}).turned(kit::some_turn(), {1, 2, 3}).shell();
  EXPECT_NEAR(box.signed_volume(), 0.2 * 0.3 * 0.5, 1e-7);  // single precision at 3 m: 2e-7 m of 0.2 m
  EXPECT_NEAR(box.area(), 2 * (0.2 * 0.3 + 0.3 * 0.5 + 0.5 * 0.2), 1e-6);
  EXPECT_NEAR(kit::box_surface({0.2, 0.3, 0.5}).inside_out().shell().signed_volume(), -0.03, 1e-8);
  // Inscribed in the sphere, with 20 x 4^5 triangles: 4e-4 less volume.
  const double ball = 4 / 3.0 * kPi * 0.3 * 0.3 * 0.3;
  EXPECT_NEAR(kit::ball_surface(0.3, 5).shell().signed_volume(), ball, 1e-3 * ball);
  // Pappus: 2 pi^2 R r^2.
  const double ring = 2 * kPi * kPi * 0.3 * 0.1 * 0.1;
  EXPECT_NEAR(kit::ring_surface(0.3, 0.1, 400, 200).shell().signed_volume(), ring, 1e-3 * ring);
}

// `places` are checked against the solid angles, but for those within rounding of the surface.
void expect_same_inside(const Shell& shell, const std::vector<Vec3>& places) {
  ASSERT_TRUE(shell.closed());
  int inside = 0, near = 0;
  for (const Vec3& place : places) {
    const double winding = kit::winding_number(shell, place);
    const double off = std::abs(winding - std::round(winding));
    if (!(off < 1e-6)) {
      ++near;
      continue;
    }
    inside += shell.contains(place);
    EXPECT_EQ(shell.contains(place), std::lround(winding) != 0) << place.transpose() << ", " << winding;
  }
  EXPECT_GT(inside, 20) << "a check that sees no inside says little";
  EXPECT_GT(static_cast<int>(places.size()) - near, 2000);  // an upright box has many on its sides
}

// Everywhere in and around, and straight above, below and beside corners and middles of edges, where a line
// might slip between triangles.
std::vector<Vec3> many_places(const Shell& shell) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> unit(0, 1);
  std::vector<Vec3> places;
  const Vec3 low = shell.low(), size = shell.high() - low;
  for (int i = 0; i < 2000; ++i)
    places.push_back(low - 0.05 * size +
                     1.1 * size.cwiseProduct(Vec3(unit(random), unit(random), unit(random))));
  for (int i = 0; i < 1500; ++i) {
    const Triangle& t = shell.triangles()[static_cast<std::size_t>(
        unit(random) * static_cast<double>(shell.triangles().size()))];
    const Vec3 &a = shell.vertices()[t[0]], &b = shell.vertices()[t[1]];
    const Vec3 on = i % 2 == 0 ? a : Vec3(0.5 * (a + b));
    places.emplace_back(on.x(), on.y(), low.z() + unit(random) * size.z());
    places.emplace_back(on.x(), low.y() + unit(random) * size.y(), on.z());
  }
  return places;
}

TEST(ShellSlow, ContainsWhatTheSolidAnglesSayItWindsAround) {
  std::uint32_t index = 0;
  for (const Surface& surface :
       {kit::box_surface({0.2, 0.3, 0.5}), kit::ball_surface(0.3, 2), kit::ring_surface(0.3, 0.1)}) {
    SCOPED_TRACE(index++);
    for (const Surface& placed : {surface, surface.turned(kit::some_turn(), {0.4, 0.2, 0.9})})
      expect_same_inside(placed.shell(), many_places(placed.shell()));
  }
}

TEST(Shell, OverlappingPartsAndHollowsCountOnce) {
  const Surface box = kit::box_surface({0.4, 0.4, 0.4});
  const Surface shifted = box.turned(Eigen::Matrix3d::Identity(), {0.2, 0.1, 0.1});
  expect_same_inside(box.with(shifted).shell(), many_places(box.with(shifted).shell()));
  EXPECT_TRUE(box.with(shifted).shell().contains({0.1, 0.1, 0.1})) << "in both parts";
  const Surface hollow = box.with(kit::ball_surface(0.15, 2).inside_out());
  expect_same_inside(hollow.shell(), many_places(hollow.shell()));
  EXPECT_FALSE(hollow.shell().contains({0.01, 0.02, 0.03})) << "in the hollow";
  EXPECT_TRUE(hollow.shell().contains({0.18, 0.02, 0.03})) << "in the wall";
}

TEST(Shell, InsideOutItContainsTheSame) {
  const Shell shell = kit::ring_surface(0.3, 0.1).inside_out().shell();
  EXPECT_EQ(shell.turned_edges(), 0u);
  expect_same_inside(shell, many_places(shell));
}

TEST(Shell, WithTurnedFacesItContainsTheSame) {
  const Surface sound = kit::ring_surface(0.3, 0.1);
  Surface mixed = sound;
  for (std::size_t i = 0; i < mixed.triangles.size(); i += 7)
    std::swap(mixed.triangles[i][1], mixed.triangles[i][2]);
  const Shell shell = mixed.shell(), reference = sound.shell();
  EXPECT_GT(shell.turned_edges(), 0u);
  EXPECT_TRUE(shell.closed());
  for (const Vec3& place : many_places(reference)) {
    const double winding = kit::winding_number(reference, place);
    if (std::abs(winding - std::round(winding)) < 1e-6) {
      EXPECT_EQ(shell.contains(place), std::lround(winding) != 0) << place.transpose();
    }
  }
}

TEST(Shell, StretchesAlongUprightLinesAreWhereItContains) {
  const Shell shell = kit::ring_surface(0.3, 0.1).turned(kit::some_turn(), {0.1, 0.2, 0.3}).shell();
  std::vector<Shell::Stretch> inside;
  double length = 0;
  constexpr int kLines = 300;
  const Vec3 size = shell.high() - shell.low();
  std::size_t most = 0;
  for (int i = 0; i < kLines; ++i)
    for (int k = 0; k < kLines; ++k) {
      const double x = shell.low().x() + (i + 0.5) / kLines * size.x();
      const double y = shell.low().y() + (k + 0.5) / kLines * size.y();
      shell.stretches(x, y, inside);
      most = std::max(most, inside.size());
      for (const auto& [from, to] : inside) {
        ASSERT_LE(from, to);
        length += to - from;
        if (to - from > 1e-6) {
          ASSERT_TRUE(shell.contains({x, y, 0.5 * (from + to)}));
        }
      }
    }
  EXPECT_GE(most, 2u) << "through the ring twice";
  const double volume = length * size.x() * size.y() / (kLines * kLines);
  EXPECT_NEAR(volume, shell.signed_volume(), 1e-3 * volume);
}

TEST(Shell, AHoleIsAnOpenEdgeAndNothingIsInside) {
  Surface box = kit::box_surface({0.2, 0.2, 0.2});
  box.triangles.erase(box.triangles.begin() + 10, box.triangles.end());  // the top
  const Shell shell = box.shell();
  EXPECT_EQ(shell.open_edges(), 4u);
  EXPECT_FALSE(shell.closed());
  EXPECT_FALSE(shell.contains({0, 0, 0}));
  EXPECT_DOUBLE_EQ(shell.first_open().at.z(), static_cast<double>(0.1f));
  std::vector<Shell::Stretch> inside;
  shell.stretches(0.01, 0.01, inside);
  EXPECT_TRUE(inside.empty());
}

TEST(Shell, CornersWrittenTwiceBecomeOne) {
  const Surface box = kit::box_surface({0.2, 0.2, 0.2});
  Surface loose;  // every triangle with corners of its own, as many programs write them
  for (const Triangle& t : box.triangles) {
    const auto first = static_cast<std::uint32_t>(loose.vertices.size());
    for (const std::uint32_t corner : t) loose.vertices.push_back(box.vertices[corner]);
    loose.triangles.push_back({first, first + 1, first + 2});
  }
  EXPECT_EQ(loose.shell().vertices().size(), 8u);
  EXPECT_TRUE(loose.shell().closed());
  EXPECT_EQ(loose.shell().without_area(), 0u);
}

TEST(Shell, TrianglesWithoutAreaAreCountedAndTearNothing) {
  Surface box = kit::box_surface({0.2, 0.2, 0.2});
  box.triangles.push_back({0, 0, 1});
  EXPECT_EQ(box.shell().without_area(), 1u);
  EXPECT_TRUE(box.shell().closed());
  // The edge from 4 to 5 with a corner in its middle on one side only, closed by a triangle without area.
  Surface split = kit::box_surface({0.2, 0.2, 0.2});
  split.vertices.push_back(0.5 * (split.vertices[4] + split.vertices[5]));
  std::erase(split.triangles, Triangle{4, 5, 7});
  split.triangles.insert(split.triangles.end(), {{4, 8, 7}, {8, 5, 7}, {4, 5, 8}});
  EXPECT_EQ(split.shell().without_area(), 1u);
  EXPECT_TRUE(split.shell().closed());
  EXPECT_TRUE(split.shell().contains({0, -0.05, 0.02}));
}

TEST(Shell, MayTouchNeverMissesATriangle) {
  const Shell shell = kit::ball_surface(0.3, 3).turned(kit::some_turn(), {0.4, 0.2, 0.9}).shell();
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> unit(0, 1);
  const Vec3 low = shell.low(), size = shell.high() - low;
  int free = 0;
  for (int i = 0; i < 3000; ++i) {
    const Vec3 corner = low + size.cwiseProduct(Vec3(unit(random), unit(random), unit(random)));
    const Vec3 extent = 0.05 * Vec3(unit(random), unit(random), unit(random));
    if (shell.may_touch(corner, corner + extent)) continue;
    ++free;
    // Then all of the box is on one side.
    for (int k = 0; k < 8; ++k) {
      const Vec3 share(k & 1 ? 1 : 0, k & 2 ? 1 : 0, k & 4 ? 1 : 0);
      EXPECT_EQ(shell.contains(corner + extent.cwiseProduct(share)), shell.contains(corner));
    }
  }
  EXPECT_GT(free, 1000);
}

TEST(Shell, FewLargeTrianglesAmongManySmallOnesAreFoundToo) {
  // A wide plate under a fine ball: the plate reaches into every column.
  const Surface both = kit::ball_surface(0.1, 4).with(
      kit::box_surface({3, 3, 0.02}).turned(Eigen::Matrix3d::Identity(), {0, 0, -0.3}));
  const Shell shell = both.shell();
  EXPECT_TRUE(shell.contains({0.05, 0.03, 0.01}));
  EXPECT_TRUE(shell.contains({0.05, 0.03, -0.3}));
  EXPECT_TRUE(shell.contains({-1.4, 1.4, -0.3}));
  EXPECT_FALSE(shell.contains({0.05, 0.03, -0.2}));
}

TEST(Shell, APlaceOnItsSurfaceIsNotInside) {
  // At faces, edges and corners, where 0.3 is no number of single precision; and on the facets of a ball that
  // is turned any way. A hair in, it is inside.
  const Surface box = kit::box_surface({0.2, 0.4, 0.6});
  for (const Vec3& shift : {Vec3(0, 0, 0), Vec3(0.17, 0.23, 0.3), Vec3(0.7, 1.1, 2.3)}) {
    const Shell shell = box.turned(Eigen::Matrix3d::Identity(), shift).shell();
    const Vec3 half(0.1, 0.2, 0.3), hair = Vec3::Constant(5e-6);
    for (int k = 0; k < 27; ++k) {
      const Vec3 way(k % 3 - 1, k / 3 % 3 - 1, k / 9 - 1);
      if (way.isZero()) continue;
      EXPECT_FALSE(shell.contains(shift + half.cwiseProduct(way))) << way.transpose();
      EXPECT_TRUE(shell.contains(shift + (half - hair).cwiseProduct(way))) << way.transpose();
    }
  }
  const Shell ball = kit::ball_surface(0.3, 3).turned(kit::some_turn(), {0.4, 0.2, 0.9}).shell();
  const Vec3 centre(0.4, 0.2, 0.9);
  for (const Triangle& t : ball.triangles()) {
    const Vec3 &a = ball.vertices()[t[0]], &b = ball.vertices()[t[1]], &c = ball.vertices()[t[2]];
    const Vec3 on = 0.2 * a + 0.5 * b + 0.3 * c;
    EXPECT_FALSE(ball.contains(on));
    EXPECT_TRUE(ball.contains(on + 1e-5 * (centre - on).normalized()));
  }
}

TEST(TriangleTests, MeetsABoxThatHoldsNoneOfItsCorners) {
  const Corners wide = {Vec3(-4, -4, 0.05), Vec3(9, -4, 0.05), Vec3(-4, 9, 0.05)};
  EXPECT_TRUE(meets_box(wide, {-0.3, -0.2, -1}, {0.3, 0.2, 1}));
  EXPECT_FALSE(meets_box(wide, {-0.3, -0.2, -0.01}, {0.3, 0.2, 0.01}));
  EXPECT_TRUE(meets_box(wide, {-0.3, -0.2, 0.05}, {0.3, 0.2, 1})) << "its faces count";
  EXPECT_TRUE(meets_box(wide, {2.4, 2.4, 0}, {3, 3, 1})) << "over its slanted edge, x + y = 5";
  EXPECT_FALSE(meets_box(wide, {2.6, 2.6, 0}, {3, 3, 1})) << "past it, though the boxes overlap";
}

}  // namespace
}  // namespace boughlight
