// The months ahead against closed forms: ageing, dust, growth and a growing animal, one by one.
#include "plan/outlook.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kHoursADay = 10;

// A black crate, open at the top, under a bare point of light that gives way by half in 4000 h and is lit ten
// hours a day; a sensor 40 cm below it.
Scene ageing_crate() {
  Scene scene;
  kit::add_box(scene, {0.4, 0.4, 0.6}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(scene.boxes[0], Side::top, -1);
  Lamp& lamp = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 0.7}, 40);
  lamp.name = "bulb";
  lamp.lit = {{8, 8 + kHoursADay}};
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->parts[0].ageing = Table({0, 4000}, {1, 0.5}, Between::linear, Beyond::hold);
  lamp.fixture = fixture;
  kit::add_point(scene, "sensor", {0.2, 0.2, 0.3});
  scene.survey = {0.1, 0.02, 1};
  return scene;
}

const Watched& watched(const OutlookResult& outlook, const std::string& reading, Quantity quantity) {
  for (const Watched& one : outlook.watched)
    if (one.reading == reading && one.quantity == quantity) return one;
  throw std::runtime_error("no such figure");
}

double lux_of(Scene scene) {
  scene.points[0].wants = {kit::want(Quantity::lux, 1e-9, {})};
  return watched(look_ahead(scene, {}), "sensor", Quantity::lux).figures[0].value;
}

const Remedy& remedy(const Watched& watched, RemedyKind kind) {
  for (const Remedy& one : watched.fails->remedies)
    if (one.kind == kind) return one;
  throw std::runtime_error("no such remedy");
}

TEST(Outlook, AgeingAloneIsTheReadingTimesTheTablesFactor) {
  Scene scene = ageing_crate();
  const double today = lux_of(scene);
  scene.points[0].wants = {kit::want(Quantity::lux, 0.8 * today, {})};
  const OutlookResult outlook = look_ahead(scene, {});
  EXPECT_EQ(outlook.traced_scenes, 1u) << "ageing needs no rays";
  const Watched& lux = watched(outlook, "sensor", Quantity::lux);
  ASSERT_EQ(lux.figures.size(), 13u);
  for (std::size_t month = 0; month < lux.figures.size(); ++month) {
    const double hours = kHoursADay * kDaysAMonth * static_cast<double>(month);
    EXPECT_NEAR(lux.figures[month].value, today * std::max(0.5, 1 - hours / 8000), 1e-9 * today) << month;
    EXPECT_NEAR(outlook.lamps[0].burned_h[month], hours, 1e-9);
  }
  // 1 - h / 8000 = 0.8 at 1600 h: by hand 1600 / (10 x 30.4375) months. A table that is straight crosses
  // where the straight line between the months does.
  ASSERT_TRUE(lux.fails);
  EXPECT_NEAR(lux.fails->month, 5.256673, 1e-5);
  EXPECT_EQ(lux.fails->verdict, Verdict::below);
  EXPECT_NEAR(lux.fails->earliest, *lux.fails->latest, 1e-5) << "a point of light has no error";
  EXPECT_EQ(lux.verdicts[5], Verdict::met);
  EXPECT_EQ(lux.verdicts[6], Verdict::below);
  EXPECT_NEAR(remedy(lux, RemedyKind::new_lamp).figure.value, today, 1e-9 * today);
  EXPECT_EQ(remedy(lux, RemedyKind::new_lamp).verdict, Verdict::met);
  EXPECT_EQ(outlook.verdict, WholeVerdict::unmet);
  ASSERT_EQ(outlook.new_lamps.size(), 1u);
  EXPECT_EQ(outlook.new_lamps[0].month_index, 6u) << "when it mends the first want";
}

TEST(Outlook, ALampWithoutHoursStaysAsItIs) {
  Scene scene = ageing_crate();
  scene.lamps[0].lit.reset();
  const double today = lux_of(scene);
  scene.points[0].wants = {kit::want(Quantity::lux, 0.99 * today, {})};
  const OutlookResult outlook = look_ahead(scene, {});
  EXPECT_FALSE(watched(outlook, "sensor", Quantity::lux).fails);
  EXPECT_FALSE(outlook.lamps[0].has_hours);
  EXPECT_EQ(outlook.verdict, WholeVerdict::met);
}

