#include "assess/output.h"

#include <gtest/gtest.h>

#include "assess/survey_kit.h"

namespace boughlight {
namespace {

Scene two_lamps() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9}, 10);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.5, 0.9}, 2);
  return scene;
}

double total(const QuantityBins& output, Quantity quantity) {
  return output.row(static_cast<int>(quantity)).sum();
}

TEST(Output, IsFluxTimesDimTimesAge) {
  Scene scene = two_lamps();
  auto fixture = std::make_shared<Fixture>(*scene.lamps[0].fixture);
  fixture->parts[0].ageing = Table({0, 1000}, {1, 0.6}, Between::linear, Beyond::hold);
  scene.lamps[0].fixture = fixture;
  scene.lamps[0].burned_h = 500;
  scene.lamps[0].dim = 0.25;
  const auto declared = source_outputs(scene, Power::as_declared), full = source_outputs(scene, Power::full);
  ASSERT_EQ(declared.size(), 2u);
  EXPECT_NEAR(total(declared[0], Quantity::irradiance), 10 * 0.25 * 0.8, 1e-9);
  EXPECT_NEAR(total(full[0], Quantity::irradiance), 10 * 0.8, 1e-9) << "full is the dimmer's, not a new lamp";
  EXPECT_NEAR(total(declared[1], Quantity::irradiance), 2, 1e-9);
  scene.lamps[0].burned_h = 5000;
  EXPECT_NEAR(total(source_outputs(scene, Power::full)[0], Quantity::irradiance), 6, 1e-9)
      << "holds the last";
}

TEST(Output, PartsAddUp) {
  Scene scene = two_lamps();
  auto fixture = std::make_shared<Fixture>(*scene.lamps[0].fixture);
  fixture->parts.push_back(scene.lamps[1].fixture->parts[0]);
  scene.lamps[0].fixture = fixture;
  const auto outputs = source_outputs(scene, Power::as_declared);
  EXPECT_NEAR(total(outputs[0], Quantity::irradiance), 12, 1e-9);
  EXPECT_NEAR(total(outputs[0], Quantity::uvi), total(outputs[1], Quantity::uvi), 1e-9);
}

TEST(Output, RoomIsTheLastSourceWhereThereIsLight) {
  Scene scene = two_lamps();
  kit::add_room(scene, 0.5);
  ASSERT_EQ(source_outputs(scene, Power::full).size(), 3u);
  EXPECT_NEAR(total(source_outputs(scene, Power::full)[2], Quantity::irradiance), 0.5, 1e-9);
  EXPECT_EQ(day_outputs(scene, Power::full).size(), 3u);
  scene.room->lux = scene.room->irradiance_w_m2 = 0;
  const LightField field(scene, importance_of(scene));
  EXPECT_EQ(source_outputs(scene, Power::full).size(), field.source_count())
      << "a dark room is no source to trace";
  EXPECT_EQ(day_outputs(scene, Power::full).size(), field.source_count());
}

TEST(Output, DayQuantitiesExistWhenEveryLampHasHours) {
  Scene scene = two_lamps();
  EXPECT_FALSE(has_day_quantities(scene));
  scene.lamps[0].lit = {{8, 12}, {14, 16.5}};
  EXPECT_FALSE(has_day_quantities(scene));
  scene.lamps[1].lit = {{7, 20}};
  EXPECT_TRUE(has_day_quantities(scene));
  const auto day = day_outputs(scene, Power::as_declared);
  const auto outputs = source_outputs(scene, Power::as_declared);
  EXPECT_NEAR(total(*day[0], Quantity::ppfd), 6.5 * total(outputs[0], Quantity::ppfd), 1e-9);
  EXPECT_NEAR(total(*day[1], Quantity::uvi), 13 * total(outputs[1], Quantity::uvi), 1e-9);
}

TEST(Output, DayWeightsAreInstantOnesTimesHours) {
  Scene scene = two_lamps();
  scene.lamps[0].lit = {{8, 12}};
  scene.lamps[1].lit = {{7, 20}};
  const auto outputs = source_outputs(scene, Power::as_declared);
  const auto hours = day_outputs(scene, Power::as_declared);
  const auto ppfd = quantity_weights(Quantity::ppfd, outputs, hours),
             dli = quantity_weights(Quantity::dli, outputs, hours);
  EXPECT_NEAR(dli[0].sum(), ppfd[0].sum() * 4 * 3600e-6, 1e-12);
  const auto uvi = quantity_weights(Quantity::uvi, outputs, hours);
  EXPECT_NEAR(quantity_weights(Quantity::uvi_hours, outputs, hours)[1].sum(), uvi[1].sum() * 13, 1e-9);
  // UVI 1 is 1/40 W/m2 of erythemal irradiance: 90 J/m2 an hour, 0.9 SED of 100 J/m2.
  EXPECT_NEAR(quantity_weights(Quantity::sed, outputs, hours)[1].sum(), uvi[1].sum() * 13 * 0.9, 1e-9);
}

