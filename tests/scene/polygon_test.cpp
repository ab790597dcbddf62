#include "scene/polygon.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

#include "shell_kit.h"

namespace boughlight {
namespace {

std::vector<std::uint32_t> all_of(const std::vector<Vec3>& places) {
  std::vector<std::uint32_t> corners(places.size());
  std::iota(corners.begin(), corners.end(), 0u);
  return corners;
}

// The triangles' area, all turning the polygon's way about `normal`, and its edges no others at the rim.
void expect_cut(const std::vector<Vec3>& places, double area, const Vec3& normal) {
  const auto triangles = cut_into_triangles(places, all_of(places));
  ASSERT_TRUE(triangles);
  EXPECT_EQ(triangles->size(), places.size() - 2);
  double sum = 0;
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
  for (const Triangle& t : *triangles) {
    const Vec3 twice = (places[t[1]] - places[t[0]]).cross(places[t[2]] - places[t[0]]);
    EXPECT_GE(twice.dot(normal), -1e-12);
    sum += twice.norm() / 2;
    for (std::size_t k = 0; k < 3; ++k) {
      ++edges[{t[k], t[(k + 1) % 3]}];
      --edges[{t[(k + 1) % 3], t[k]}];
    }
  }
  EXPECT_NEAR(sum, area, 1e-9 * area);
  for (std::uint32_t i = 0; i < places.size(); ++i) {
    const auto next = static_cast<std::uint32_t>((i + 1) % places.size());
    EXPECT_EQ((edges[{i, next}]), 1);
    edges[{i, next}] = edges[{next, i}] = 0;
  }
  for (const auto& [edge, balance] : edges) EXPECT_EQ(balance, 0) << edge.first << ", " << edge.second;
}

TEST(Polygon, ConcaveOnesAreCutWithinTheirOutline) {
  // An arrow head, an L and a comb; areas by hand.
  expect_cut({{0, 0, 0}, {2, 1, 0}, {0, 2, 0}, {0.5, 1, 0}}, 1.5, Vec3::UnitZ());
  expect_cut({{0, 0, 0}, {3, 0, 0}, {3, 1, 0}, {1, 1, 0}, {1, 2, 0}, {0, 2, 0}}, 4, Vec3::UnitZ());
  expect_cut({{0, 0, 0},
              {5, 0, 0},
              {5, 2, 0},
              {4, 2, 0},
              {4, 1, 0},
              {3, 1, 0},
              {3, 2, 0},
              {2, 2, 0},
              {2, 1, 0},
              {1, 1, 0},
              {1, 2, 0},
              {0, 2, 0}},
             8, Vec3::UnitZ());
}

TEST(Polygon, StarsInAnyPlaneKeepTheirAreaAndTurn) {
  // A star of n points with radii R and r covers n R r sin(pi / n).
  for (const int points : {3, 5, 12, 60}) {
    std::vector<Vec3> star;
    for (int i = 0; i < 2 * points; ++i) {
      const double radius = i % 2 == 0 ? 1 : 0.3, angle = std::numbers::pi * i / points;
      star.push_back(kit::some_turn() * Vec3(radius * std::cos(angle), radius * std::sin(angle), 0) +
                     Vec3(3, -2, 5));
    }
    const double area = points * 0.3 * std::sin(std::numbers::pi / points);
    expect_cut(star, area, kit::some_turn() * Vec3::UnitZ());
    std::reverse(star.begin(), star.end());
    expect_cut(star, area, kit::some_turn() * -Vec3::UnitZ());
  }
}

TEST(Polygon, CornersOnAStraightSideStay) {
  expect_cut({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {2, 2, 0}, {1, 2, 0}, {0, 2, 0}, {0, 1, 0}}, 4, Vec3::UnitZ());
}

TEST(Polygon, AnOutlineThatCrossesItselfIsRefused) {
  const auto cut = [](const std::vector<Vec3>& places) { return cut_into_triangles(places, all_of(places)); };
  EXPECT_FALSE(cut({{0, 0, 0}, {1, 1, 0}, {1, 0, 0}, {0, 1, 0}}));    // an even bow tie
  EXPECT_FALSE(cut({{0, 0, 0}, {3, 1, 0}, {3, 0, 0}, {0, 0.4, 0}}));  // an uneven one
  EXPECT_FALSE(cut({{0, 0, 0}, {4, 3, 0}, {0, 3, 0}, {4, 0, 0}, {2, 5, 0}}));
}

TEST(Polygon, OnOneLineItHasNoAreaButAllItsEdges) {
  const std::vector<Vec3> line = {{0, 0, 0}, {1, 0, 0}, {3, 0, 0}, {2, 0, 0}};
  const auto triangles = cut_into_triangles(line, all_of(line));
  ASSERT_TRUE(triangles);
  EXPECT_EQ(triangles->size(), 2u);
}

}  // namespace
}  // namespace boughlight