TEST(Outlook, ANewLampThatHasAgedMayGiveTooMuch) {
  Scene scene = ageing_crate();
  scene.lamps[0].burned_h = 4000;
  const double today = lux_of(scene);  // half of what it gave
  scene.points[0].wants = {kit::want(Quantity::lux, {}, 1.5 * today)};
  const OutlookResult outlook = look_ahead(scene, {});
  ASSERT_EQ(outlook.new_lamps.size(), 1u);
  EXPECT_EQ(outlook.new_lamps[0].month_index, 12u) << "nothing fails, so at the end";
  bool found = false;
  for (const NewLamp::Change& change : outlook.new_lamps[0].changes) {
    if (outlook.watched[change.watched].quantity != Quantity::lux) continue;
    found = true;
    EXPECT_NEAR(change.fresh.value, 2 * today, 1e-9 * today);
    EXPECT_EQ(change.verdict, Verdict::above);
  }
  EXPECT_TRUE(found);
}

TEST(Outlook, DustTakesItsShareOfEachLayerEachMonth) {
  for (const int layers : {1, 2}) {
    Scene scene = ageing_crate();
    Material mesh = kit::mesh(0.3e-3, 3e-3, 3e-3, 0);
    mesh.layers = layers;
    kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, mesh));
    scene.lamps[0].lit.reset();
    const double today = lux_of(scene);
    scene.points[0].wants = {kit::want(Quantity::lux, 0.7 * today, {})};
    MonthsAhead ahead;
    ahead.fouling = 0.05;
    const OutlookResult outlook = look_ahead(scene, ahead);
    EXPECT_EQ(outlook.traced_scenes, 1u);
    const Watched& lux = watched(outlook, "sensor", Quantity::lux);
    // Black wires scatter nothing, so all light is straight.
    for (std::size_t month = 0; month < lux.figures.size(); ++month)
      EXPECT_NEAR(lux.figures[month].value, today * std::pow(0.95, layers * static_cast<double>(month)),
                  1e-6 * today);
    EXPECT_NEAR(remedy(lux, RemedyKind::clean).figure.value, today, 1e-6 * today);
    // 0.95^(layers m) = 0.7 at m = ln 0.7 / (layers ln 0.95). Between two months exp(-k m) lies below the
    // straight line by at most k^2 / 8 of itself, which is k / 8 of a month.
    const double k = -layers * std::log(0.95);
    EXPECT_NEAR(lux.fails->month, -std::log(0.7) / k, 1.05 * k / 8);
  }
}

TEST(Outlook, WhatIsWeighedIsWhatASurveyOfThatMonthTraces) {
  // Grey walls, two layers of black wire, an aged lamp. (A declared `soiling` takes from the straight light
  // alone, so wires that scatter would not compare.)
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 0.8}, kit::add_material(scene, kit::grey(0.5)));
  Material mesh = kit::mesh(0.3e-3, 1.5e-3, 1.5e-3, 0);
  mesh.layers = 2;
  const int screen = kit::add_material(scene, mesh);
  kit::set_face(scene.boxes[0], Side::top, screen);
  Lamp& tube = kit::add_lamp(scene, make_tube_emitter(0.4, 0.016, nullptr), {0.35, 0.25, 0.9}, 20);
  tube.lit = {{8, 18}};
  tube.burned_h = 300;
  auto fixture = std::make_shared<Fixture>(*tube.fixture);
  fixture->parts[0].ageing = Table({0, 8000}, {1, 0.4}, Between::linear, Beyond::hold);
  tube.fixture = fixture;
  kit::add_point(scene, "sensor", {0.3, 0.25, 0.5});
  scene.points[0].wants = {kit::want(Quantity::lux, 1e-9, {})};
  scene.survey = {0.2, 0.005, 1};
  MonthsAhead ahead;
  ahead.fouling = 0.04;
  ahead.step = 6;
  const Figure weighed = watched(look_ahead(scene, ahead), "sensor", Quantity::lux).figures.back();
  Scene later = scene_at(scene, ahead, 12);
  later.materials[static_cast<std::size_t>(screen)].soiling = std::pow(0.96, 24);
  const Figure traced = watched(look_ahead(later, {}), "sensor", Quantity::lux).figures.front();
  // What is reflected came in by other slants than it is weighed for: 0.01, as for the failure case of dust.
  EXPECT_NEAR(weighed.value, traced.value, 5 * std::hypot(weighed.se, traced.se) + 0.01 * traced.value);
}

