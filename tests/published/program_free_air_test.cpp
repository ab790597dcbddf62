// The whole program on lamps in free air, against the closed forms of radiative transfer. Numbers of Howell's
// catalogue of configuration factors from memory.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"

namespace boughlight {
namespace {

using std::numbers::pi;

TEST(ProgramFreeAir, PointFollowsInverseSquareAndCosineLaw) {
  formula("Inverse square and cosine laws of a point");
  // I = 100 W/sr, 0.5 m above, 0 and 0.3 m aside: I h / (h^2 + x^2)^1.5; all round: I / d^2.
  ProgramScene scene;
  scene.add_lamp("point", "shape: point", "form: isotropic", watts(400 * pi), {0.5, 0.5, 0.9});
  scene.add_point("under", {0.5, 0.5, 0.4});
  scene.add_point("aside", {0.8, 0.5, 0.4});
  scene.add_point("facing", {0.8, 0.5, 0.4}, {-0.3, 0, 0.5});
  scene.add_point("away", {0.5, 0.5, 0.4}, {0, 0, -1});
  scene.add_point("far", {0.5, 0.5, -9.1});
  const ProgramReadings readings(scene);
  const char* source = "inverse square and cosine laws";
  expect_reading("point, 0.5 m under, W/m2", source, 400, readings.value("under"), 1e-6);
  expect_reading("point, 0.3 m aside, W/m2", source, 252.2038, readings.value("aside"), 1e-6);
  expect_reading("the same all round, W/m2", source, 100 / 0.34, readings.scalar("aside"), 1e-6);
  expect_reading("the same faced, W/m2", source, 100 / 0.34, readings.value("facing"), 1e-6);
  expect_reading("20 times as far, W/m2", source, 1, readings.value("far"), 1e-6);
  EXPECT_EQ(readings.value("away").value, 0) << "a sensor that looks away from the only lamp";
}

TEST(ProgramFreeAir, DiscOverAParallelElement) {
  formula("Howell B-12: disc over a parallel element on its axis");
  // M = 1000 W/m2, r = 0.1 m, 0.3 m above (B-12); 0.2 m off the axis (B-13).
  ProgramScene scene;
  scene.add_lamp("disc", "shape: disc, diameter: 0.2 m", "", watts(10 * pi), {0.5, 0.5, 0.9});
  scene.add_point("axis", {0.5, 0.5, 0.6});
  scene.add_point("off", {0.5, 0.7, 0.6});
  scene.add_point("behind", {0.5, 0.5, 1.2}, {0, 0, -1});
  const ProgramReadings readings(scene);
  expect_reading("disc on its axis (B-12), W/m2", kHowell, 100, readings.value("axis"), 2e-3);
  formula("Howell B-13: disc over a parallel element off its axis");
  expect_reading("disc off its axis (B-13), W/m2", kHowell, 52.78640, readings.value("off"), 2e-3);
  EXPECT_EQ(readings.value("behind").value, 0) << "a disc radiates to the side of `aim` only";
}

TEST(ProgramFreeAir, RectangleOverAndBesideAnElement) {
  formula("Howell B-3: rectangle over a parallel element under its corner");
  // M = 1000 W/m2, 0.6 m along x by 0.3 m. B-3: normal through the middle, and through a corner; B-4: at
  // right angles.
  ProgramScene scene;
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", watts(180), {0.5, 0.5, 0.9});
  scene.add_point("middle", {0.5, 0.5, 0.4});
  scene.add_point("corner", {0.8, 0.65, 0.4});
  scene.add_point("side", {0.2, 0.35, 0.4}, {1, 0, 0});
  const ProgramReadings readings(scene);
  expect_reading("rectangle over its middle (B-3), W/m2", kHowell, 177.888354, readings.value("middle"),
                 2e-3);
  expect_reading("rectangle over its corner (B-3), W/m2", kHowell, 110.321093, readings.value("corner"),
                 2e-3);
  formula("Howell B-4: rectangle standing on the element's plane");
  expect_reading("rectangle at right angles (B-4), W/m2", kHowell, 48.644447, readings.value("side"), 2e-3);
}

TEST(ProgramFreeAir, RectangleTurnedWithAimAndAlong) {
  formula("Howell B-3: rectangle over a parallel element under its corner");
  // The panel of the last test, hung on a wall and turned: aim along +x, its length upright.
  ProgramScene scene;
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", watts(180), {0.2, 0.5, 0.5},
                 "aim: [1, 0, 0], along: [0, 0, 1]");
  scene.add_point("middle", {0.7, 0.5, 0.5}, {-1, 0, 0});
  scene.add_point("corner", {0.7, 0.65, 0.8}, {-1, 0, 0});
  const ProgramReadings readings(scene);
  expect_reading("turned rectangle over its middle (B-3), W/m2", kHowell, 177.888354,
                 readings.value("middle"), 2e-3);
  expect_reading("turned rectangle over its corner (B-3), W/m2", kHowell, 110.321093,
                 readings.value("corner"), 2e-3);
}

TEST(ProgramFreeAir, ThinLambertTubeFacedFromItsMiddle) {
  formula("Keitz's line source");
  // Keitz: E = flux / (2 pi^2 L D) (2 a + sin 2a), a = atan(L / 2D); form as in the proceedings of the 2007
  // congress of the International Ozone Association. 1000 W, 0.6 m; 0.2 mm thick, which stands for a line.
  ProgramScene scene;
  scene.add_lamp("tube", "shape: tube, length: 0.6 m, diameter: 0.2 mm", "", watts(1000), {0.5, 0.5, 0.9});
  scene.add_point("near", {0.5, 0.5, 0.6});
  scene.add_point("aside", {0.5, 0.8, 0.9}, {0, -1, 0});
  scene.add_point("far", {0.5, 0.5, -2.1});
  scene.add_point("farther", {0.5, 0.5, -11.1});
  const ProgramReadings readings(scene);
  const char* source = "Keitz's line source formula; computed from the closed form";
  const char* why = "3e-4: a tube 0.2 mm thick stands for a line";
  expect_reading("tube at 0.3 m, W/m2", source, 723.5448, readings.value("near"), 2e-3, 3e-4, why);
  expect_reading("tube at 0.3 m to its side, W/m2", source, 723.5448, readings.value("aside"), 2e-3, 3e-4,
                 why);
  expect_reading("tube at 3 m, W/m2", source, 11.1835, readings.value("far"), 2e-3, 3e-4, why);
  expect_reading("tube at 12 m against the far limit, W/m2", source, 1000 / (pi * pi * 144),
                 readings.value("farther"), 2e-3, 6e-4,
                 "6e-4: the limit is L^2 / (6 D^2) off, with a third more for the cosine");
}

TEST(ProgramFreeAir, TroughAndLineOfPointsAndIsotropicTube) {
  formula("A trough: Keitz's line source over the open share of the circle");
  // A trough of cutoff c puts the tube's flux into 2c of the whole 2 pi around it: Keitz x pi / c, nothing
  // past c. A line of isotropic points: E = flux sin a / (2 pi L D).
  ProgramScene scene;
  const std::string tube = "shape: tube, length: 0.6 m, diameter: 16 mm";
  scene.add_lamp("trough", tube, "form: trough, cutoff: 70 deg", watts(1000), {0.5, 0.5, 0.9});
  scene.add_lamp("line", tube, "form: isotropic", watts(1000), {0.5, 20.5, 0.9});
  const double inside = 69 * pi / 180, outside = 71 * pi / 180;
  const auto at = [](double angle) {
    return std::vector<double>{0.5, 0.5 + 0.3 * std::sin(angle), 0.9 - 0.3 * std::cos(angle)};
  };
  const auto back = [](double angle) { return std::vector<double>{0, -std::sin(angle), std::cos(angle)}; };
  scene.add_point("under", {0.5, 0.5, 0.6});
  scene.add_point("within", at(inside), back(inside));
  scene.add_point("past", at(outside), back(outside));
  scene.add_point("line", {0.5, 20.5, 0.6});
  const ProgramReadings readings(scene);
  const char* source =
      "Keitz's line source formula over the open share of the circle; computed from the closed form";
  const double trough = 723.5448 * 180 / 70;
  const auto of = [&](const char* reading, const char* lamp) {
    return Printed{readings.by_lamp(reading, lamp), readings.value(reading).se};
  };
  expect_reading("trough at 0.3 m, W/m2", source, trough, of("under", "trough"), 2e-3);
  expect_reading("trough one degree inside its cutoff, W/m2", source, trough, of("within", "trough"), 2e-3);
  EXPECT_EQ(readings.by_lamp("past", "trough"), 0) << "one degree past the cutoff";
  formula("A line of isotropic points");
  expect_reading("line of isotropic points at 0.3 m, W/m2",
                 "integral of the inverse square law along a line; computed from the closed form", 625.2197,
                 of("line", "line"), 2e-3);
}

TEST(ProgramFreeAir, SphereFacedAndTilted) {
  formula("Sphere seen by a small element: (R / d)^2 cos");
  // (R / d)^2 M with M = 1000 W/m2, R = 0.05 m, d = 0.4 m; x cos(tilt) while the whole ball is above the
  // horizon. All round: solid angle x radiance = 2 (1 - sqrt(1 - (R / d)^2)) M.
  ProgramScene scene;
  scene.add_lamp("ball", "shape: sphere, diameter: 0.1 m", "", watts(10 * pi), {0.5, 0.5, 0.9});
  scene.add_point("faced", {0.5, 0.5, 0.5});
  scene.add_point("tilted", {0.5, 0.5, 0.5}, {std::sin(pi / 3), 0, std::cos(pi / 3)});
  const ProgramReadings readings(scene);
  expect_reading("sphere faced, W/m2", kHowell, 15.625, readings.value("faced"), 2e-3);
  expect_reading("sphere tilted by 60 deg, W/m2", kHowell, 7.8125, readings.value("tilted"), 2e-3);
  formula("Solid angle of a cone");
  expect_reading("sphere all round, W/m2", "solid angle of a cone, exact",
                 2000 * (1 - std::sqrt(1 - 1.0 / 64)), readings.scalar("faced"), 4e-3);
}

TEST(ProgramFreeAir, NarrowBeams) {
  formula("Intensity by a power of the cosine: (n + 1) / (2 pi)");
  // cosine-power of half angle 30 deg: I0 = flux (n + 1) / (2 pi), halved at 30 deg. A table of 1 up to 60
  // deg: a cone of solid angle pi, so I = flux / pi inside and nothing outside.
  ProgramScene scene;
  scene.add_lamp("flood", "shape: point", "form: cosine-power, half_angle: 30 deg", watts(1000),
                 {0.5, 0.5, 1});
  scene.add_lamp("cone", "shape: point", "form: table, intensity: [[0 deg, 1], [60 deg, 1]]", watts(1000),
                 {20.5, 0.5, 1});
  const auto around = [&](const std::string& name, double x, double degrees) {
    const double angle = degrees * pi / 180;
    scene.add_point(name, {x + std::sin(angle), 0.5, 1 - std::cos(angle)},
                    {-std::sin(angle), 0, std::cos(angle)});
  };
  around("flood axis", 0.5, 0);
  around("flood half", 0.5, 30);
  around("cone axis", 20.5, 0);
  around("cone inside", 20.5, 59);
  around("cone outside", 20.5, 61);
  const ProgramReadings readings(scene);
  const char* source = "integral of cos^n over the half space; computed from the closed form";
  const double n = std::log(0.5) / std::log(std::cos(pi / 6)), peak = 1000 * (n + 1) / (2 * pi);
  const auto of = [&](const char* reading, const char* lamp) {
    return Printed{readings.by_lamp(reading, lamp), 0};
  };
  expect_reading("flood on its axis at 1 m, W/m2", source, peak, of("flood axis", "flood"), 1e-6);
  expect_reading("flood at its half angle, W/m2", source, peak / 2, of("flood half", "flood"), 1e-6);
  const char* cone = "solid angle of a cone, exact";
  formula("Solid angle of a cone");
  expect_reading("cone on its axis at 1 m, W/m2", cone, 1000 / pi, of("cone axis", "cone"), 1e-6);
  expect_reading("cone one degree inside its edge, W/m2", cone, 1000 / pi, of("cone inside", "cone"), 1e-6);
  EXPECT_EQ(readings.by_lamp("cone outside", "cone"), 0);
}

}  // namespace
}  // namespace boughlight
