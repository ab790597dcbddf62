// Emitters where closed forms say what must come out exactly, or every sample must be the same.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "spectrum/emitter.h"
#include "spectrum/sampling.h"
#include "spectrum/statistics.h"

namespace boughlight {
namespace {

// Greatest and least weight of random connections.
struct Range {
  double least = 1e300, greatest = 0;
  double spread() const { return (greatest - least) / greatest; }
};
Range weights(const Emitter& emitter, const Vec3& from) {
  Range range;
  Uniform uniform(7);
  for (int i = 0; i < 5000; ++i) {
    const double u1 = uniform(), u2 = uniform(), weight = emitter.connect(from, u1, u2).weight;
    range.least = std::min(range.least, weight);
    range.greatest = std::max(range.greatest, weight);
  }
  return range;
}

TEST(PerfectSampling, EverySampleOfALambertSphereWeighsTheSame) {
  const auto sphere = make_sphere_emitter(0.1, nullptr);
  for (const Vec3& from : {Vec3(0, 0, 0.06), Vec3(0.3, 0.2, -0.4)}) {
    const Range range = weights(*sphere, from);
    EXPECT_LT(range.spread(), 1e-12);
    // Radiance x solid angle.
    const double open = 1 - std::sqrt(1 - std::pow(0.05 / from.norm(), 2));
    EXPECT_NEAR(range.greatest, 2 * kPi * open / (4 * kPi * kPi * 0.05 * 0.05), 1e-12 * range.greatest);
  }
}

TEST(PerfectSampling, EverySampleOfALambertRectangleWeighsTheSame) {
  const auto rectangle = make_rectangle_emitter(0.6, 0.2, nullptr);
  for (const Vec3& from : {Vec3(0, 0, 0.02), Vec3(0.5, 0.3, 0.1), Vec3(0.2, -0.1, 0.6), Vec3(-0.9, 0, 0.01)})
    EXPECT_LT(weights(*rectangle, from).spread(), 1e-12);
}

// From further away than its diagonal samples are even over the area: they weigh z / (pi r^3), r being
// between the nearest and the furthest corner.
TEST(PerfectSampling, SamplesOfADistantLambertRectangleWeighWithinTheSpanOfItsCorners) {
  const auto rectangle = make_rectangle_emitter(0.6, 0.2, nullptr);
  const Vec3 from(0.4, 0.3, 1.2);
  double furthest = 0;
  for (const double x : {-0.3, 0.3})
    for (const double y : {-0.1, 0.1}) furthest = std::max(furthest, (from - Vec3(x, y, 0)).norm());
  const double nearest = (from - Vec3(0.3, 0.1, 0)).norm();
  const Range range = weights(*rectangle, from);
  const auto weight_at = [&](double r) { return from.z() / (kPi * r * r * r); };
  EXPECT_NEAR(range.greatest, weight_at(nearest), 0.01 * range.greatest);
  EXPECT_NEAR(range.least, weight_at(furthest), 0.01 * range.least);
}

TEST(PerfectSampling, EverySampleOfALambertDiscWeighsTheSameOnItsAxis) {
  EXPECT_LT(weights(*make_disc_emitter(0.1, nullptr), {0, 0, 0.03}).spread(), 1e-12);
}

TEST(PerfectSampling, EverySampleOfATroughWeighsTheSame) {
  const auto tube = make_tube_emitter(0.6, 0.016, make_trough(1.2));
  for (const Vec3& from : {Vec3(0, 0, 0.06), Vec3(0.4, 0.1, 0.1), Vec3(-0.1, -0.05, 0.3)})
    EXPECT_LT(weights(*tube, from).spread(), 1e-10);
}

TEST(PerfectSampling, EverySampleOfALineOfIsotropicPointsWeighsTheSame) {
  const auto tube = make_tube_emitter(0.6, 0.016, make_isotropic());
  for (const Vec3& from : {Vec3(0, 0, 0.06), Vec3(0.4, 0.1, 0.1), Vec3(0.7, 0.0, 0.0)})
    EXPECT_LT(weights(*tube, from).spread(), 1e-10);
}

TEST(LowVariance, SamplesOfALambertTubeDifferOnlyByItsThickness) {
  // At the near distance the lit arc lies between D - R and sqrt(D^2 - R^2) away.
  const auto tube = make_tube_emitter(0.6, 0.016, nullptr);
  EXPECT_LT(weights(*tube, {0, 0, 0.06}).spread(), 0.02);
  EXPECT_LT(weights(*tube, {0, 0.2, 0.25}).spread(), 0.02);
  EXPECT_LT(weights(*tube, {0.45, 0.05, 0.1}).spread(), 0.25);
}

TEST(LowVariance, NearAFlatEmitterTheSpreadStaysWithinAFactor) {
  const auto disc = make_disc_emitter(0.1, nullptr);
  for (const Vec3& from :
       {Vec3(0.03, 0, 0.002), Vec3(0.049, 0, 0.001), Vec3(0, 0.051, 0.001), Vec3(0.2, 0, 0.01)}) {
    Mean mean;
    Uniform uniform(9);
    for (int i = 0; i < 20000; ++i) {
      const double u1 = uniform(), u2 = uniform();
      mean.add(disc->connect(from, u1, u2).weight);
    }
    EXPECT_LT(mean.deviation(), 1.2 * mean.mean()) << from.transpose();
  }
}

TEST(Reading, ASphereFacedAndTiltedFollowsTheCosineWhileItIsAboveTheHorizon) {
  const auto sphere = make_sphere_emitter(0.1, nullptr);
  const Vec3 from(0, 0, 0.4);
  for (const double tilt : {0.0, 0.5, 1.2}) {
    const Vec3 facing(std::sin(tilt), 0, -std::cos(tilt));
    double sum = 0;
    constexpr int n = 300;
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        const EmitterPoint p = sphere->connect(from, (i + 0.5) / n, (j + 0.5) / n);
        sum += p.weight * facing.dot((p.point - from).normalized());
      }
    }
    const double expected = sphere->on_axis(0.4) * std::cos(tilt);
    EXPECT_NEAR(sum / n / n, expected, 1e-6 * expected);  // midpoints of a smooth cone
  }
}

