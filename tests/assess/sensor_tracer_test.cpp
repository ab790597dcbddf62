#include "assess/sensor_tracer.h"

#include <gtest/gtest.h>

#include "assess/survey_kit.h"

namespace boughlight {
namespace {

// A point of UV index 1 at a metre, 0.5 m above the place that is read, in free air; and a second one, twice
// as strong, as far to the side.
Scene two_points() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  scene.survey.tolerance = 0.02;
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9},
                   kit::watts_for_uvi_at_a_metre(1));
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.0, 0.5, 0.4},
                   kit::watts_for_uvi_at_a_metre(2));
  return scene;
}

const Vec3 kPlace(0.5, 0.5, 0.4);
// A point's samples are all alike; a hundred or so of them are added up in single precision, each sum rounded
// by 6e-8.
constexpr double kSumRounding = 1e-5;

double uvi_of(const Figures& figures) {
  return figures.at(Quantity::uvi).value;
}

TEST(SensorTracer, ReadsByTheInverseSquareAndTheCosine) {
  const SensorTracer tracer(two_points());
  const auto read = [&](const Vec3& facing) {
    return uvi_of(tracer.figures(tracer.trace({kPlace, facing})));
  };
  EXPECT_NEAR(read({0, 0, 2}), 4, 4 * kSumRounding);
  EXPECT_NEAR(read({-1, 0, 0}), 8, 8 * kSumRounding);
  EXPECT_NEAR(read({-1, 0, 1}), 12 / std::sqrt(2.0), 12 * kSumRounding);
}

TEST(SensorTracer, WeighsOtherDimmersWithoutARay) {
  const SensorTracer tracer(two_points());
  const Response light = tracer.trace({kPlace, {-1, 0, 1}});
  EXPECT_NEAR(uvi_of(tracer.figures(light, {1, 1})), uvi_of(tracer.figures(light)), 1e-12);
  EXPECT_NEAR(uvi_of(tracer.figures(light, {0.25, 0})), 1 / std::sqrt(2.0), kSumRounding);
  EXPECT_EQ(uvi_of(tracer.figures(light, {0, 0})), 0);
}

TEST(SensorTracer, DayQuantitiesAreThereWhereEveryLampHasHours) {
  Scene scene = two_points();
  EXPECT_EQ(SensorTracer(scene).figures(SensorTracer(scene).trace({kPlace})).count(Quantity::uvi_hours), 0u);
  for (Lamp& lamp : scene.lamps) lamp.lit = {{8, 18}};
  const SensorTracer tracer(scene);
  EXPECT_NEAR(tracer.figures(tracer.trace({kPlace})).at(Quantity::uvi_hours).value, 40, 40 * kSumRounding);
}

TEST(SensorTracer, TheSameSensorReadsTheSameBits) {
  const Scene scene = two_points();
  const auto read = [&] {
    const SensorTracer tracer(scene);
    return uvi_of(tracer.figures(tracer.trace({kPlace, {-1, 0.2, 1}, 7})));
  };
  EXPECT_EQ(read(), read());
}

TEST(SensorTracer, RefusesWhatIsNoSensorAndNoDimmer) {
  const SensorTracer tracer(two_points());
  EXPECT_THROW(tracer.trace({kPlace, Vec3::Zero()}), std::invalid_argument);
  const Response light = tracer.trace({kPlace});
  EXPECT_THROW(tracer.figures(light, {1}), std::invalid_argument);
  EXPECT_THROW(tracer.figures(light, {1, 1.5}), std::invalid_argument);
}

}  // namespace
}  // namespace boughlight