// A ball of small black leaves above a probe, under parallel light.
constexpr double kBall = 0.2, kBallArea = 0.16, kLeafSide = 0.004, kProbe = 0.29;
Scene ball_over_probe() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(scene.boxes[0], Side::top, -1);
  Material leaf = kit::grey(0);
  leaf.name = "leaf";
  leaf.kind = SurfaceKind::leaf;
  const int leaves = kit::add_material(scene, leaf);
  Lamp& sun = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 200}, 1e7);
  sun.name = "sun";
  Plant& ball =
      kit::add_plant(scene, {0.5, 0.5, 0.62}, {kBall, kBall, kBall}, kBallArea, kLeafSide, kLeafSide, leaves);
  ball.name = "ball";
  ball.seed = 7;
  // A flat crown with one tiny leaf: its reading is the mean over it.
  Plant& probe = kit::add_plant(scene, {0.5, 0.5, 0.1}, {kProbe, kProbe, 0.005}, 1e-6, 1e-3, 1e-3, leaves);
  probe.name = "probe";
  probe.needs = {kit::want(Quantity::lux, 1, {})};
  scene.survey = {0.25, 0.01, 1};
  return scene;
}

// Mean over the probe of exp(-u s / 2) along chords s of the grown ball; its places are spread by the height
// of the flat crown, sqrt(1 - r^2 / R^2).
double light_past_the_ball(double growth) {
  const double radius = growth * kBall;
  const double density = kBallArea * growth * growth / (4.0 / 3 * M_PI * std::pow(radius, 3));
  double sum = 0, weights = 0;
  constexpr int kSteps = 20'000;
  for (int i = 0; i < kSteps; ++i) {
    const double r = kProbe * (i + 0.5) / kSteps;
    const double weight = r * std::sqrt(1 - r * r / (kProbe * kProbe));
    const double chord = r < radius ? 2 * std::sqrt(radius * radius - r * r) : 0;
    sum += weight * std::exp(-0.5 * density * chord);
    weights += weight;
  }
  return sum / weights;
}

TEST(Outlook, AGrowingCrownShadesByBeerAndLambert) {
  MonthsAhead ahead;
  ahead.months = 6;
  ahead.step = 2;
  ahead.growing["ball"] = {GrowthForm::monomolecular, 0.3, 1.5};
  Scene scene = ball_over_probe();
  const OutlookResult outlook = look_ahead(scene, ahead);
  EXPECT_EQ(outlook.traced_scenes, 4u);
  Scene clear = ball_over_probe();
  clear.plants.erase(clear.plants.begin());
  const Figure free = watched(look_ahead(clear, {}), "probe", Quantity::lux).figures[0];
  const Watched& lux = watched(outlook, "probe", Quantity::lux);
  ASSERT_EQ(lux.figures.size(), 4u);
  for (std::size_t k = 0; k < 4; ++k) {
    const double growth = 1.5 - 0.5 * std::exp(-0.3 * outlook.months[k]);
    ASSERT_NEAR(outlook.plants[0].growth[k], growth, 1e-12);
    // Where leaves happen to hang: sqrt(LAI a / 3 A), four such spreads, for leaves of area a in the mean
    // over an area A of which the places count 8/9; and a hundredth for leaves that stick out.
    const double spread = std::sqrt(kBallArea / (M_PI * kBall * kBall) * kLeafSide * kLeafSide /
                                    (3 * M_PI * kProbe * kProbe * 8 / 9));
    EXPECT_NEAR(lux.figures[k].value / free.value, light_past_the_ball(growth),
                4 * lux.figures[k].se / free.value + 4 * spread + 0.01)
        << growth;
    if (k > 0) {
      EXPECT_LT(lux.figures[k].value, lux.figures[k - 1].value);
    }
  }
  EXPECT_LT(lux.figures[3].value, 0.9 * lux.figures[0].value) << "it must be worth looking at";
}