TEST(OnAxis, ShapesUnderLambertsLawHaveTheirClosedForms) {
  EXPECT_NEAR(make_point_emitter(nullptr)->on_axis(0.5), 1 / (kPi * 0.25), 1e-12);
  EXPECT_NEAR(make_disc_emitter(0.2, nullptr)->on_axis(0.3), 1 / (kPi * (0.01 + 0.09)), 1e-12);
  EXPECT_NEAR(make_sphere_emitter(0.1, nullptr)->on_axis(0.4), 1 / (4 * kPi * 0.16), 1e-12);
}

TEST(OnAxis, CosinePowerDiscHasItsClosedForm) {
  // The integral of (n + 1) / (2 pi) cos^n over the cone that the disc fills: (1 - cos^(n + 1)) / area.
  for (const double half : {0.2, kPi / 3, 1.4}) {
    const double n = std::log(0.5) / std::log(std::cos(half)), cosine = 0.1 / std::hypot(0.1, 0.05);
    const double expected = (1 - std::pow(cosine, n + 1)) / (kPi * 0.05 * 0.05);
    EXPECT_NEAR(make_disc_emitter(0.1, make_cosine_power(half))->on_axis(0.1), expected, 1e-8 * expected);
  }
}

TEST(OnAxis, ARectangleOfLambertPointsIsALambertRectangle) {
  const double expected = make_rectangle_emitter(0.6, 0.2, nullptr)->on_axis(0.15);
  const auto same = make_rectangle_emitter(0.6, 0.2, make_cosine_power(kPi / 3));
  EXPECT_NEAR(same->on_axis(0.15), expected, 1e-7 * expected);
}

TEST(OnAxis, ATableThatStepsDownOnARectangleIsIntegratedAcrossItsBends) {
  // Even intensity up to 30 degrees and a fall to nothing at 30.0001: the cone's solid angle x intensity /
  // area, the rectangle reaching further than the cone on every side.
  const double c = kPi / 6;
  const auto lamp = make_rectangle_emitter(0.6, 0.4, make_intensity_table({0, c}, {1, 1}));
  EXPECT_NEAR(lamp->on_axis(0.2) * 0.24, 1, 1e-9);
  // And with the narrow sides inside it: the sum over small elements.
  double sum = 0;
  const double intensity = 1 / (2 * kPi * (1 - std::cos(c)));
  constexpr int n = 2000;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double x = 0.6 * ((i + 0.5) / n - 0.5), y = 0.4 * ((j + 0.5) / n - 0.5),
                   r = std::hypot(x, y, 0.5);
      if (0.5 / r >= std::cos(c)) sum += intensity * 0.5 / (r * r * r);
    }
  }
  EXPECT_NEAR(lamp->on_axis(0.5), sum / n / n, 1e-4 * sum / n / n);  // cells cut by the cone's edge
}

TEST(OnAxis, InsideTheBodyAndBehindALambertPlateThereIsNone) {
  EXPECT_EQ(make_tube_emitter(0.6, 0.02, nullptr)->on_axis(0.009), 0);
  EXPECT_EQ(make_tube_emitter(0.6, 0.02, make_trough(1))->on_axis(0.009), 0);
  EXPECT_EQ(make_sphere_emitter(0.1, nullptr)->on_axis(0.03), 0);
  EXPECT_EQ(make_disc_emitter(0.1, nullptr)->on_axis(-0.1), 0);
  EXPECT_EQ(make_rectangle_emitter(0.1, 0.1, nullptr)->on_axis(-0.1), 0);
  EXPECT_EQ(make_point_emitter(nullptr)->on_axis(0), 0);
}

