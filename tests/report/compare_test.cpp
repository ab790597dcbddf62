// Two layouts side by side, from surveys of small scenes.
#include "plan/compare.h"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "assess/survey.h"
#include "report/compare_report.h"
#include "report/map_style.h"
#include "sample_survey.h"
#include "scene_kit.h"

namespace boughlight {
namespace {

// A grey box under an even lamp, with one sensor in it.
Scene grey_box(double dim, std::uint64_t seed = 1) {
  Scene scene;
  scene.file = "grey.yaml";
  kit::add_box(scene, {0.4, 0.4, 0.6}, kit::add_material(scene, kit::grey(0.6)));
  Lamp& lamp = kit::add_lamp(scene, make_sphere_emitter(0.04, nullptr), {0.2, 0.2, 0.5}, 40);
  lamp.name = "bulb";
  lamp.dim = dim;
  kit::add_point(scene, "middle", {0.15, 0.2, 0.2});
  scene.survey = {0.1, 0.02, seed};
  return scene;
}

const FigureChange& reading_change(const Comparison& comparison, Quantity quantity) {
  for (const FigureChange& change : comparison.figures)
    if (change.kind == ChangedKind::reading && change.quantity == quantity) return change;
  throw std::runtime_error("no such change");
}

Want lux_want(std::optional<double> min, std::optional<double> max) {
  return {Quantity::lux, {min, max}, {}};
}

TEST(Compare, NoiseThatBothLayoutsShareDropsOut) {
  const Survey bright = run_survey(grey_box(1)), dim = run_survey(grey_box(0.5));
  const Comparison comparison = compare_surveys(bright, dim);
  EXPECT_TRUE(comparison.same_seed);
  const FigureChange& change = reading_change(comparison, Quantity::lux);
  // The same samples at half the light: every replicate changes by half of itself, so the error of the change
  // is half of the first's, where independent errors would make it sqrt(1 + 1/4) times it. (Rays are single
  // precision.)
  EXPECT_NEAR(change.change, -0.5 * bright.readings[0].values.at(Quantity::lux).value,
              1e-4 * change.first.value);
  EXPECT_NEAR(change.se, 0.5 * change.first.se, 1e-3 * change.first.se);
  EXPECT_TRUE(change.clear());
  EXPECT_EQ(change.turn, Turn::none) << "nobody asked";
}

TEST(Compare, OtherSeedsHaveErrorsThatAddUp) {
  const Survey one = run_survey(grey_box(1, 1)), other = run_survey(grey_box(1, 2));
  const Comparison comparison = compare_surveys(one, other);
  EXPECT_FALSE(comparison.same_seed);
  const FigureChange& change = reading_change(comparison, Quantity::lux);
  // A standard error from 16 replicates is itself known to 18 %.
  const double both = std::hypot(change.first.se, change.second.se);
  EXPECT_GT(change.se, 0.4 * both);
  EXPECT_LT(change.se, 1.8 * both);
  EXPECT_LT(std::abs(*change.in_errors()), 4.1) << "t with 15 degrees of freedom, 0.1 %";
}

TEST(Compare, TheSameSceneTwiceHasNoChange) {
  const Survey survey = run_survey(grey_box(1));
  const Comparison comparison = compare_surveys(survey, survey);
  for (const FigureChange& change : comparison.figures) {
    EXPECT_EQ(change.change, 0);
    EXPECT_EQ(change.se, change.paired ? 0 : change.se);
    EXPECT_EQ(change.turn, Turn::none);
    EXPECT_EQ(change.in_errors(), 0);
  }
  EXPECT_TRUE(comparison.only.empty());
  EXPECT_TRUE(comparison.lamps.empty());
  EXPECT_TRUE(comparison.altered.empty());
}

TEST(CompareSlow, ATurnGoesByTheVerdictThenByTheRoomToTheLimit) {
  const double lux = run_survey(grey_box(1)).readings[0].values.at(Quantity::lux).value;
  const auto turn = [&](const Want& want, double from, double to) {
    Scene first = grey_box(from), second = grey_box(to);
    first.points[0].wants = second.points[0].wants = {want};
    return reading_change(compare_surveys(run_survey(first), run_survey(second)), Quantity::lux);
  };
  const FigureChange broken = turn(lux_want(0.8 * lux, {}), 1, 0.5);
  EXPECT_EQ(broken.turn, Turn::worse);
  EXPECT_TRUE(broken.verdict_changed());
  EXPECT_NEAR(broken.first_asked->room, 0.25, 0.02);
  EXPECT_NEAR(broken.second_asked->room, -0.375, 0.02);
  const FigureChange closer = turn(lux_want(0.3 * lux, {}), 1, 0.5);
  EXPECT_EQ(closer.turn, Turn::worse);
  EXPECT_FALSE(closer.verdict_changed());
  const FigureChange less_too_high = turn(lux_want({}, 0.2 * lux), 1, 0.5);
  EXPECT_EQ(less_too_high.turn, Turn::better);
  EXPECT_FALSE(less_too_high.verdict_changed());
  const FigureChange hardly = turn(lux_want({}, 100 * lux), 1, 0.5);
  EXPECT_EQ(hardly.turn, Turn::none) << "0.5 % of the limit is no gain";
}

TEST(Compare, ThingsAreMatchedByName) {
  Scene first = grey_box(1), second = grey_box(0.5);
  kit::add_point(first, "left", {0.1, 0.2, 0.3});
  kit::add_point(second, "right", {0.3, 0.2, 0.3});
  kit::add_point(first, "roaming", {0.1, 0.1, 0.1});
  kit::add_point(second, "roaming", {0.1, 0.1, 0.2});
  const Survey before = run_survey(first), after = run_survey(second);
  const Comparison comparison = compare_surveys(before, after);
  ASSERT_EQ(comparison.only.size(), 2u);
  EXPECT_EQ(comparison.only[0].name, "left");
  EXPECT_FALSE(comparison.only[0].in_second);
  EXPECT_EQ(comparison.only[1].name, "right");
  EXPECT_TRUE(comparison.only[1].in_second);
  ASSERT_EQ(comparison.altered.size(), 1u);
  EXPECT_EQ(comparison.altered[0].name, "roaming");
  ASSERT_EQ(comparison.lamps.size(), 1u);
  EXPECT_EQ(comparison.lamps[0].second.dim, 0.5);
  for (const FigureChange& change : comparison.figures) EXPECT_NE(change.name, "right");

  const std::string text = compare_text({before, after, comparison});
  EXPECT_NE(text.find("Only in the first grey.yaml: point 'left'."), std::string::npos) << text;
  EXPECT_NE(text.find("Lamp 'bulb': dimmer"), std::string::npos) << text;
  const auto json = nlohmann::json::parse(compare_json({before, after, comparison}));
  EXPECT_EQ(json["only_in_second"][0]["name"], "right");
  EXPECT_EQ(json["lamps"][0]["second"]["dim"], 0.5);
}

// --- maps

constexpr auto kUvi = static_cast<std::size_t>(Quantity::uvi);

Survey bare_with_error(Survey survey, double se) {
  for (Cell& cell : survey.cells) cell.up[kUvi].se = se;
  return bare(std::move(survey));
}

TEST(ChangeColours, TheTwoSidesDifferInBlueAndYellowAndAreEquallyDark) {
  for (double off = 0.1; off <= 0.5; off += 0.1) {
    const OkLab less = to_oklab(change_colour(0.5 - off)), more = to_oklab(change_colour(0.5 + off));
    EXPECT_LT(less.b, -0.01) << off;
    EXPECT_GT(more.b, 0.01) << off;
    EXPECT_NEAR(less.lightness, more.lightness, 0.06) << off;
  }
  EXPECT_GT(to_oklab(change_colour(0.5)).lightness, 0.95);
}

TEST(ChangeColours, TheScaleIsEvenAboutNothingAndHoldsNineteenOfTwenty) {
  std::vector<double> changes(99, -0.4);
  changes.push_back(80);
  const ColourScale scale = change_scale(changes);
  EXPECT_EQ(scale.high, 0.5);
  EXPECT_EQ(scale.low, -0.5);
  EXPECT_EQ(scale.share(0), 0.5);
  EXPECT_EQ(scale.share(80), 1);
  EXPECT_EQ(change_scale({}).high, 1);
}

TEST(DifferenceMaps, ShowTheSecondLessTheFirst) {
  const Survey first = bare_with_error(survey_with_field([](const Vec3&) { return 2.0; }), 0);
  const Survey second = bare_with_error(survey_with_field([](const Vec3& p) { return 1 + 1.25 * p.z(); }), 0);
  const ColourScale scale = difference_scale(first, second, Quantity::uvi);
  const MapPicture map = draw_difference(first, second, Quantity::uvi, kFront, scale);
  std::size_t compared = 0, equal = 0;
  for (double z = 0.1; z < 1.5; z += 0.013) {
    const Spot spot = map.layout.px(0.313, z);
    const double change = 1.25 * map.layout.v_at(std::floor(spot.y) + 0.5) - 1;
    ++compared;
    equal += map.canvas.at(static_cast<int>(spot.x), static_cast<int>(spot.y)) == scale.colour(change);
  }
  // Lines and signs cover some of it.
  EXPECT_GT(equal, compared / 2);
}

TEST(DifferenceMaps, SignsStandOnlyWhereTheChangeIsClear) {
  const auto ink = [](double se) {
    const Survey first = bare_with_error(survey_with_field([](const Vec3&) { return 2.0; }), se);
    const Survey second = bare_with_error(survey_with_field([](const Vec3&) { return 3.0; }), se);
    const ColourScale scale{Spacing::change, -2, 2};
    const MapPicture map = draw_difference(first, second, Quantity::uvi, kFront, scale);
    std::size_t other = 0;
    // Inside the lower box, away from its walls.
    const Spot low = map.layout.px(0.1, 0.1), high = map.layout.px(0.6, 0.9);
    for (int y = static_cast<int>(high.y); y < static_cast<int>(low.y); ++y)
      for (int x = static_cast<int>(low.x); x < static_cast<int>(high.x); ++x)
        other += map.canvas.at(x, y) != scale.colour(1);
    return other;
  };
  EXPECT_GT(ink(0.1), 500u);
  EXPECT_EQ(ink(0.5), 0u) << "a change of 1 with an error of 0.7";
}

TEST(DifferenceMapsSlow, AreNamedAfterWhatTheyShow) {
  const Survey survey = sample_survey();
  Survey plain = survey;
  plain.responses.assign(plain.readings.size(), {});
  Comparison comparison;
  const std::vector<MapFile> files = difference_maps({plain, plain, comparison});
  EXPECT_FALSE(files.empty());
  for (const MapFile& file : files) EXPECT_TRUE(is_difference_map_name(file.name)) << file.name;
  EXPECT_FALSE(is_difference_map_name("uvi-front.png"));
  EXPECT_FALSE(is_difference_map_name("change-mine.png"));
}

}  // namespace
}  // namespace boughlight
