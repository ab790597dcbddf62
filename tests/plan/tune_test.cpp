// Tuned lamps in scenes whose answer is known in closed form.
#include "plan/tune.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scene/stand_ins.h"

namespace boughlight {
namespace {

// A black crate, open at the front, under a point lamp of 1000 lx at 30 cm in every direction.
const std::string kBulb = R"(fixture: 1
title: bulb
emitter: {shape: point}
distribution: {form: isotropic}
emission: [{part: visible, spectrum: {bands: [{at: 550 nm, width: 40 nm}]}, output: {lux: 1000, at: 30 cm}}]
)";
const std::string kHalfBulb = R"(fixture: 1
title: weaker bulb
emitter: {shape: point}
distribution: {form: isotropic}
emission: [{part: visible, spectrum: {bands: [{at: 550 nm, width: 40 nm}]}, output: {lux: 500, at: 30 cm}}]
)";

class TuneCrate : public testing::Test {
 protected:
  TuneCrate() {
    folder_.write("bulb.yaml", kBulb);
    folder_.write("half.yaml", kHalfBulb);
  }
  // Wide glass-like mesh would dim: the top is a mesh that lets everything through.
  PlannedScene crate(const std::string& points, const std::string& lamps) {
    return load_planned_scene(folder_.write(
        "crate.yaml",
        "boughlight: 1   # mine\nlength_unit: cm\n"
        "enclosure: [{box: crate, size: [40, 40, 60], faces: {floor: black, back: black, left: black, right: "
        "black, "
        "front: black, top: clear}}]\n"
        "materials:\n  black: {surface: matte, reflectance: 0}\n  clear: {surface: mesh, transmittance: 1}\n"
        "points:\n" +
            points + "lamps:\n" + lamps + "survey: {spacing: 10, tolerance: 1 %, seed: 3}\n"));
  }
  static double change_to(const Tune& tune, TuneKind kind) {
    for (const TunedChange& change : tune.changes)
      if (change.kind == kind) return kind == TuneKind::dim ? change.after.dim : change.after.at.z();
    return std::nan("");
  }
  TempFolder folder_;
};

TEST_F(TuneCrate, ADimmerReachesAnIlluminance) {
  // 40 cm below: 562.5 lx at full. Between 260 and 300 lx: from 46 to 53 %, with the greatest slack in the
  // logarithmic middle, sqrt(260 x 300) / 562.5 = 49.7 %.
  const Tune tune =
      tune_lamps(crate("  - {name: middle, at: [20, 20, 30], wants: {lux: [260, 300]}}\n",
                       "  - {name: bulb, fixture: bulb.yaml, over: {x: 20, y: 20, gap: 10}, dim: 100 %}\n"),
                 {});
  EXPECT_EQ(tune.after, WholeVerdict::met);
  ASSERT_EQ(tune.changes.size(), 1U) << "one dimmer does it: the fewest changes";
  EXPECT_NEAR(change_to(tune, TuneKind::dim), std::sqrt(260.0 * 300) / 562.5, 0.012);
  EXPECT_TRUE(tune.unmet.empty());
  EXPECT_EQ(tune.asks.size(), 2U);
}

TEST_F(TuneCrate, WithoutADimmerTheGapDoesIt) {
  // 1000 x (30 / d)^2 between 300 and 340 lx: d from 51.4 to 54.8 cm, in the middle 53.0 cm: at z = 83 cm.
  const PlannedScene scene =
      crate("  - {name: middle, at: [20, 20, 30], wants: {lux: [300, 340]}}\n",
            "  - {name: bulb, fixture: bulb.yaml, over: {x: 20, y: 20, gap: 10}}  # keep me\n");
  TuneControl control;
  control.kinds = {TuneKind::gap};
  const Tune tune = tune_lamps(scene, control);
  EXPECT_EQ(tune.after, WholeVerdict::met);
  ASSERT_EQ(tune.changes.size(), 1U);
  EXPECT_NEAR(change_to(tune, TuneKind::gap), 0.30 + 0.30 * std::sqrt(1000 / std::sqrt(300.0 * 340)), 0.012);
  const std::string text = tuned_scene_text(scene, tune);
  EXPECT_NE(text.find("# keep me"), std::string::npos);
  const Scene again = load(folder_, text);
  EXPECT_NEAR(again.lamps[0].at.z(), change_to(tune, TuneKind::gap), 1e-6);
}

TEST_F(TuneCrate, NothingIsChangedWhereAllIsMet) {
  const Tune tune =
      tune_lamps(crate("  - {name: middle, at: [20, 20, 30], wants: {lux: {min: 300}}}\n",
                       "  - {name: bulb, fixture: bulb.yaml, over: {x: 20, y: 20, gap: 10}, dim: 90 %}\n"),
                 {});
  EXPECT_EQ(tune.after, WholeVerdict::met);
  EXPECT_TRUE(tune.changes.empty());
  EXPECT_EQ(tune.surveys, 1U);
}

