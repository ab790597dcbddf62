#include "assess/way.h"

#include <gtest/gtest.h>

#include "scene_kit.h"

namespace boughlight {
namespace {

Scene cage() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  scene.animal = Animal{};
  scene.animal->back = 0.03;
  return scene;
}

std::size_t place_on(const std::vector<PerchablePlace>& places, const std::string& on, int step) {
  for (std::size_t i = 0; i < places.size(); ++i)
    if (places[i].on == on && places[i].step == step) return i;
  ADD_FAILURE() << on << " " << step;
  return 0;
}

TEST(Steps, FollowABranchAndCrossGapsNoWiderThanTheStride) {
  Scene scene = cage();
  // The surfaces of the two branches are 7 cm apart, the board 5 cm below the second one's surface.
  scene.branches = {{"upper", {{0.1, 0.5, 0.5}, {0.5, 0.5, 0.5}}, 0.02, 0},
                    {"lower", {{0.1, 0.5, 0.41}, {0.5, 0.5, 0.41}}, 0.02, 0}};
  scene.boards = {{"shelf", {0.1, 0.45, 0.35}, {0.4, 0, 0}, {0, 0.1, 0}, 0}};
  const auto places = perchable_places(scene, 0.1);
  ASSERT_EQ(places.size(), 12u);
  const auto joined = [&](double stride, const std::string& a, int step_a, const std::string& b, int step_b) {
    const Steps steps = steps_between(scene, places, stride);
    const std::size_t from = place_on(places, a, step_a), to = place_on(places, b, step_b);
    const bool there = std::count(steps[from].begin(), steps[from].end(), to) > 0;
    EXPECT_EQ(there, std::count(steps[to].begin(), steps[to].end(), from) > 0) << "a way back";
    return there;
  };
  EXPECT_TRUE(joined(0, "upper", 1, "upper", 2));
  EXPECT_FALSE(joined(1, "upper", 0, "upper", 2)) << "it does not leap along its own branch";
  // From the seat on top of the lower branch to the upper one: 0.5 - 0.01 - 0.42 = 7 cm.
  EXPECT_FALSE(joined(0.069, "upper", 1, "lower", 1));
  EXPECT_TRUE(joined(0.071, "upper", 1, "lower", 1));
  // From the board up to the lower branch: 0.40 - 0.35 = 5 cm.
  EXPECT_FALSE(joined(0.049, "lower", 1, "shelf", 1));
  EXPECT_TRUE(joined(0.051, "lower", 1, "shelf", 1));
}

TEST(Steps, APieceOutsideTheEnclosurePartsABranch) {
  Scene scene = cage();
  scene.branches = {{"arch", {{0.2, 0.5, 0.9}, {0.2, 0.5, 1.1}, {0.8, 0.5, 1.1}, {0.8, 0.5, 0.9}}, 0.02, 0}};
  const auto places = perchable_places(scene, 0.05);
  const Steps steps = steps_between(scene, places, 0);
  std::size_t joins = 0;
  for (const auto& next : steps) joins += next.size();
  EXPECT_EQ(joins, 2 * (places.size() - 2)) << "two pieces";
}

// Places in a row, 10 cm apart, and the joins that a row has.
struct Row {
  std::vector<PerchablePlace> places;
  Steps steps;

  explicit Row(std::size_t count) : steps(count) {
    for (std::size_t i = 0; i < count; ++i) {
      places.push_back({Vec3(0.1 * static_cast<double>(i), 0, 0.1), Vec3(0.1 * static_cast<double>(i), 0, 0),
                        0.1, "row", 0, static_cast<int>(i)});
      if (i > 0) join(i - 1, i);
    }
  }
  void join(std::size_t a, std::size_t b) {
    steps[a].push_back(b);
    steps[b].push_back(a);
  }
};

TEST(CoveredWay, LeavesTheSunOnceAndForAll) {
  const Row row(6);
  const std::vector<double> share = {0.9, 1.0, 0.7, 0.4, 0.2, 0.05};
  const std::vector<char> refuge = {0, 0, 0, 0, 0, 1};
  const auto way = most_covered_way(row.places, row.steps, share, refuge, 1);
  ASSERT_TRUE(way);
  EXPECT_TRUE(way->covered);
  EXPECT_DOUBLE_EQ(way->worst_share, 0.4) << "the sunny stretch of the start costs nothing";
  EXPECT_EQ(way->places, (std::vector<std::size_t>{1, 2, 3, 4, 5}));
  EXPECT_NEAR(way->length, 0.4, 1e-12);
  EXPECT_EQ(covered_from(row.steps, share, 1), (std::vector<char>{1, 1, 1, 1, 1, 1}));
}

TEST(CoveredWay, AnotherSunnyStretchOnTheWayExposesIt) {
  const Row row(6);
  const std::vector<double> share = {1.0, 0.3, 0.6, 0.3, 0.2, 0.05};
  const std::vector<char> refuge = {0, 0, 0, 0, 0, 1};
  const auto way = most_covered_way(row.places, row.steps, share, refuge, 0);
  ASSERT_TRUE(way);
  EXPECT_FALSE(way->covered);
  EXPECT_DOUBLE_EQ(way->worst_share, 0.6);
  EXPECT_EQ(covered_from(row.steps, share, 0), (std::vector<char>{1, 1, 0, 0, 0, 0}));
}

TEST(CoveredWay, PrefersCoverToShortness) {
  // From 0 straight on through 45 % to the refuge at 2, or round by 3 and 4 with at most 20 %.
  Row row(3);
  for (const double y : {0.1, 0.2}) {
    row.places.push_back({Vec3(0, y, 0.1), Vec3(0, y, 0), 0.1, "round", 1, 0});
    row.steps.emplace_back();
  }
  row.join(0, 3);
  row.join(3, 4);
  row.join(4, 2);
  const std::vector<double> share = {1.0, 0.45, 0.05, 0.2, 0.1};
  const std::vector<char> refuge = {0, 0, 1, 0, 0};
  const auto way = most_covered_way(row.places, row.steps, share, refuge, 0);
  ASSERT_TRUE(way);
  EXPECT_EQ(way->places, (std::vector<std::size_t>{0, 3, 4, 2}));
  EXPECT_DOUBLE_EQ(way->worst_share, 0.2);
}

TEST(CoveredWay, IsNotThereWithoutAConnectedRefuge) {
  Row row(3);
  row.places.push_back({Vec3(5, 0, 0.1), Vec3(5, 0, 0), 0.1, "far", 1, 0});
  row.steps.emplace_back();
  const std::vector<double> share = {1.0, 0.4, 0.3, 0.0};
  EXPECT_FALSE(most_covered_way(row.places, row.steps, share, {0, 0, 0, 1}, 0));
  EXPECT_FALSE(most_covered_way(row.places, row.steps, share, {0, 0, 0, 0}, 0));
}

TEST(CoveredWay, OfASunThatIsARefugeItselfIsNoWay) {
  const Row row(2);
  const auto way = most_covered_way(row.places, row.steps, {0.05, 0.05}, {1, 1}, 0);
  ASSERT_TRUE(way);
  EXPECT_TRUE(way->covered);
  EXPECT_EQ(way->length, 0);
}

}  // namespace
}  // namespace boughlight