TEST(Outlook, TrimmingIsTodaysCrown) {
  MonthsAhead ahead;
  ahead.months = 6;
  ahead.step = 6;
  ahead.growing["ball"] = {GrowthForm::monomolecular, 0.3, 1.5};
  Scene scene = ball_over_probe();
  const double today = watched(look_ahead(scene, ahead), "probe", Quantity::lux).figures[0].value;
  scene.plants[1].needs = {kit::want(Quantity::lux, 0.95 * today, {})};
  const OutlookResult outlook = look_ahead(scene, ahead);
  const Watched& lux = watched(outlook, "probe", Quantity::lux);
  ASSERT_TRUE(lux.fails);
  EXPECT_NEAR(remedy(lux, RemedyKind::trim).figure.value, today, 1e-9 * today) << "the same random numbers";
}

TEST(Outlook, WhatCastsNoShadowChangesNothing) {
  // A crown that grows aside of all light: every month is traced with the same random numbers, so a figure
  // that no leaf touches is the same to the last bit, noise and all.
  Scene scene = ageing_crate();
  scene.lamps[0].lit.reset();
  scene.lamps[0].fixture = kit::add_lamp(scene, make_sphere_emitter(0.1, nullptr), {}, 40).fixture;
  scene.lamps.pop_back();
  Material leaf = kit::grey(0);
  leaf.name = "leaf";
  leaf.kind = SurfaceKind::leaf;
  kit::add_plant(scene, {0.05, 0.05, 0.1}, {0.03, 0.03, 0.03}, 0.01, 0.01, 0.01,
                 kit::add_material(scene, leaf));
  MonthsAhead ahead;
  ahead.growing["bush"] = {GrowthForm::logistic, 0.5, 2};
  const OutlookResult outlook = look_ahead(scene, ahead);
  EXPECT_EQ(outlook.traced_scenes, 13u);
  const Watched& power = watched(outlook, "sensor", Quantity::irradiance);
  EXPECT_GT(power.figures[0].se, 0);
  for (const Figure& figure : power.figures) {
    EXPECT_EQ(figure.value, power.figures[0].value);
    EXPECT_EQ(figure.se, power.figures[0].se);
  }
}

TEST(Outlook, AGrowingAnimalComesCloserToTheLamp) {
  Scene scene = ageing_crate();
  scene.lamps[0].lit.reset();
  scene.points.clear();
  scene.animal = Animal{};
  scene.animal->back = 0.02;
  scene.animal->reach = 0.02;
  Perch perch;
  perch.name = "perch";
  perch.at = {0.2, 0.2, 0.3};
  perch.facing = {false, Vec3::UnitZ()};
  scene.perches = {perch};
  MonthsAhead ahead;
  ahead.animal = {{12, 0.14, {}}};
  scene.perches[0].wants = {kit::want(Quantity::lux, 1e-9, {})};
  const double today = watched(look_ahead(scene, ahead), "perch", Quantity::lux).figures[0].value;
  scene.perches[0].wants = {kit::want(Quantity::lux, {}, 1.3 * today)};
  const OutlookResult outlook = look_ahead(scene, ahead);
  const Watched& lux = watched(outlook, "perch", Quantity::lux);
  for (std::size_t month = 0; month < lux.figures.size(); ++month) {
    const double below = 0.38 - 0.01 * static_cast<double>(month);
    EXPECT_NEAR(lux.figures[month].value, today * std::pow(0.38 / below, 2), 1e-5 * today) << month;
    EXPECT_NEAR(outlook.backs[month], 0.02 + 0.01 * static_cast<double>(month), 1e-12);
  }
  // (0.38 / d)^2 = 1.3 at d = 0.3333, after 4.67 months.
  ASSERT_TRUE(lux.fails);
  EXPECT_EQ(lux.fails->verdict, Verdict::above);
  EXPECT_NEAR(lux.fails->month, (0.38 - 0.38 / std::sqrt(1.3)) / 0.01, 0.01);
  EXPECT_NEAR(remedy(lux, RemedyKind::lower).figure.value, today, 1e-5 * today);
}