TEST(Ramp, RisesAndFallsStraightInsideTheHours) {
  const std::vector<ClockSpan> lit = {{8, 12}, {14, 16}};
  EXPECT_EQ(lit_share(lit, 0.5, 7.99), 0);
  EXPECT_EQ(lit_share(lit, 0.5, 8), 0);
  EXPECT_DOUBLE_EQ(lit_share(lit, 0.5, 8.25), 0.5);
  EXPECT_EQ(lit_share(lit, 0.5, 8.5), 1);
  EXPECT_EQ(lit_share(lit, 0.5, 11), 1);
  EXPECT_DOUBLE_EQ(lit_share(lit, 0.5, 11.875), 0.25);
  EXPECT_EQ(lit_share(lit, 0.5, 12), 0);
  EXPECT_EQ(lit_share(lit, 0, 8), 1);
  EXPECT_EQ(lit_share(lit, 0, 12), 0);
  // Midnight is no end.
  const std::vector<ClockSpan> night = {{0, 6}, {20, 24}};
  EXPECT_EQ(lit_share(night, 1, 0), 1);
  EXPECT_EQ(lit_share(night, 1, 23.999), 1);
  EXPECT_DOUBLE_EQ(lit_share(night, 1, 5.5), 0.5);
  EXPECT_DOUBLE_EQ(lit_share(night, 1, 20.5), 0.5);
}

TEST(Ramp, CountsForItsSpanLessOneRampWhereTheLampDimsEvenly) {
  // Two triangles of ramp x 1/2 at the ends of a span: 4 h - 0.5 h, twice.
  Scene scene = two_lamps();
  scene.lamps[0].dim = 0.6;
  scene.lamps[0].lit = {{8, 12}, {14, 18}};
  scene.lamps[0].ramp_h = 0.5;
  // One span of 10 h through midnight.
  scene.lamps[1].lit = {{0, 6}, {20, 24}};
  scene.lamps[1].ramp_h = 2;
  const auto outputs = source_outputs(scene, Power::as_declared);
  const auto day = day_outputs(scene, Power::as_declared);
  EXPECT_NEAR(total(*day[0], Quantity::ppfd), 7 * total(outputs[0], Quantity::ppfd), 1e-9);
  EXPECT_NEAR(total(*day[1], Quantity::uvi), 8 * total(outputs[1], Quantity::uvi), 1e-9);
  const auto full = day_outputs(scene, Power::full);
  EXPECT_NEAR(total(*full[0], Quantity::ppfd), total(*day[0], Quantity::ppfd) / 0.6, 1e-9);
}

TEST(Ramp, OfAFilamentKeepsItsWattsAndLosesLight) {
  Scene scene = two_lamps();
  auto fixture = std::make_shared<Fixture>(*scene.lamps[0].fixture);
  LampPart& part = fixture->parts[0];
  part.components = {{Blackbody{2900}, 1}};
  part.per_watt = integrate_spectrum(part.components);
  part.filament_k = 2900;
  scene.lamps[0].fixture = fixture;
  scene.lamps[0].dim = 0.8;
  scene.lamps[0].lit = {{9, 13}};
  scene.lamps[0].ramp_h = 1;
  const QuantityBins steady = lamp_output(scene.lamps[0], 0.8);
  const QuantityBins day = *day_outputs(scene, Power::as_declared)[0];
  // The dimmer's setting is the share of its watts.
  EXPECT_NEAR(total(day, Quantity::irradiance), 3 * total(steady, Quantity::irradiance),
              1e-5 * total(day, Quantity::irradiance));
  // The sum of many small steps of the same ramp, as the clock takes them.
  constexpr int kSteps = 400;
  QuantityBins ramp = QuantityBins::Zero();
  for (int i = 0; i < kSteps; ++i) ramp += lamp_output(scene.lamps[0], 0.8 * (i + 0.5) / kSteps) / kSteps;
  for (const Quantity quantity : {Quantity::lux, Quantity::uva, Quantity::uvi}) {
    const double expected = 2 * total(steady, quantity) + 2 * total(ramp, quantity);
    EXPECT_NEAR(total(day, quantity), expected, 1e-4 * expected) << info(quantity).name;
    EXPECT_LT(total(day, quantity), 3 * total(steady, quantity)) << info(quantity).name;
  }
}

TEST(Importance, WeighsEachPurposeToOneAndLeavesNoBinOut) {
  for (const Scene& scene : {two_lamps(), Scene{}}) {
    const Importance importance = importance_of(scene);
    ASSERT_FALSE(importance.purposes.empty());
    for (const Spectral& purpose : importance.purposes) {
      EXPECT_NEAR(purpose.sum(), 1, 1e-5);
      EXPECT_GT(purpose.minCoeff(), 0);
    }
  }
}

}  // namespace
}  // namespace boughlight
