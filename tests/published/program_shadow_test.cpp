// The whole program on what stands in the way, and on one bounce.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"
#include "published/quadrature.h"

namespace boughlight {
namespace {

using std::numbers::pi;

const char* const kBlack = "materials:\n  black: {surface: matte, reflectance: 0}\n";

TEST(ProgramShadow, ABoardHidesPartOfADisc) {
  formula("A disc partly hidden by a board: Lambert over what is seen");
  // Disc of radius 0.1 m, M = 1000 W/m2, 0.3 m above the sensors; a board half way up from under its middle
  // outwards.
  ProgramScene scene;
  scene.sections = std::string(kBlack) +
                   "boards:\n  - {name: board, corner: [0.5, 0, 0.75], edges: [[0.5, 0, 0], [0, 1, 0]], "
                   "material: black}\n";
  scene.add_lamp("disc", "shape: disc, diameter: 0.2 m", "", "radiant_flux: 31.4159265 W", {0.5, 0.5, 0.9});
  scene.add_point("half", {0.5, 0.5, 0.6});
  scene.add_point("most", {0.52, 0.5, 0.6});
  scene.add_point("none", {0.7, 0.5, 0.6});
  scene.add_point("all", {0.3, 0.5, 0.6});
  const ProgramReadings readings(scene);
  const char* source = "Lambert's law over the part of the disc that is seen; GSL";
  expect_reading("half of a disc, W/m2", "half of B-12, by symmetry; exact", 50, readings.value("half"),
                 3e-3);
  // Seen from x = 0.52 the edge at 0.5, half way, hides what lies beyond x = 0.48.
  const auto seen = [](double x, double y) {
    const double d2 = (x - 0.02) * (x - 0.02) + y * y + 0.09;
    return 1000 / pi * 0.09 / (d2 * d2);
  };
  const double most = quadrature(
      [&](double x) {
        const double half = std::sqrt(0.01 - x * x);
        return 2 * quadrature([&](double y) { return seen(x, y); }, 0, half);
      },
      -0.1, -0.02);
  expect_reading("a part of a disc, W/m2", source, most, readings.value("most"), 3e-3);
  EXPECT_EQ(readings.value("none").value, 0) << "all of the disc is hidden";
  formula("Howell B-13: disc over a parallel element off its axis");
  expect_reading("beside the board (B-13), W/m2", "Howell's catalogue (from memory)", 52.78640,
                 readings.value("all"), 3e-3);
}

TEST(ProgramShadow, EdgesOfShadowsAreSharp) {
  formula("A shadow's sharp edge");
  // A point lamp 0.4 m over a board's edge, and 0.4 m over a round branch of radius 0.02 m: its shadow ends
  // where the tangent does, sin(angle) = 0.02 / 0.4, on the floor 0.8 m under the lamp. 1 mm either side.
  ProgramScene scene;
  scene.size = "[3, 1, 1]";
  scene.sections =
      std::string(kBlack) +
      "boards:\n  - {name: board, corner: [0.5, 0.2, 0.5], edges: [[0.3, 0, 0], [0, 0.6, 0]], material: "
      "black}\n"
      "branches:\n  - {name: bough, path: [[2, 0.1, 0.5], [2, 0.9, 0.5]], diameter: 0.04, material: black}\n";
  const std::string output = "radiant_flux: " + std::to_string(4000 * pi) + " W";
  scene.add_lamp("a", "shape: point", "form: isotropic", output, {0.4, 0.5, 0.9});
  scene.add_lamp("b", "shape: point", "form: isotropic", output, {2, 0.5, 0.9});
  const double edge = 0.4 + 0.1 * 0.8 / 0.4, tangent = 2 + 0.8 * std::tan(std::asin(0.02 / 0.4));
  scene.add_point("board lit", {edge - 1e-3, 0.5, 0.1});
  scene.add_point("board dark", {edge + 1e-3, 0.5, 0.1});
  scene.add_point("bough lit", {tangent + 1e-3, 0.5, 0.1});
  scene.add_point("bough dark", {tangent - 1e-3, 0.5, 0.1});
  scene.add_point("bough dark too", {4 - tangent + 1e-3, 0.5, 0.1});
  scene.add_point("bough lit too", {4 - tangent - 1e-3, 0.5, 0.1});
  const ProgramReadings readings(scene);
  const auto lit = [](double aside) { return 1000 * 0.8 / std::pow(0.64 + aside * aside, 1.5); };
  const char* source = "inverse square and cosine laws";
  expect_reading("1 mm outside a board's shadow, W/m2", source, lit(0.2 - 1e-3),
                 {readings.by_lamp("board lit", "a"), 0}, 1);
  EXPECT_EQ(readings.by_lamp("board dark", "a"), 0);
  expect_reading("1 mm outside a branch's shadow, W/m2", source, lit(tangent - 2 + 1e-3),
                 {readings.by_lamp("bough lit", "b"), 0}, 1);
  expect_reading("1 mm outside its other side, W/m2", source, lit(tangent - 2 + 1e-3),
                 {readings.by_lamp("bough lit too", "b"), 0}, 1);
  EXPECT_EQ(readings.by_lamp("bough dark", "b"), 0);
  EXPECT_EQ(readings.by_lamp("bough dark too", "b"), 0);
}

TEST(ProgramShadow, OneBounceOffABoard) {
  formula("One bounce off a matte board");
  // A lamp over a matte board, a sensor over it looking down: E = rho / pi integral E_board cos cos' / d^2
  // dA.
  ProgramScene scene;
  scene.sections =
      "materials:\n  grey: {surface: matte, reflectance: 0.5}\n"
      "boards:\n  - {name: board, corner: [0.2, 0.2, 0.1], edges: [[0.6, 0, 0], [0, 0.6, 0]], material: "
      "grey}\n";
  scene.add_lamp("lamp", "shape: point", "form: isotropic",
                 "radiant_flux: " + std::to_string(4000 * pi) + " W", {0.5, 0.5, 0.5});
  scene.add_point("s", {0.7, 0.5, 0.3}, {0, 0, -1});
  const ProgramReadings readings(scene);
  const double expected = quadrature(
      [](double x, double y) {
        const double lamp2 = x * x + y * y + 0.16, sensor2 = (x - 0.2) * (x - 0.2) + y * y + 0.04;
        const double board = 1000 * 0.4 / std::pow(lamp2, 1.5);
        return 2 * 0.5 / pi * board * 0.04 / (sensor2 * sensor2);  // both halves, y < 0 and y > 0
      },
      -0.3, 0.3, 0, 0.3);
  expect_reading("one bounce off a board, W/m2", "Lambert's law over the board; GSL", expected,
                 readings.value("s"), 4e-3);
}

TEST(ProgramTiltedSlow, SensorsNearLampsOfEveryShape) {
  formula("Lamps of every shape over tilted sensors: Lambert over what is above the horizon");
  // Sensors so tilted that part of a near lamp lies below their horizon: Lambert's law over what is above it.
  ProgramScene scene;
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", "radiant_flux: 180 W",
                 {0.5, 0.5, 0.9});
  scene.add_lamp("disc", "shape: disc, diameter: 0.2 m", "", "radiant_flux: 31.4159265 W", {20.5, 0.5, 0.9});
  scene.add_lamp("ball", "shape: sphere, diameter: 0.2 m", "", "radiant_flux: 125.663706 W",
                 {40.5, 0.5, 0.9});
  scene.add_lamp("tube", "shape: tube, length: 0.5 m, diameter: 0.04 m", "", "radiant_flux: 1000 W",
                 {60.5, 0.5, 0.9});
  const std::vector<double> degrees = {30, 60, 85, 100};
  const auto name = [](const char* lamp, double angle) {
    return lamp + std::to_string(static_cast<int>(angle));
  };
  double x = 0.5;
  for (const char* lamp : {"panel", "disc", "ball", "tube"}) {
    for (const double angle : degrees) {
      const double t = angle * pi / 180;
      scene.add_point(name(lamp, angle), {x, 0.5, 0.7}, {std::sin(t), 0, std::cos(t)});
    }
    x += 20;
  }
  const ProgramReadings readings(scene);
  const auto check = [&](const char* lamp, double angle, double expected) {
    expect_reading(std::string(lamp) + " from a sensor tilted by " + std::to_string(static_cast<int>(angle)) +
                       " deg, W/m2",
                   "Lambert's law over what is above the horizon; GSL", expected,
                   {readings.by_lamp(name(lamp, angle), lamp), readings.value(name(lamp, angle)).se}, 5e-3,
                   1e-4, "1e-4: single precision, and the reference's 1e-7 a layer");
  };
  for (const double angle : degrees) {
    const double t = angle * pi / 180, s = std::sin(t), c = std::cos(t), h = 0.2;
    // Flat lamps at height h: M / pi (x s + h c)+ h / d^4.
    const auto flat = [&](double px, double py) {
      const double d2 = px * px + py * py + h * h;
      return 1000 / pi * std::max(0.0, px * s + h * c) * h / (d2 * d2);
    };
    const double horizon = -h * c / s;  // nothing below this x
    check("panel", angle, 2 * quadrature(flat, std::clamp(horizon, -0.3, 0.3), 0.3, 0, 0.15));
    check("disc", angle,
          quadrature(
              [&](double px) {
                return 2 * quadrature([&](double py) { return flat(px, py); }, 0,
                                      std::sqrt(std::max(0.0, 0.01 - px * px)));
              },
              std::clamp(horizon, -0.1, 0.1), 0.1));
    // The ball: even radiance M / pi over a cone of half angle asin(R / h) about straight up.
    check("ball", angle,
          quadrature(
              [&](double polar, double turn) {
                const double cosine = std::sin(polar) * std::cos(turn) * s + std::cos(polar) * c;
                return 2 * 1000 / pi * std::max(0.0, cosine) * std::sin(polar);
              },
              0, std::asin(0.1 / h), 0, pi));
    // The tube along x: patches of its side that face the sensor.
    const double radius = 0.02, exitance = 1000 / (2 * pi * radius * 0.5), facing = std::acos(radius / h);
    check("tube", angle,
          quadrature(
              [&](double px, double turn) {
                const double py = radius * std::sin(turn), pz = h - radius * std::cos(turn);
                const double d2 = px * px + py * py + pz * pz;
                const double leaving = std::cos(turn) * pz - std::sin(turn) * py;
                return 2 * exitance / pi * std::max(0.0, px * s + pz * c) * std::max(0.0, leaving) /
                       (d2 * d2) * radius;
              },
              -0.25, 0.25, 0, facing));
  }
}

}  // namespace
}  // namespace boughlight
