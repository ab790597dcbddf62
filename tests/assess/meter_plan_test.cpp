// The choice of readings against textbook forms, and the rows that come of it.
#include "assess/meter_plan.h"

#include <gtest/gtest.h>

#include <set>

#include "assess/doubt_kit.h"

namespace boughlight {
namespace {

Eigen::VectorXd row(std::initializer_list<double> values) {
  Eigen::VectorXd made(static_cast<Eigen::Index>(values.size()));
  std::copy(values.begin(), values.end(), made.data());
  return made;
}

TEST(Design, OneReadingOfOneFactorAddsPrecisions) {
  // Prior variance 0.04, noise 0.01: 1 / (25 + 100).
  const auto steps = choose_readings({{row({0.2})}}, {{row({0.2}), 0.01, 0}}, 1, 1);
  ASSERT_EQ(steps.size(), 1u);
  EXPECT_NEAR(steps[0].variance_left, 1 / 125.0, 1e-12);
}

TEST(Design, AgreesWithTheInformationForm) {
  // Posterior covariance = (I + sum h h' / r)^-1, the other way to write the same thing.
  const std::vector<DesignFigure> figures = {{row({0.2, 0.1, 0, 0.05})}, {row({0, 0.1, 0.3, 0})}};
  const std::vector<DesignReading> readings = {{row({0.2, 0.1, 0.02, 0}), 0.01, 0},
                                               {row({0, 0.1, 0.25, 0.1}), 0.02, 0},
                                               {row({0.1, 0, 0, 0.3}), 0.005, 0}};
  const auto steps = choose_readings(figures, readings, 3, 3);
  ASSERT_EQ(steps.size(), 3u);
  Eigen::MatrixXd information = Eigen::MatrixXd::Identity(4, 4);
  for (const DesignStep& step : steps) {
    const DesignReading& reading = readings[step.reading];
    information += reading.row * reading.row.transpose() / reading.noise;
    const Eigen::MatrixXd covariance = information.inverse();
    double left = 0;
    for (const DesignFigure& figure : figures) left += figure.row.dot(covariance * figure.row);
    EXPECT_NEAR(step.variance_left, left, 1e-12);
  }
}

TEST(Design, TakesTheBestFirstAndStopsWhereNothingIsGained) {
  const std::vector<DesignFigure> figures = {{row({0.3, 0})}};
  const std::vector<DesignReading> readings = {{row({0, 0.3}), 0.01, 0},    // tells nothing that is asked
                                               {row({0.3, 0.3}), 0.01, 0},  // half of it
                                               {row({0.3, 0}), 0.01, 0}};   // just that
  const auto steps = choose_readings(figures, readings, 1, 3);
  ASSERT_FALSE(steps.empty());
  EXPECT_EQ(steps[0].reading, 2u);
  EXPECT_LT(steps.size(), 3u) << "the first tells nothing by itself, and little beside the others";
}

TEST(Design, PrefersTheCommonerMeterWhereTwoAreWorthTheSame) {
  const std::vector<DesignFigure> figures = {{row({0.3})}};
  EXPECT_EQ(choose_readings(figures, {{row({0.31}), 0.01, 3}, {row({0.3}), 0.01, 1}}, 1, 1)[0].reading, 1u);
  EXPECT_EQ(choose_readings(figures, {{row({0.3}), 0.01, 3}, {row({0.1}), 0.01, 1}}, 1, 1)[0].reading, 0u);
}

Scene two_lamps_over_a_mesh() {
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 0.8}, kit::add_material(scene, kit::grey(0.4)));
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.3e-3, 1.5e-3, 1.5e-3, 0.3)));
  kit::add_uv_lamp(scene, make_tube_emitter(0.4, 0.016, nullptr), {0.3, 0.25, 0.95}, 1).name = "tube";
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.2, 0.25, 0.95}, 60).name = "flood";
  scene.animal = Animal{};
  scene.animal->reach = 0.03;
  scene.animal->never = {kit::want(Quantity::uvi, std::nullopt, 100)};
  Perch perch;
  perch.name = "perch";
  perch.at = {0.3, 0.25, 0.5};
  perch.wants = {kit::want(Quantity::uvi, 1e-6, std::nullopt), kit::want(Quantity::lux, 1e-6, std::nullopt)};
  scene.perches.push_back(perch);
  scene.survey.spacing = 0.1;
  return scene;
}

