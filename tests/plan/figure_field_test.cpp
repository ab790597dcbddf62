// Regions whose shape is known: slack, limits that bind, asks that exclude each other, what would open them.
#include "plan/figure_field.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

namespace boughlight {
namespace {

std::vector<double> even(double from, double to, int steps) {
  std::vector<double> values;
  for (int i = 0; i <= steps; ++i) values.push_back(from + (to - from) * i / steps);
  return values;
}

using Value = std::function<double(double, double, double)>;

// Figures as given functions of the place, without errors.
FigureField field_of(const std::vector<Value>& values, const std::vector<Ask>& asks,
                     const std::array<std::vector<double>, 3>& axes, double se = 0) {
  FigureField field;
  field.axes = axes;
  field.asks.figures.resize(values.size());
  for (std::size_t f = 0; f < values.size(); ++f) field.asks.figures[f].item = f;
  field.asks.asks = asks;
  field.counts.assign(asks.size(), 1);
  field.blocked.assign(field.size(), 0);
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    const std::array<double, 3> at = field.place(choice);
    for (const Value& value : values) field.figures.push_back({value(at[0], at[1], at[2]), se, {}});
  }
  return field;
}

const std::array<std::vector<double>, 3> kCube = {even(0, 1, 20), even(0, 1, 20), even(0, 1, 10)};
const Value kX = [](double x, double, double) { return x; };
const Value kY = [](double, double y, double) { return y; };
constexpr double kExact = 1e-9;

TEST(FigureField, ASlabsSlackIsHalfItsThicknessInItsMiddle) {
  const FigureField field = field_of({kX}, {{0, true, 0.22}, {0, false, 0.62}}, kCube);
  const Region region = region_of(field);
  // x = 0.25 ... 0.60 of 21, at 21 x 11 places each.
  EXPECT_EQ(region.allowed, 8u * 21 * 11);
  EXPECT_EQ(region.unsure, 0u);
  ASSERT_TRUE(region.spot.has_value());
  const std::array<double, 3> spot = field.place(*region.spot);
  // The middle is at 0.42, between the places at 0.40 and 0.45; in y and z there is more room than that.
  EXPECT_NEAR(spot[0], 0.40, kExact);
  EXPECT_NEAR(region.slack[*region.spot], 0.18, kExact);
  EXPECT_NEAR(region.ways[0][0].distance, 0.18, kExact);
  EXPECT_EQ(region.ways[0][0].ask, 0u);
  EXPECT_NEAR(region.ways[0][1].distance, 0.22, kExact);
  EXPECT_EQ(region.ways[0][1].ask, 1u);
  EXPECT_TRUE(region.ways[1][0].ends);
  EXPECT_NEAR(region.ways[1][0].distance, spot[1], kExact);
  EXPECT_FALSE(region.ways[1][0].ask.has_value());
}

TEST(FigureField, SlackIsADistanceInAllDirections) {
  // Inside a ball about (0.5, 0.5, 0.5) of radius 0.4: the figure is the distance, so margins go straight.
  const Value distance = [](double x, double y, double z) {
    return std::sqrt((x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5) + (z - 0.5) * (z - 0.5));
  };
  const FigureField field = field_of({distance}, {{0, false, 0.4}}, kCube);
  const Region region = region_of(field);
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    const double inside = 0.4 - field.figure(choice, 0).value;
    if (inside <= 0) {
      EXPECT_EQ(region.slack[choice], 0);
      continue;
    }
    // Between rim points a tenth apart the ball's surface bulges by 0.1^2 / 8 / 0.4; the nearest rim point
    // may lie half a cell's diagonal to the side: sqrt(inside^2 + 0.07^2) in the worst case.
    EXPECT_GE(region.slack[choice], inside - 0.004);
    EXPECT_LE(region.slack[choice], std::hypot(inside, 0.08) + 0.004);
  }
  EXPECT_NEAR(field.place(*region.spot)[0], 0.5, kExact);
  EXPECT_NEAR(field.place(*region.spot)[2], 0.5, kExact);
}

TEST(FigureField, LimitsThatBindAreCountedByWhatTheyTakeAway) {
  const FigureField field = field_of({kX, kY}, {{0, false, 0.5}, {1, true, 0.8}, {1, false, 2}}, kCube);
  const Region region = region_of(field);
  ASSERT_EQ(region.bindings.size(), 2u) << "an ask that holds everywhere takes nothing away";
  // y >= 0.8 refuses 16 of 21 rows, 11 of 21 columns of them by itself; x <= 0.5 refuses 10 columns.
  EXPECT_EQ(region.bindings[0].ask, 1u);
  EXPECT_EQ(region.bindings[0].refused, 16u * 21 * 11);
  EXPECT_EQ(region.bindings[0].alone, 16u * 11 * 11);
  EXPECT_EQ(region.bindings[1].refused, 10u * 21 * 11);
  EXPECT_EQ(region.bindings[1].alone, 10u * 5 * 11);
  // Towards the front; towards the right.
  EXPECT_GT(region.bindings[0].rim[1][0], 0u);
  EXPECT_EQ(region.bindings[0].rim[1][1], 0u);
  EXPECT_GT(region.bindings[1].rim[0][1], 0u);
}

TEST(FigureField, AnAskThatTheChoiceHasNoSayInIsLeftOut) {
  FigureField field = field_of({kX, kY}, {{0, false, 0.5}, {1, true, 5}}, kCube);
  EXPECT_EQ(region_of(field).allowed, 0u);
  field.counts[1] = 0;
  EXPECT_EQ(region_of(field).allowed, 11u * 21 * 11);
}

