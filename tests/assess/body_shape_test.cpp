#include "assess/body_shape.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scene_kit.h"

namespace boughlight {
namespace {

Scene open_box(const Vec3& size = {1, 1, 1}) {
  Scene scene;
  kit::add_box(scene, size, -1);
  return scene;
}

Perch perch_at(const Vec3& at) {
  Perch perch;
  perch.name = "perch";
  perch.at = at;
  return perch;
}

TEST(BodyAxis, IsWhatThePerchSaysBeforeAnythingElse) {
  Scene scene = open_box();
  scene.branches = {{"bough", {{0.1, 0.5, 0.5}, {0.9, 0.5, 0.5}}, 0.02, 0}};
  Perch perch = perch_at({0.5, 0.5, 0.51});
  perch.along = Vec3::UnitY();
  EXPECT_EQ(body_axis(scene, perch).direction, Vec3(Vec3::UnitY()));
  EXPECT_EQ(body_axis(scene, perch).origin, AxisOrigin::along);
}

TEST(BodyAxis, FollowsTheNearestStretchWhicheverEndItIsDrawnFrom) {
  Scene scene = open_box();
  const Vec3 slope = Vec3(3, 0, 4).normalized();
  scene.branches = {{"bent", {{0.9, 0.5, 0.9}, {0.6, 0.5, 0.5}, {0.1, 0.5, 0.5}}, 0.02, 0},
                    {"far", {{0.1, 0.9, 0.1}, {0.1, 0.1, 0.1}}, 0.02, 0}};
  const BodyAxis sloping = body_axis(scene, perch_at({0.75, 0.5, 0.71}));
  EXPECT_TRUE(sloping.direction.isApprox(slope)) << sloping.direction.transpose();
  EXPECT_EQ(sloping.origin, AxisOrigin::branch);
  EXPECT_TRUE(body_axis(scene, perch_at({0.3, 0.5, 0.51})).direction.isApprox(Vec3::UnitX()));
  scene.boards = {{"shelf", {0.2, 0.1, 0.3}, {0.1, 0, 0}, {0, -0.4, 0}, 0}};
  const BodyAxis shelf = body_axis(scene, perch_at({0.25, -0.1, 0.3}));
  EXPECT_TRUE(shelf.direction.isApprox(Vec3::UnitY()));
  EXPECT_EQ(shelf.origin, AxisOrigin::board);
}

TEST(BodyAxis, IsXWhereThereIsNothingToSitOn) {
  const BodyAxis axis = body_axis(open_box(), perch_at({0.5, 0.5, 0.5}));
  EXPECT_EQ(axis.direction, Vec3(Vec3::UnitX()));
  EXPECT_EQ(axis.origin, AxisOrigin::none);
}

TEST(BodyOutline, HasTwoRowsOverItsLength) {
  const auto places = body_outline(open_box(), {0.5, 0.5, 0.5}, Vec3::UnitY(), 0.2, 0.06, Vec3::UnitZ());
  ASSERT_EQ(places.size(), 2u * kOutlinePlaces);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double along = -0.1 + 0.025 * static_cast<double>(i % kOutlinePlaces);
    EXPECT_EQ(places[i].flank, i >= kOutlinePlaces);
    EXPECT_NEAR(places[i].along, along, 1e-12);
    EXPECT_TRUE(places[i].at.isApprox(Vec3(0.5, 0.5 + along, places[i].flank ? 0.44 : 0.5)));
  }
  EXPECT_EQ(places[kOutlinePlaces / 2].along, 0) << "the perch's own reading is one of them";
}

TEST(BodyOutline, TheFlankHangsBesideItsBranchOnTheSideThatTheSensorLooksTo) {
  Scene scene = open_box();
  constexpr double kRadius = 0.015;
  scene.branches = {{"bough", {{0.1, 0.5, 0.5}, {0.9, 0.5, 0.5}}, 2 * kRadius, 0}};
  for (const double side : {1.0, -1.0}) {
    const Vec3 back(0.5, 0.5, 0.5 + kRadius + 0.05);
    for (const OutlinePlace& place :
         body_outline(scene, back, Vec3::UnitX(), 0.2, 0.06, Vec3(0, 0.3 * side, 1).normalized())) {
      if (!place.flank) continue;
      EXPECT_NEAR(place.at.z(), back.z() - 0.06, 1e-12);
      EXPECT_GE(scene.branches[0].signed_distance(place.at), 0.005 - 1e-12);
      EXPECT_LE(scene.branches[0].signed_distance(place.at), 0.0061);
      EXPECT_GT(side * (place.at.y() - 0.5), 0);
    }
  }
}

TEST(BodyOutline, TheFlankEndsAboveABoard) {
  Scene scene = open_box();
  scene.boards = {{"shelf", {0.1, 0.1, 0.47}, {0.8, 0, 0}, {0, 0.8, 0}, 0}};
  const auto places = body_outline(scene, {0.5, 0.5, 0.5}, Vec3::UnitX(), 0.2, 0.06, Vec3::UnitZ());
  for (const OutlinePlace& place : places) EXPECT_NEAR(place.at.z(), place.flank ? 0.475 : 0.5, 1e-9);
}

TEST(BodyOutline, LeavesOutWhatIsOutsideOrInsideABranch) {
  Scene scene = open_box();
  const auto at_the_wall = body_outline(scene, {0.05, 0.5, 0.5}, Vec3::UnitX(), 0.2, 0.06, Vec3::UnitZ());
  EXPECT_EQ(at_the_wall.size(), 14u) << "x from 0 on: seven of nine in each row";
  scene.branches = {{"post", {{0.55, 0.5, 0.1}, {0.55, 0.5, 0.9}}, 0.02, 0}};
  const auto at_the_post = body_outline(scene, {0.5, 0.5, 0.5}, Vec3::UnitX(), 0.2, 0.06, Vec3::UnitZ());
  for (const OutlinePlace& place : at_the_post) EXPECT_FALSE(scene.inside_solid(place.at));
  EXPECT_EQ(std::count_if(at_the_post.begin(), at_the_post.end(),
                          [](const OutlinePlace& place) { return !place.flank; }),
            kOutlinePlaces - 1);
}

TEST(BodyLine, StaysInsideAndHoldsThePerch) {
  const auto line = body_line(open_box(), {0.2, 0.5, 0.5}, Vec3::UnitX(), 0.6, 0.0125);
  EXPECT_NEAR(line.front().at.x(), 0, 1e-9);
  EXPECT_NEAR(line.back().along, 0.6, 1e-9);
  EXPECT_TRUE(std::any_of(line.begin(), line.end(), [](const auto& place) { return place.along == 0; }));
  for (std::size_t i = 1; i < line.size(); ++i) EXPECT_NEAR(line[i].along - line[i - 1].along, 0.0125, 1e-12);
}

// Places and values of a function every `step`.
template <class Function>
std::optional<Beam> sampled(double from, double to, double step, Function&& function) {
  std::vector<double> along, values;
  for (double x = from; x <= to + 1e-9; x += step) along.push_back(x), values.push_back(function(x));
  return beam_of(along, values);
}

TEST(Beam, IsThatOfACosineToTheFourth) {
  // A small source that radiates by the cosine law, a height h over a line, on sensors facing up:
  // E = E0 cos^4 (the photometric law of illumination, any lighting handbook), half at
  // cos = 2^(-1/4), 32.77 degrees. Straight lines between places h/40 apart: within (h/80)^2 |E''| / E' ~
  // 2e-4 h.
  const double h = 0.4, half = h * std::tan(std::acos(std::pow(2.0, -0.25)));
  const auto beam =
      sampled(-1, 1, h / 40, [&](double x) { return 7 * std::pow(h * h / (h * h + x * x), 2); });
  ASSERT_TRUE(beam);
  EXPECT_NEAR(beam->from, -half, 3e-4 * h);
  EXPECT_NEAR(beam->to, half, 3e-4 * h);
  EXPECT_NEAR(beam->greatest, 7, 1e-9);
  EXPECT_NEAR(beam->greatest_at, 0, 1e-9);
  EXPECT_FALSE(beam->open_from || beam->open_to);
}

TEST(Beam, IsTheStretchAroundTheGreatestValueAlone) {
  // Two hills, the lower one 0.9 as high, with a dip to 0.3 between them.
  const auto hill = [](double x) { return std::max(1 - std::abs(x), 0.9 - std::abs(x - 1.3)); };
  const auto beam = sampled(-2, 4, 0.01, hill);
  ASSERT_TRUE(beam);
  EXPECT_NEAR(beam->from, -0.5, 1e-9);
  EXPECT_NEAR(beam->to, 0.5, 1e-9);
}

TEST(Beam, SaysWhereItGoesOnBeyondTheLine) {
  const auto beam = sampled(0, 1, 0.1, [](double x) { return 2 - x; });
  ASSERT_TRUE(beam);
  EXPECT_TRUE(beam->open_from);
  EXPECT_TRUE(beam->open_to);
  EXPECT_NEAR(beam->width(), 1, 1e-9);
}

TEST(Beam, IsNothingInTheDark) {
  EXPECT_FALSE(beam_of({0, 1, 2}, {0, 0, 0}));
  EXPECT_FALSE(beam_of({}, {}));
}

TEST(NestedBeams, HeatInsideUltravioletInsideLight) {
  std::map<Quantity, Beam> beams = {{Quantity::infrared, {1, 0, -0.1, 0.1, false, false}},
                                    {Quantity::uvi, {1, 0, -0.2, 0.1, false, false}},
                                    {Quantity::lux, {1, 0, -0.3, 0.3, true, true}}};
  EXPECT_EQ(beams_nested(beams), true);
  beams[Quantity::infrared].to = 0.12;
  EXPECT_EQ(beams_nested(beams), false) << "heat sticks out of the ultraviolet";
  beams[Quantity::infrared].to = 0.1;
  beams[Quantity::uvi].from = -0.32;
  EXPECT_EQ(beams_nested(beams), false) << "ultraviolet sticks out of the light";
  beams.erase(Quantity::lux);
  EXPECT_FALSE(beams_nested(beams).has_value());
}

TEST(Spread, HasNoRatioToNothing) {
  EXPECT_DOUBLE_EQ(*spread_of({2, 3, 6}).peak_to_edge, 3);
  EXPECT_FALSE(spread_of({0, 5}).peak_to_edge);
}

}  // namespace
}  // namespace boughlight