TEST(MeterPlan, RowsAreDistinctPlacesWithinTheirBands) {
  const Survey survey = kit::doubts_of(two_lamps_over_a_mesh());
  const MeterPlan& plan = survey.doubt.meter;
  ASSERT_GE(plan.rows.size(), 3u);
  ASSERT_LE(plan.rows.size(), 8u);
  EXPECT_LT(plan.log_sd_after, 0.8 * plan.log_sd_before);
  std::set<std::string> seen;
  for (const MeterRow& one : plan.rows) {
    EXPECT_LT(one.low, one.expected);
    EXPECT_GT(one.high, one.expected);
    EXPECT_GT(one.high / one.low, std::exp(2 * 1.96 * 0.1)) << "no narrower than the meter";
    EXPECT_TRUE(seen.insert(one.place + std::string(info(one.quantity).name) + one.lamps).second)
        << one.place;
    EXPECT_EQ(one.through_screen, one.place.rfind("on the screen", 0) != 0) << one.place;
  }
}

TEST(MeterPlan, ExpectsWhatTheReadingSays) {
  const Survey survey = kit::doubts_of(two_lamps_over_a_mesh());
  bool found = false;
  for (const MeterRow& one : survey.doubt.meter.rows) {
    if (one.place != "perch" || !one.lamps.empty()) continue;
    found = true;
    const double value = survey.readings[0].values.at(one.quantity).value;
    EXPECT_NEAR(one.expected, value, 1e-6 * value);
    EXPECT_EQ(one.at, survey.readings[0].at);
    EXPECT_EQ(one.direction, survey.readings[0].direction);
  }
  EXPECT_TRUE(found);
}

TEST(MeterPlan, OnTheScreenItIsTheLampInFreeAir) {
  // Nothing but the mesh and the lamp matters: a reading above the screen and one below part the two.
  Scene scene = two_lamps_over_a_mesh();
  scene.lamps.pop_back();
  scene.doubts = {0.3, 0, 0.3, 0, 0};
  scene.animal.reset();
  scene.perches[0].wants = {kit::want(Quantity::uvi, 1e-6, std::nullopt)};
  const Survey survey = kit::doubts_of(scene);
  const auto screen =
      std::find_if(survey.doubt.meter.rows.begin(), survey.doubt.meter.rows.end(),
                   [](const MeterRow& one) { return one.place == "on the screen under tube"; });
  ASSERT_NE(screen, survey.doubt.meter.rows.end());
  EXPECT_FALSE(screen->through_screen);
  EXPECT_NEAR(screen->at.z(), 0.81, 1e-9);
  const LampPart& part = scene.lamps[0].fixture->parts[0];
  const double free_air = part.radiant_flux_w * part.per_watt.total(Quantity::uvi) *
                          scene.lamps[0].fixture->emitter->on_axis(0.14);
  EXPECT_NEAR(screen->expected, free_air, 2e-3 * free_air);
}

TEST(MeterPlan, WithoutWantsThePerchesAreWanted) {
  Scene scene = two_lamps_over_a_mesh();
  scene.animal.reset();
  scene.perches[0].wants.clear();
  EXPECT_GE(kit::doubts_of(scene).doubt.meter.rows.size(), 2u);
  scene.perches.clear();
  EXPECT_TRUE(kit::doubts_of(scene).doubt.meter.rows.empty());
}

}  // namespace
}  // namespace boughlight