TEST(FigureField, WhatIsImpossibleEndsTheSlackBeforeIt) {
  FigureField field = field_of({kX}, {{0, true, 0.01}}, kCube);
  for (std::size_t choice = 0; choice < field.size(); ++choice)
    field.blocked[choice] = field.place(choice)[0] > 0.71;
  const Region region = region_of(field);
  EXPECT_EQ(region.blocked, 6u * 21 * 11);
  const std::size_t at = field.at({10, 10, 5});
  const Slack right = slack_along(field, at, 0, true);
  EXPECT_TRUE(right.blocks);
  EXPECT_NEAR(right.distance, 0.2, kExact);
}

TEST(FigureField, TooCloseToCallIsNeitherAllowedNorRefused) {
  // 95 % of 15 degrees of freedom: 2.1314 standard errors of 0.05 either side of 0.5.
  const FigureField field = field_of({kX}, {{0, false, 0.5}}, kCube, 0.05);
  const Region region = region_of(field);
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    const double x = field.place(choice)[0];
    const ChoiceState expected = x < 0.5 - 0.1066   ? ChoiceState::allowed
                                 : x > 0.5 + 0.1066 ? ChoiceState::refused
                                                    : ChoiceState::unsure;
    EXPECT_EQ(region.states[choice], expected) << x;
  }
}

TEST(FigureField, TwoAsksThatExcludeEachOtherAreNamedAndTheLeastLooseningFound) {
  // x at least 0.8 and (another figure) x at most 0.4: loosen the first by half at 0.4, or the second by
  // twice at 0.8; in between both, by more together than the first alone.
  const FigureField field = field_of({kX, kX, kY}, {{0, true, 0.8}, {1, false, 0.4}, {2, false, 0.7}}, kCube);
  const Region region = region_of(field);
  EXPECT_EQ(region.allowed, 0u);
  EXPECT_FALSE(region.spot.has_value());
  ASSERT_EQ(region.conflicts.size(), 1u);
  EXPECT_EQ(region.conflicts[0], (std::vector<std::size_t>{0, 1}));
  ASSERT_EQ(region.openings.size(), 2u);
  ASSERT_EQ(region.openings[0].loosened.size(), 1u);
  EXPECT_EQ(region.openings[0].loosened[0].ask, 0u);
  EXPECT_NEAR(region.openings[0].loosened[0].limit, 0.4, kExact);
  EXPECT_NEAR(region.openings[0].share, 0.5, kExact);
  EXPECT_NEAR(field.place(region.openings[0].choice)[0], 0.4, kExact);
  EXPECT_LE(field.place(region.openings[0].choice)[1], 0.7 + kExact) << "the others hold there";
  EXPECT_EQ(region.openings[1].loosened[0].ask, 1u);
  EXPECT_NEAR(region.openings[1].loosened[0].limit, 0.8, kExact);
}

TEST(FigureField, TheLoosenedLimitOpensTheRegion) {
  const Value slanted = [](double x, double y, double z) { return 1.234567 * x + 0.3 * y - 0.1 * z; };
  FigureField field = field_of({slanted, kX}, {{0, true, 0.9}, {1, false, 0.2}}, kCube, 0.003);
  const Region region = region_of(field);
  ASSERT_EQ(region.allowed, 0u);
  for (const Opening& opening : region.openings) {
    FigureField loose = field;
    for (const Opening::Loosened& one : opening.loosened) loose.asks.asks[one.ask].limit = one.limit;
    EXPECT_TRUE(loose.margin(opening.choice).met());
  }
}

TEST(FigureField, AnAskThatNoChoiceKeepsIsAConflictByItself) {
  const FigureField field = field_of({kX, kY}, {{0, true, 3}, {1, true, 0.5}}, kCube);
  const Region region = region_of(field);
  ASSERT_EQ(region.conflicts.size(), 1u);
  EXPECT_EQ(region.conflicts[0], std::vector<std::size_t>{0});
  EXPECT_NEAR(region.openings[0].loosened[0].limit, 1, kExact) << "the most there is";
}

TEST(FigureField, ThreeAsksOfWhichAnyTwoAgreeAreNamedTogether) {
  const Value sum = [](double x, double y, double) { return x + y; };
  const FigureField field = field_of({kX, kY, sum}, {{0, true, 0.6}, {1, true, 0.6}, {2, false, 1}}, kCube);
  const Region region = region_of(field);
  ASSERT_EQ(region.conflicts.size(), 1u);
  EXPECT_EQ(region.conflicts[0], (std::vector<std::size_t>{0, 1, 2}));
}

TEST(FigureField, FourAsksOfWhichAnyThreeAgreeAreNamedWithoutTheOnesThatHaveNoPart) {
  const Value z = [](double, double, double at) { return at; };
  const Value sum = [](double x, double y, double at) { return x + y + at; };
  const FigureField field =
      field_of({kX, kY, z, sum, kX},
               {{4, false, 0.9}, {0, true, 0.6}, {1, true, 0.6}, {2, true, 0.6}, {3, false, 1.7}}, kCube);
  const Region region = region_of(field);
  ASSERT_EQ(region.conflicts.size(), 1u);
  EXPECT_EQ(region.conflicts[0], (std::vector<std::size_t>{1, 2, 3, 4}));
}

TEST(FigureField, AnAxisThatIsNoLengthGivesNoSlackInCentimetres) {
  FigureField field =
      field_of({kX, [](double, double, double z) { return z; }}, {{0, false, 0.52}, {1, false, 0.55}}, kCube);
  field.metres[2] = 0;
  const Region region = region_of(field);
  // x = 0.25: 0.27 to x = 0.52, and 0.25 to the end; z does not come into it.
  EXPECT_NEAR(region.slack[field.at({5, 10, 5})], 0.27, kExact);
}

}  // namespace
}  // namespace boughlight