TEST_F(TuneCrate, AnotherFixtureIsChosenWhereNothingElseMayChange) {
  const PlannedScene scene =
      crate("  - {name: middle, at: [20, 20, 30], wants: {lux: {max: 350}}}\n",
            "  - {name: bulb, fixture: bulb.yaml, choose: [half.yaml], at: [20, 20, 70]}\n");
  TuneControl control;
  control.kinds = {TuneKind::fixture};
  const Tune tune = tune_lamps(scene, control);
  EXPECT_EQ(tune.after, WholeVerdict::met);
  ASSERT_EQ(tune.changes.size(), 1U);
  const std::string text = tuned_scene_text(scene, tune);
  EXPECT_NE(text.find("fixture: half.yaml, choose: [bulb.yaml]"), std::string::npos) << text;
  EXPECT_EQ(load(folder_, text).lamps[0].fixture->name, "half.yaml");
}

TEST_F(TuneCrate, WantsThatExcludeEachOtherAreToldAndOneIsKept) {
  // A quarter as far gives sixteen times as much: no dimmer gives both.
  TuneControl control;
  control.kinds = {TuneKind::dim};
  const PlannedScene scene = crate(
      "  - {name: high, at: [20, 20, 60], wants: {lux: {max: 500}}}\n"
      "  - {name: low, at: [20, 20, 30], wants: {lux: {min: 400}}}\n",
      "  - {name: bulb, fixture: bulb.yaml, at: [20, 20, 70], dim: 100 %}\n");
  const Tune tune = tune_lamps(scene, control);
  EXPECT_EQ(tune.after, WholeVerdict::unmet);
  EXPECT_EQ(tune.unmet.size(), 1U) << "one of the two can be kept";
}

TEST_F(TuneCrate, AnImpossibleWantCostsNoOther) {
  const Tune tune = tune_lamps(crate("  - {name: low, at: [20, 20, 30], wants: {lux: [260, 300]}}\n"
                                     "  - {name: dark, at: [20, 20, 10], wants: {uvi: {min: 3}}}\n",
                                     "  - {name: bulb, fixture: bulb.yaml, at: [20, 20, 70], dim: 100 %}\n"),
                               {});
  ASSERT_EQ(tune.unmet.size(), 1U);
  EXPECT_EQ(tune.asks[tune.unmet[0]].about, "dark");
  EXPECT_NEAR(change_to(tune, TuneKind::dim), std::sqrt(260.0 * 300) / 562.5, 0.03);
}

TEST_F(TuneCrate, KeptLampsStay) {
  TuneControl control;
  control.keep = {"bulb"};
  const PlannedScene scene =
      crate("  - {name: middle, at: [20, 20, 30], wants: {lux: [260, 300]}}\n",
            "  - {name: bulb, fixture: bulb.yaml, over: {x: 20, y: 20, gap: 10}, dim: 100 %}\n");
  const Tune tune = tune_lamps(scene, control);
  EXPECT_TRUE(tune.changes.empty());
  EXPECT_EQ(tune.unmet.size(), 1U);
  control.keep = {"blub"};
  EXPECT_THROW(tune_lamps(scene, control), InputError);
}

TEST_F(TuneCrate, ASceneThatAsksForNothingIsRefused) {
  EXPECT_THROW(tune_lamps(crate("  - {name: middle, at: [20, 20, 30]}\n",
                                "  - {name: bulb, fixture: bulb.yaml, at: [20, 20, 70]}\n"),
                          {}),
               InputError);
}

TEST_F(TuneCrate, TheSameOnAnyNumberOfThreads) {
  const PlannedScene scene =
      crate("  - {name: middle, at: [20, 20, 30], wants: {lux: [300, 340]}}\n",
            "  - {name: bulb, fixture: bulb.yaml, over: {x: 20, y: 20, gap: 10}, along: x}\n");
  TuneControl one, many;
  one.kinds = many.kinds = {TuneKind::gap, TuneKind::place};
  one.threads = 1, many.threads = 3;
  const Tune a = tune_lamps(scene, one), b = tune_lamps(scene, many);
  EXPECT_EQ(tuned_scene_text(scene, a), tuned_scene_text(scene, b));
  ASSERT_EQ(a.asks.size(), b.asks.size());
  for (std::size_t i = 0; i < a.asks.size(); ++i) EXPECT_EQ(a.asks[i].after, b.asks[i].after);
}

}  // namespace
}  // namespace boughlight
