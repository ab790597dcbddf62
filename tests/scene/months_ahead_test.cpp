// The section `outlook`: how plants and the animal grow and meshes foul.
#include "scene/months_ahead.h"

#include <cmath>

#include "stand_ins.h"

namespace boughlight {
namespace {

const std::string kFig =
    "plants: [{name: fig, crown: {at: [45, 25, 60], radii: [10, 10, 10], leaf_area: 0.1 m2, growth: 1.2}, "
    "leaf: {length: 3, width: 2, material: broad-leaf}}]\n";

MonthsAhead ahead_of(const std::string& text) {
  const TempFolder folder;
  return load_scene_ahead(folder.write("scene.yaml", kCabinet + text)).ahead;
}

TEST(MonthsAhead, HasItsDefaults) {
  const MonthsAhead ahead = ahead_of("");
  EXPECT_EQ(ahead.months, 12);
  EXPECT_EQ(ahead.step, 1);
  EXPECT_EQ(ahead.fouling, 0.03);
  EXPECT_FALSE(ahead.fouling_given);
  EXPECT_TRUE(ahead.growing.empty());
  EXPECT_TRUE(ahead.animal.empty());
}

TEST(MonthsAhead, IsReadInSiUnits) {
  const MonthsAhead ahead =
      ahead_of(kFig +
               "animal: {back: 4, body: {length: 15, height: 5}, reach: 3}\n"
               "outlook:\n  months: 18\n  step: 0.5\n  fouling: {mesh-fine: 2 %}\n"
               "  growing: {fig: {form: gompertz, rate: 15 %, largest: 1.8}}\n"
               "  animal: [{month: 6, back: 5}, {month: 12, back: 6, body: {length: 20, height: 7}}]\n");
  EXPECT_EQ(ahead.months, 18);
  EXPECT_EQ(ahead.step, 0.5);
  EXPECT_TRUE(ahead.fouling_given);
  EXPECT_DOUBLE_EQ(ahead.mesh_factor("mesh-fine", 3), std::pow(0.98, 3));
  EXPECT_DOUBLE_EQ(ahead.mesh_factor("another", 3), std::pow(0.97, 3));
  const GrowthCurve& curve = ahead.growing.at("fig");
  EXPECT_EQ(curve.form, GrowthForm::gompertz);
  EXPECT_EQ(curve.rate, 0.15);
  EXPECT_EQ(curve.largest, 1.8);
  ASSERT_EQ(ahead.animal.size(), 2u);
  EXPECT_EQ(ahead.animal[0].back, 0.05);
  EXPECT_EQ(ahead.animal[0].body, std::pair(0.15, 0.05)) << "as it was";
  EXPECT_EQ(ahead.animal[1].body, std::pair(0.20, 0.07));
}

TEST(MonthsAhead, TheSceneAtAMonth) {
  const TempFolder folder;
  folder.write("tube.yaml", kTube);
  const SceneAhead loaded = load_scene_ahead(folder.write(
      "scene.yaml",
      kCabinet + kFig +
          "animal: {back: 4, reach: 3}\n"
          "lamps:\n  - {name: a, fixture: tube.yaml, at: [45, 24, 120], lit: \"08:00-18:00\", burned: 100 "
          "h}\n"
          "  - {name: b, fixture: tube.yaml, at: [45, 24, 130], burned: 50 h}\n"
          "outlook: {growing: {fig: {rate: 0.2, largest: 2}}, animal: [{month: 6, back: 5}]}\n"));
  const Scene later = scene_at(loaded.scene, loaded.ahead, 3);
  // Logistic growth from 1.2 to at most 2.
  EXPECT_DOUBLE_EQ(later.plants[0].growth, 2 / (1 + (2 / 1.2 - 1) * std::exp(-0.6)));
  EXPECT_DOUBLE_EQ(later.lamps[0].burned_h, 100 + 3 * 10 * 30.4375);
  EXPECT_EQ(later.lamps[1].burned_h, 50) << "nobody says how long it is lit";
  EXPECT_DOUBLE_EQ(later.animal->back, 0.045);
  EXPECT_DOUBLE_EQ(scene_at(loaded.scene, loaded.ahead, 9).animal->back, 0.05) << "it stays as it last was";
}

TEST(GrowthCurve, SolvesItsEquation) {
  const double now = 0.4, months = 2.5, step = 1e-5;
  for (const GrowthForm form : growth_forms()) {
    const GrowthCurve curve{form, 0.3, 2};
    EXPECT_DOUBLE_EQ(curve.after(now, 0), now);
    EXPECT_NEAR(curve.after(now, 400), 2, 1e-12);
    const double size = curve.after(now, months);
    const double slope = (curve.after(now, months + step) - curve.after(now, months - step)) / (2 * step);
    const double expected = form == GrowthForm::logistic   ? 0.3 * size * (1 - size / 2)
                            : form == GrowthForm::gompertz ? 0.3 * size * std::log(2 / size)
                                                           : 0.3 * (2 - size);
    EXPECT_NEAR(slope, expected, 1e-8) << growth_form_name(form);
    EXPECT_NEAR(*curve.months_until(now, size), months, 1e-9);
    EXPECT_EQ(curve.months_until(now, 0.3), 0);
    EXPECT_FALSE(curve.months_until(now, 2));
    EXPECT_EQ(curve.after(2.5, 7), 2.5) << "what is larger stays";
  }
}

TEST(WrongMonthsAhead, AreTold) {
  const TempFolder folder;
  expect_mistakes(
      folder,
      {{"outlook: 12\n",
        {"scene.yaml:3:10: outlook: is '12'; a mapping with months, step, fouling, growing or animal is "
         "needed "
         "here"}},
       {"outlook: {month: 12}\n",
        {"scene.yaml:3:11: outlook.month: is an unknown key (did you mean 'months'?); allowed: months, step, "
         "fouling, growing or animal"}},
       {"outlook: {months: 0}\n",
        {"scene.yaml:3:19: outlook.months: '0' is not allowed: it must be more than 0 and at most 120"}},
       {"outlook: {months: 6, step: 7}\n",
        {"scene.yaml:3:28: outlook.step: is longer than the 6 months to look ahead"}},
       {"outlook: {months: 120, step: 0.5}\n",
        {"scene.yaml:3:30: outlook.step: makes 240 steps of 120 months; at most 120 are allowed"}},
       {"outlook: {fouling: 100 %}\n",
        {"scene.yaml:3:20: outlook.fouling: '100 %' is not allowed: it must be 0 or more and less than 1 (1 "
         "is "
         "100 %)"}},
       {"outlook: {fouling: {mesh-fin: 3 %}}\n",
        {"scene.yaml:3:21: outlook.fouling.mesh-fin: there is no mesh in use 'mesh-fin' (did you mean "
         "'mesh-fine'?); there are mesh-fine"}},
       {"outlook: {growing: {fig: {rate: 10 %, largest: 2}}}\n",
        {"scene.yaml:3:21: outlook.growing.fig: 'fig' is no plant: the scene has none"}},
       {kFig + "outlook: {growing: {fog: {rate: 10 %, largest: 2}}}\n",
        {"scene.yaml:4:21: outlook.growing.fog: there is no plant 'fog' (did you mean 'fig'?); there are "
         "fig"}},
       {kFig + "outlook: {growing: {fig: {form: linear, rate: 0, largest: 1}}}\n",
        {"scene.yaml:4:33: outlook.growing.fig.form: is 'linear'; logistic, gompertz or monomolecular is "
         "allowed",
         "scene.yaml:4:47: outlook.growing.fig.rate: '0' is not allowed: it must be more than 0 and at most "
         "5 "
         "(1 is 100 %)",
         "scene.yaml:4:59: outlook.growing.fig.largest: 'fig' has grown further already: its 'growth' is "
         "1.2"}},
       {kFig + "outlook: {growing: {fig: {form: logistic}}}\n",
        {"scene.yaml:4:26: outlook.growing.fig: 'rate' is missing: how fast it grows, such as 10 % a month",
         "scene.yaml:4:26: outlook.growing.fig: 'largest' is missing: the growth at which the crown stops, "
         "2: "
         "twice its radii"}},
       {"outlook: {animal: [{month: 6, back: 5}]}\n",
        {"scene.yaml:3:19: outlook.animal: says how the animal grows, but the scene has no 'animal'"}},
       {"animal: {back: 4, reach: 3}\noutlook: {animal: [{month: 6, back: 5}, {month: 6, back: 900}]}\n",
        {"scene.yaml:4:49: outlook.animal[1].month: must be later than the one before, 6",
         "scene.yaml:4:58: outlook.animal[1].back: '900' is not allowed: it must be from 0 to 5 m"}}});
}

}  // namespace
}  // namespace boughlight
