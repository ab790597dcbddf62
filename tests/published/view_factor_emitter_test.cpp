// Emitters against the closed forms of radiative transfer: irradiance of a small element from points, discs,
// rectangles, tubes and spheres in free air. Numbers of Howell's catalogue of configuration factors from
// memory.
#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <numbers>

#include "published/check.h"
#include "spectrum/emitter.h"

namespace boughlight {
namespace {

constexpr double kPi = std::numbers::pi;
const char* const kGrid = "2e-5: midpoints of 1000 x 1000 connections";
constexpr double kGridError = 2e-5;

// Irradiance per watt on an element by the mean over a grid of connections.
double grid_irradiance(const Emitter& emitter, const Vec3& at, const Vec3& facing) {
  constexpr int n = 1000;
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const EmitterPoint p = emitter.connect(at, (i + 0.5) / n, (j + 0.5) / n);
      sum += p.weight * std::max(0.0, facing.dot((p.point - at).normalized()));
    }
  }
  return sum / n / n;
}

void expect(const char* what, const char* source, double expected, double obtained, double relative,
            const char* why) {
  expect_published({what, source, expected, obtained, relative * expected, why});
}

TEST(ViewFactor, PointOverAnOffsetElement) {
  formula("Inverse square and cosine laws of a point");
  // E = I h / (h^2 + x^2)^1.5, I = 100 W/sr.
  const auto point = make_point_emitter(make_isotropic());
  const double watts = 4 * kPi * 100;
  const char* source = "inverse square and cosine laws";
  expect("point, h 0.5 m, x 0.3 m, W/m2", source, 252.2038,
         watts * grid_irradiance(*point, {0.3, 0, 0.5}, {0, 0, -1}), 1e-6, "digits given");
  expect("point, h 0.5 m, W/m2", source, 400, watts * grid_irradiance(*point, {0, 0, 0.5}, {0, 0, -1}), 1e-9,
         "exact");
}

TEST(ViewFactor, DiscOverAParallelElement) {
  formula("Howell B-12: disc over a parallel element on its axis");
  // B-12: r^2 / (r^2 + h^2); B-13 off the axis.
  const auto disc = make_disc_emitter(0.2, nullptr);
  const double area = kPi * 0.01;
  expect("disc on its axis (B-12)", kHowell, 0.1, area * grid_irradiance(*disc, {0, 0, 0.3}, {0, 0, -1}),
         kGridError, kGrid);
  expect("disc on its axis by on_axis()", kHowell, 0.1, area * disc->on_axis(0.3), 1e-9, "exact");
  formula("Howell B-13: disc over a parallel element off its axis");
  expect("disc off its axis (B-13)", kHowell, 0.05278640,
         area * grid_irradiance(*disc, {0.2, 0, 0.3}, {0, 0, -1}), kGridError, kGrid);
}

TEST(ViewFactorSlow, RectangleOverAParallelElement) {
  formula("Howell B-3: rectangle over a parallel element under its corner");
  // B-3: the normal through a corner; four corners make the whole plate.
  const auto plate = make_rectangle_emitter(0.6, 0.3, nullptr),
             square = make_rectangle_emitter(0.5, 0.5, nullptr);
  expect("rectangle over a corner (B-3)", kHowell, 0.110321093,
         0.18 * grid_irradiance(*plate, {0.3, 0.15, 0.5}, {0, 0, -1}), kGridError, kGrid);
  expect("square over a corner at its side's distance (B-3)", kHowell, 0.138531606,
         0.25 * grid_irradiance(*square, {-0.25, 0.25, 0.5}, {0, 0, -1}), kGridError, kGrid);
  expect("rectangle centred over the element", kHowell, 0.177888354,
         0.18 * grid_irradiance(*plate, {0, 0, 0.5}, {0, 0, -1}), kGridError, kGrid);
  expect("the same by on_axis()", kHowell, 0.177888354, 0.18 * plate->on_axis(0.5), 1e-8, "digits given");
}