TEST(FirstFailing, IsInterpolatedAndItsDoubtComesOfTheError) {
  const std::vector<double> months = {0, 1, 2, 3};
  const auto series = [](std::vector<double> values, double se) {
    std::vector<Figure> figures;
    for (const double value : values) figures.push_back({value, se, {}});
    return figures;
  };
  // 4, 3, 2, 1 passes 2.5 after 1.5 months; 2.1314 x 0.1 up or down is as many months later or sooner.
  const auto fails = first_failing(months, series({4, 3, 2, 1}, 0.1), {2.5, {}});
  ASSERT_TRUE(fails);
  EXPECT_NEAR(fails->month, 1.5, 1e-12);
  EXPECT_NEAR(fails->earliest, 1.5 - 0.21314, 1e-9);
  EXPECT_NEAR(*fails->latest, 1.5 + 0.21314, 1e-9);
  EXPECT_EQ(fails->seen_at, 2u);
  // Never for sure.
  const auto unsure = first_failing(months, series({4, 3, 2.6, 2.4}, 0.1), {2.5, {}});
  EXPECT_NEAR(unsure->month, 2.5, 1e-12);
  EXPECT_FALSE(unsure->latest);
  // Of two limits the one that is passed first.
  EXPECT_EQ(first_failing(months, series({2, 3, 1, 0}, 0), {1.5, 2.5})->verdict, Verdict::above);
  EXPECT_EQ(first_failing(months, series({1, 1, 1, 1}, 0), {2, {}})->month, 0);
  EXPECT_FALSE(first_failing(months, series({4, 3, 2, 1}, 0), {1, 4})) << "limits are inclusive";
  EXPECT_FALSE(first_failing(months, series({4, 3, 2, 1}, 0), {0.0, {}})) << "0 is no limit";
}

TEST(CrownReach, IsWhenTheEllipsoidTouches) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(1e-4, 1e-3, 1e-3, 0)));
  Perch perch;
  perch.name = "perch";
  perch.at = {0.2, 0.5, 0.6};
  scene.perches = {perch};
  Plant& plant = kit::add_plant(scene, {0.5, 0.5, 0.6}, {0.1, 0.1, 0.25}, 0.1, 0.01, 0.01, 0);
  // 40 cm up on a radius of 25 cm: 1.6; 30 cm aside on one of 10 cm: 3.
  const GrowthCurve curve{GrowthForm::monomolecular, 0.1, 4};
  const auto touches = crown_touches(scene, plant, curve, 24);
  ASSERT_EQ(touches.size(), 2u);
  EXPECT_EQ(touches[0].what, "mesh");
  EXPECT_EQ(touches[0].name, "mesh, top");
  EXPECT_NEAR(touches[0].growth, 1.6, 1e-12);
  EXPECT_NEAR(touches[0].month, -std::log((4 - 1.6) / 3) / 0.1, 1e-9);
  EXPECT_EQ(touches[1].name, "perch");
  EXPECT_NEAR(touches[1].month, -std::log(1.0 / 3) / 0.1, 1e-9);
  EXPECT_EQ(crown_touches(scene, plant, curve, 5).size(), 1u) << "not within the months";
  EXPECT_TRUE(crown_touches(scene, plant, {GrowthForm::logistic, 1, 1.5}, 24).empty()) << "it stops before";
}

}  // namespace
}  // namespace boughlight
