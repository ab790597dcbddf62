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
  EXPECT_EQ(source_hours(scene).size(), 3u);
  scene.room->lux = scene.room->irradiance_w_m2 = 0;
  const LightField field(scene, importance_of(scene));
  EXPECT_EQ(source_outputs(scene, Power::full).size(), field.source_count())
      << "a dark room is no source to trace";
  EXPECT_EQ(source_hours(scene).size(), field.source_count());
}

TEST(Output, DayQuantitiesExistWhenEveryLampHasHours) {
  Scene scene = two_lamps();
  EXPECT_FALSE(has_day_quantities(scene));
  scene.lamps[0].lit = {{8, 12}, {14, 16.5}};
  EXPECT_FALSE(has_day_quantities(scene));
  scene.lamps[1].lit = {{7, 20}};
  EXPECT_TRUE(has_day_quantities(scene));
  const auto hours = source_hours(scene);
  EXPECT_DOUBLE_EQ(*hours[0], 6.5);
  EXPECT_DOUBLE_EQ(*hours[1], 13);
}

TEST(Output, DayWeightsAreInstantOnesTimesHours) {
  Scene scene = two_lamps();
  scene.lamps[0].lit = {{8, 12}};
  scene.lamps[1].lit = {{7, 20}};
  const auto outputs = source_outputs(scene, Power::as_declared);
  const auto hours = source_hours(scene);
  const auto ppfd = quantity_weights(Quantity::ppfd, outputs, hours),
             dli = quantity_weights(Quantity::dli, outputs, hours);
  EXPECT_NEAR(dli[0].sum(), ppfd[0].sum() * 4 * 3600e-6, 1e-12);
  const auto uvi = quantity_weights(Quantity::uvi, outputs, hours);
  EXPECT_NEAR(quantity_weights(Quantity::uvi_hours, outputs, hours)[1].sum(), uvi[1].sum() * 13, 1e-9);
  // UVI 1 is 1/40 W/m2 of erythemal irradiance: 90 J/m2 an hour, 0.9 SED of 100 J/m2.
  EXPECT_NEAR(quantity_weights(Quantity::sed, outputs, hours)[1].sum(), uvi[1].sum() * 13 * 0.9, 1e-9);
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