TEST(OnAxis, JustOffTheSurfaceALambertEmitterGivesItsExitance) {
  const double gap = 1e-6;
  const double tube = 1 / (kPi * 0.02 * 0.6), disc = 1 / (kPi * 0.05 * 0.05),
               sphere = 1 / (4 * kPi * 0.05 * 0.05);
  EXPECT_NEAR(make_tube_emitter(0.6, 0.02, nullptr)->on_axis(0.01 + gap), tube, 1e-3 * tube);
  EXPECT_NEAR(make_disc_emitter(0.1, nullptr)->on_axis(gap), disc, 1e-3 * disc);
  EXPECT_NEAR(make_sphere_emitter(0.1, nullptr)->on_axis(0.05 + gap), sphere, 1e-3 * sphere);
  EXPECT_NEAR(make_rectangle_emitter(0.6, 0.2, nullptr)->on_axis(gap), 1 / 0.12, 1e-3 / 0.12);
}

TEST(Body, InsideItThereIsNoLight) {
  const Vec3 inside(0.1, 0.003, 0.004);
  EXPECT_EQ(make_tube_emitter(0.6, 0.02, nullptr)->connect(inside, 0.3, 0.4).weight, 0);
  EXPECT_EQ(make_tube_emitter(0.6, 0.02, make_isotropic())->connect(inside, 0.3, 0.4).weight, 0);
  EXPECT_EQ(make_sphere_emitter(0.3, nullptr)->connect(inside, 0.3, 0.4).weight, 0);
  EXPECT_EQ(make_sphere_emitter(0.3, make_isotropic())->connect(inside, 0.3, 0.4).weight, 0);
}

TEST(Body, TheEndsOfALambertTubeAreDark) {
  const auto tube = make_tube_emitter(0.6, 0.02, nullptr);
  EXPECT_EQ(tube->connect({0.4, 0.002, 0.003}, 0.3, 0.4).weight, 0);
  EXPECT_GT(tube->connect({0.4, 0.002, 0.02}, 0.3, 0.4).weight, 0);
}

TEST(Body, DistancesAreToTheSolid) {
  const auto tube = make_tube_emitter(0.6, 0.02, nullptr);
  EXPECT_NEAR(tube->distance({0, 0.03, 0.04}), 0.04, 1e-15);
  EXPECT_NEAR(tube->distance({0.33, 0.05, 0}), 0.05, 1e-15);  // 3 cm beyond the end, 4 cm off the side
  EXPECT_EQ(tube->distance({0.2, 0.003, 0.003}), 0);
  EXPECT_NEAR(make_sphere_emitter(0.1, nullptr)->distance({0.3, 0, 0.4}), 0.45, 1e-15);
  EXPECT_NEAR(make_disc_emitter(0.1, nullptr)->distance({0.08, 0, -0.04}), 0.05, 1e-15);
  EXPECT_NEAR(make_rectangle_emitter(0.6, 0.2, nullptr)->distance({0.32, 0.11, 0.02}), 0.03, 1e-15);
  EXPECT_NEAR(make_point_emitter(nullptr)->distance({0, 3, 4}), 5, 1e-15);
}

TEST(Description, SaysShapeAndSize) {
  EXPECT_EQ(make_tube_emitter(0.53, 0.016, nullptr)->describe(), "tube, 53 cm long, 16 mm across");
  EXPECT_EQ(make_disc_emitter(0.095, nullptr)->describe(), "disc, 9.5 cm across");
  EXPECT_EQ(make_rectangle_emitter(0.6, 0.025, nullptr)->describe(), "rectangle, 60 cm by 25 mm");
  EXPECT_EQ(make_sphere_emitter(0.06, nullptr)->describe(), "sphere, 6 cm across");
  EXPECT_EQ(make_point_emitter(nullptr)->describe(), "point");
}

TEST(Sizes, OfNothingOrLessAreRefused) {
  EXPECT_THROW(make_tube_emitter(0, 0.01, nullptr), std::invalid_argument);
  EXPECT_THROW(make_tube_emitter(0.1, -0.01, nullptr), std::invalid_argument);
  EXPECT_THROW(make_disc_emitter(0, nullptr), std::invalid_argument);
  EXPECT_THROW(make_rectangle_emitter(0.1, INFINITY, nullptr), std::invalid_argument);
  EXPECT_THROW(make_sphere_emitter(NAN, nullptr), std::invalid_argument);
}

}  // namespace
}  // namespace boughlight