TEST(ViewFactorSlow, RectangleStandingOnTheElementsPlane) {
  formula("Howell B-4: rectangle standing on the element's plane");
  // B-4: height 0.6, width 0.3 from the foot, distance 0.5.
  const auto plate = make_rectangle_emitter(0.6, 0.3, nullptr);
  expect("rectangle at right angles (B-4)", kHowell, 0.048644447,
         0.18 * grid_irradiance(*plate, {-0.3, -0.15, 0.5}, {1, 0, 0}), kGridError, kGrid);
}

TEST(ViewFactor, ThinLambertTubeFacedFromItsMiddle) {
  formula("Keitz's line source");
  // Keitz: E = flux / (2 pi^2 L D) (2 a + sin 2a), a = atan(L / 2D); form as in the proceedings of the 2007
  // IOA congress. 10 W, 0.6 m long.
  const char* source = "Keitz's line source formula; computed from the closed form";
  const auto thin = make_tube_emitter(0.6, 1e-5, nullptr);
  const char* why = "1e-4: a tube 0.01 mm thick stands for a line";
  expect("tube at 0.3 m, W/m2", source, 7.235448, 10 * grid_irradiance(*thin, {0, 0, 0.3}, {0, 0, -1}), 1e-4,
         why);
  expect("tube at 3 m, W/m2", source, 0.111835, 10 * grid_irradiance(*thin, {0, 0, 3}, {0, 0, -1}), 1e-4,
         why);
  expect("tube at 0.3 m by on_axis(), W/m2", source, 7.235448, 10 * thin->on_axis(0.3), 1e-4, why);
  const auto trough = make_tube_emitter(0.6, 0.016, make_trough(kPi));
  expect("trough open all round at 0.3 m by on_axis(), W/m2", source, 7.235448, 10 * trough->on_axis(0.3),
         1e-7, "digits given");
  expect("trough open all round at 0.3 m, W/m2", source, 7.235448,
         10 * grid_irradiance(*trough, {0, 0, 0.3}, {0, 0, -1}), kGridError, kGrid);
  // Far away: flux / (pi^2 D^2), 0.7 % above at five lengths.
  expect("tube at 30 m against the far limit, W/m2", source, 10 / (kPi * kPi * 900), 10 * thin->on_axis(30),
         1e-3, "the limit itself is L^2 / D^2 off");
}

TEST(ViewFactor, LineOfIsotropicPoints) {
  formula("A line of isotropic points");
  // E = flux sin a / (2 pi L D).
  const auto line = make_tube_emitter(0.6, 0.016, make_isotropic());
  const char* source = "integral of the inverse square law along a line; computed from the closed form";
  expect("line of points at 0.3 m, W/m2", source, 6.252197,
         10 * grid_irradiance(*line, {0, 0, 0.3}, {0, 0, -1}), kGridError, kGrid);
  expect("the same by on_axis(), W/m2", source, 6.252197, 10 * line->on_axis(0.3), 1e-7, "digits given");
}

TEST(ViewFactor, SphereFacedAndTilted) {
  formula("Sphere seen by a small element: (R / d)^2 cos");
  // (R / d)^2, times cos(tilt) while the whole ball is above the element's horizon.
  const auto ball = make_sphere_emitter(0.1, nullptr);
  const double area = 4 * kPi * 0.05 * 0.05;
  const Vec3 at(0, 0, 0.4), tilted(std::sin(kPi / 3), 0, -std::cos(kPi / 3));
  expect("sphere faced", kHowell, 0.015625, area * grid_irradiance(*ball, at, {0, 0, -1}), kGridError, kGrid);
  expect("sphere tilted by 60 deg", kHowell, 0.0078125, area * grid_irradiance(*ball, at, tilted), kGridError,
         kGrid);
  expect("sphere by on_axis()", kHowell, 0.015625, area * ball->on_axis(0.4), 1e-9, "exact");
}

}  // namespace
}  // namespace boughlight
