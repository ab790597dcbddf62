#include "report/contour.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace boughlight {
namespace {

template <typename Value>
Lattice sampled(int columns, int rows, double step, const Value& value) {
  Lattice lattice{{0, 0}, step, columns, rows, {}};
  for (int j = 0; j < rows; ++j) {
    for (int i = 0; i < columns; ++i) lattice.value.push_back(value(i * step, j * step));
  }
  return lattice;
}

TEST(Contours, LieOnTheLineWhereALinearFieldCrosses) {
  const Lattice lattice = sampled(40, 30, 2, [](double x, double y) { return 3 * x + y; });
  const std::vector<Path> paths = contour_lines(lattice, 100);
  ASSERT_EQ(paths.size(), 1u);
  EXPECT_GT(paths[0].size(), 20u);
  for (const Spot& spot : paths[0]) EXPECT_NEAR(3 * spot.x + spot.y, 100, 1e-9);
}

TEST(Contours, CloseIntoOneRingRoundAPeak) {
  const Lattice lattice = sampled(50, 50, 2, [](double x, double y) { return -std::hypot(x - 49, y - 51); });
  const std::vector<Path> paths = contour_lines(lattice, -30);
  ASSERT_EQ(paths.size(), 1u);
  EXPECT_EQ(paths[0].front().x, paths[0].back().x);
  EXPECT_EQ(paths[0].front().y, paths[0].back().y);
  // Straight interpolation on squares of 2 is off a circle of 30 by at most 2 x 2 / (8 x 30).
  for (const Spot& spot : paths[0]) EXPECT_NEAR(std::hypot(spot.x - 49, spot.y - 51), 30, 0.02);
}

TEST(Contours, SplitASaddleByItsMiddle) {
  // High at two opposite corners; the middle is below the level, so each stands alone.
  Lattice lattice{{0, 0}, 1, 2, 2, {1, 0, 0, 1}};
  EXPECT_EQ(contour_lines(lattice, 0.6).size(), 2u);
  for (const Path& path : contour_lines(lattice, 0.6)) {
    const double length = std::hypot(path[0].x - path[1].x, path[0].y - path[1].y);
    EXPECT_NEAR(length, 0.4 * std::sqrt(2.0), 1e-12);  // cuts off the high corner
  }
  for (const Path& path : contour_lines(lattice, 0.4)) {
    const double length = std::hypot(path[0].x - path[1].x, path[0].y - path[1].y);
    EXPECT_NEAR(length, 0.4 * std::sqrt(2.0), 1e-12);  // cuts off the low corner
  }
}

TEST(Contours, StopWhereValuesAreMissing) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const Lattice lattice =
      sampled(21, 21, 1, [nan](double x, double y) { return std::abs(y - 10) < 2 ? nan : x; });
  const std::vector<Path> paths = contour_lines(lattice, 7.5);
  EXPECT_EQ(paths.size(), 2u);
  for (const Path& path : paths) {
    for (const Spot& spot : path) EXPECT_GE(std::abs(spot.y - 10), 2);
  }
}

TEST(Contours, AreNoneWhereTheLevelIsNotReached) {
  const Lattice lattice = sampled(10, 10, 1, [](double x, double) { return x; });
  EXPECT_TRUE(contour_lines(lattice, 50).empty());
  EXPECT_TRUE(contour_lines(lattice, -1).empty());
}

}  // namespace
}  // namespace boughlight
