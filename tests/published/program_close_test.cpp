// The whole program where light transport is hardest, at its default settings but for radiosity: sensors
// close to lamps, walls, edges and corners, lamps that rest on the mesh, thin tall boxes, bright cavities,
// closed boxes that must not leak.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"
#include "published/quadrature.h"
#include "published/radiosity.h"

namespace boughlight {
namespace {

using Eigen::Vector3d;
using std::numbers::pi;

// Within `share` of what is expected, at the default tolerance: what is asked of the program, not of its
// luck.
void expect_within(const std::string& what, const std::string& source, double expected,
                   const Printed& obtained, double share, const char* why) {
  expect_published(
      {what, source, expected, obtained.value, share * std::abs(expected), why, obtained.se > 0});
}

ProgramScene scene_of_matte(const Vector3d& size, double reflectance) {
  ProgramScene scene;
  scene.tolerance = "2 %";
  scene.size = yaml_list(list_of(size));
  scene.sections = "materials:\n  grey: {surface: matte, reflectance: " + std::to_string(reflectance) + "}\n";
  scene.faces = "floor: grey, top: grey, left: grey, right: grey, front: grey, back: grey";
  return scene;
}

// What the side of a tube along x, its middle at the origin, gives a sensor `below` under it whose normal is
// straight up, `through`: what is left of light that comes along a way; W/m2 for an exitance of 1.
template <class Through>
double tube_over(double length, double radius, double below, Through through) {
  return quadrature(
      [&](double x, double turn) {
        const Vector3d out(0, std::sin(turn), -std::cos(turn));
        const Vector3d way = Vector3d(x, 0, 0) + radius * out + Vector3d(0, 0, below);  // from the sensor
        const double distance = way.norm();
        return 4 / pi * std::max(0.0, way.z()) * std::max(0.0, -out.dot(way)) / std::pow(distance, 4) *
               radius * through(Vector3d(way / distance));
      },
      0, length / 2, 0, std::acos(radius / below));
}

TEST(ProgramClose, ATenthOfALampsLengthAway) {
  // A tenth of the lamp's length off, at the default tolerance: 0.5 %.
  ProgramScene scene;
  scene.tolerance = "2 %";
  const double tube_radius = 0.013;
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", "radiant_flux: 180 W",
                 {0.5, 0.5, 0.9});
  scene.add_lamp("disc", "shape: disc, diameter: 0.2 m", "", "radiant_flux: 31.4159265 W", {20.5, 0.5, 0.9});
  scene.add_lamp("ball", "shape: sphere, diameter: 0.2 m", "", "radiant_flux: 125.663706 W",
                 {40.5, 0.5, 0.9});
  scene.add_lamp("tube", "shape: tube, length: 0.6 m, diameter: 26 mm", "",
                 "radiant_flux: " + std::to_string(1000 * 2 * pi * tube_radius * 0.6) + " W",
                 {60.5, 0.5, 0.9});
  scene.add_point("panel", {0.5, 0.5, 0.84});
  scene.add_point("disc", {20.5, 0.5, 0.88});
  scene.add_point("ball", {40.5, 0.5, 0.78});
  scene.add_point("tube", {60.5, 0.5, 0.84});
  const ProgramReadings readings(scene);
  const auto by = [&](const char* lamp) {
    return Printed{readings.by_lamp(lamp, lamp), readings.value(lamp).se};
  };
  const char* why = "0.5 %, asked of near fields";
  const double x = 0.3 / 0.06, y = 0.15 / 0.06;
  formula("Howell B-3: rectangle over a parallel element under its corner");
  expect_within("panel a tenth of its length away, W/m2", "closed form",
                1000 * 4 / (2 * pi) *
                    (x / std::hypot(1, x) * std::atan(y / std::hypot(1, x)) +
                     y / std::hypot(1, y) * std::atan(x / std::hypot(1, y))),
                by("panel"), 5e-3, why);
  formula("Howell B-12: disc over a parallel element on its axis");
  expect_within("disc a tenth of its width away, W/m2", "closed form", 1000 * 0.01 / (0.01 + 0.0004),
                by("disc"), 5e-3, why);
  formula("Sphere seen by a small element: (R / d)^2 cos");
  expect_within("ball a tenth of its width away, W/m2", "closed form", 1000 * 0.01 / (0.12 * 0.12),
                by("ball"), 5e-3, why);
  formula("A round tube over an element: Lambert over the side that is seen");
  expect_within("tube a tenth of its length away, W/m2", "Lambert's law over the tube's side; GSL",
                1000 * tube_over(0.6, tube_radius, 0.06, [](const Vector3d&) { return 1.0; }), by("tube"),
                5e-3, why);
}

TEST(ProgramClose, ATubeThatRestsOnTheMesh) {
  formula("A tube that rests on a black mesh: Lambert's law times the mesh's transmittance by angle");
  ProgramScene scene;
  scene.tolerance = "2 %";
  scene.size = "[0.6, 0.45, 0.9]";
  scene.sections =
      "materials:\n  black: {surface: matte, reflectance: 0}\n"
      "  mesh: {surface: mesh, wire: 0.28 mm, pitch: 1.4 mm, reflectance: 0}\n";
  scene.faces = "floor: black, top: mesh, left: black, right: black, front: black, back: black";
  scene.add_lamp("tube", "shape: tube, length: 0.55 m, diameter: 26 mm", "", "radiant_flux: 1000 W",
                 {0.3, 0.2, 0.913}, "along: x");
  const std::vector<double> depths = {0.001, 0.05, 0.3};
  for (const double depth : depths) scene.add_point("d" + std::to_string(depth), {0.3, 0.2, 0.9 - depth});
  const ProgramReadings readings(scene);
  const auto mesh = [](const Vector3d& way) {
    const auto open = [&](double tangent) {
      return std::max(0.0, 1 - 0.2 * std::sqrt(1 + tangent * tangent));
    };
    return open(way.x() / way.z()) * open(way.y() / way.z());
  };
  for (const double depth : depths)
    expect_within(
        "tube resting on a mesh, sensor " + std::to_string(static_cast<int>(1000 * depth)) + " mm under it",
        "Lambert's law and the mesh's formula; GSL",
        1000 / (2 * pi * 0.013 * 0.55) * tube_over(0.55, 0.013, 0.013 + depth, mesh),
        readings.value("d" + std::to_string(depth)), 5e-3, "0.5 %, asked of near fields");
}

struct NamedSensor {
  std::string name;
  Vector3d at, normal;
};

// Walls along z cut at these heights as well.
std::vector<Wall> cut_at_heights(const std::vector<Wall>& walls, const std::vector<double>& heights) {
  std::vector<Wall> cut;
  for (const Wall& wall : walls) {
    if (wall.v.z() == 0) {
      cut.push_back(wall);
      continue;
    }
    for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
      cut.push_back(wall);
      cut.back().corner += heights[i] * Vector3d::UnitZ();
      cut.back().v = (heights[i + 1] - heights[i]) * Vector3d::UnitZ();
    }
  }
  return cut;
}

// Readings of the program against radiosity of fine x fine patches a wall, which differs little from that of
// coarse x coarse.
void expect_radiosity(ProgramScene scene, const std::string& what, const std::vector<Wall>& walls, int coarse,
                      int fine, const Vector3d& lamp, const std::vector<NamedSensor>& sensors) {
  scene.tolerance = "0.4 %";
  scene.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W", list_of(lamp));
  for (const NamedSensor& s : sensors) scene.add_point(s.name, list_of(s.at), list_of(s.normal));
  const ProgramReadings readings(scene);
  const Radiosity rougher(walls, coarse, point_lamp(lamp)), reference(walls, fine, point_lamp(lamp));
  for (const NamedSensor& s : sensors) {
    const double rough = rougher.irradiance(s.at, s.normal), expected = reference.irradiance(s.at, s.normal);
    EXPECT_NEAR(rough, expected, 2e-3 * expected) << s.name << ": the reference itself";
    expect_within(what + ", " + s.name + ", W/m2", "radiosity, computed here", expected,
                  readings.value(s.name), 0.01, "1 %, asked of cavities; at a tolerance of 0.4 %");
  }
}

const Vector3d kUp = Vector3d::UnitZ(), kRight = Vector3d::UnitX(), kBack = Vector3d::UnitY();

std::vector<NamedSensor> sensors_at_walls() {
  return {{"1 mm over the floor, up", {0.3, 0.4, 0.001}, kUp},
          {"1 mm over the floor, down", {0.3, 0.4, 0.001}, -kUp},
          {"1 mm from a wall, to it", {0.001, 0.5, 0.4}, -kRight},
          {"1 mm from a wall, away", {0.001, 0.5, 0.4}, kRight},
          {"1 mm from a wall, along it", {0.001, 0.5, 0.4}, kUp},
          {"1 mm from an edge", {0.001, 0.001, 0.6}, (kRight + kBack).normalized()},
          {"1 mm from three walls", {0.001, 0.001, 0.001}, (kRight + kBack + kUp).normalized()}};
}

TEST(ProgramCloseSlow, AMillimetreFromWallsEdgesAndACorner) {
  formula("Radiosity of a cube, sensors 1 mm from its walls, edges and a corner");
  for (const double reflectance : {0.5, 0.95}) {
    const Vector3d size(1, 1, 1);
    expect_radiosity(
        scene_of_matte(size, reflectance), "cube of reflectance " + std::to_string(reflectance).substr(0, 4),
        box_walls(size, std::vector<double>(6, reflectance)), 5, 7, {0.55, 0.5, 0.6}, sensors_at_walls());
  }
}

TEST(ProgramCloseSlow, ACavityThatLosesAThousandthABounce) {
  formula("Energy balance of a closed grey cavity: flux / (area (1 - reflectance))");
  const Vector3d size(1, 1, 1);
  ProgramScene scene = scene_of_matte(size, 0.999);
  // At the usual tolerance the solver's own error is as large as the 1 % that is allowed.
  scene.tolerance = "0.7 %";
  scene.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W", {0.5, 0.5, 0.5});
  scene.add_point("wall", {1, 0.2113, 0.2113}, {-1, 0, 0});
  const ProgramReadings readings(scene);
  // Where a face of this cube is lit as its mean is, but for a thousandth: the direct light's own
  // differences.
  expect_within("wall of a cube of reflectance 0.999, W/m2", "energy balance, exact", 1000 / 6.0 / 0.001,
                readings.value("wall"), 0.01, "1 %, asked of cavities; at a tolerance of 0.7 %");
}

TEST(ProgramCloseSlow, AThinTallBox) {
  formula("Radiosity of a box of 10 x 10 x 300 cm");
  const Vector3d size(0.1, 0.1, 3);
  // Finest where the lamp hangs 5 cm from the walls. Patches of 3 x 3 a piece, or pieces half as high, change
  // no figure by more than 9e-4.
  const auto walls = cut_at_heights(box_walls(size, std::vector<double>(6, 0.5)),
                                    {0, 0.1, 0.3, 0.6, 1.0, 1.4, 1.8, 2.1, 2.35, 2.5, 2.6, 2.7, 2.8, 2.9, 3});
  expect_radiosity(scene_of_matte(size, 0.5), "thin tall box", walls, 1, 2, {0.05, 0.05, 2.75},
                   {{"floor", {0.05, 0.05, 0}, kUp},
                    {"1 mm over the floor, by the wall", {0.001, 0.05, 0.001}, kUp},
                    {"half way up, up", {0.05, 0.05, 1.5}, kUp},
                    {"half way up, 1 mm from the wall, away", {0.001, 0.05, 1.5}, kRight}});
}

TEST(ProgramCloseSlow, ClosedBoxesLetNothingInAndNothingOut) {
  for (const double size : {0.1, 0.7, 3.0}) {
    ProgramScene dark = scene_of_matte({size, size, size}, 0.9);
    dark.sections += "room: {lux: 100000, spectrum: D65}\n";
    ProgramScene lit = scene_of_matte({size, size, size}, 0.9);
    lit.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W",
                 {size / 2, size / 2, size / 3});
    for (const double off : {1e-3, 0.3 * size}) {
      const std::string name = std::to_string(off);
      dark.add_point("corner " + name, {off, off, off}, {-1, -1, -1});
      dark.add_point("edge " + name, {off, off, size / 2}, {-1, -1, 0});
      dark.add_point("wall " + name, {off, size / 2, size / 2}, {1, 0, 0});
      lit.add_point("corner " + name, {-off, -off, -off}, {1, 1, 1});
      lit.add_point("edge " + name, {-off, -off, size / 2}, {1, 1, 0});
      lit.add_point("wall " + name, {-off, size / 2, size / 2}, {1, 0, 0});
    }
    const ProgramReadings inside(dark), outside(lit);
    for (const char* place : {"corner ", "edge ", "wall "})
      for (const double off : {1e-3, 0.3 * size}) {
        EXPECT_EQ(inside.value(place + std::to_string(off), "lux").value, 0) << size << place << off;
        EXPECT_EQ(outside.value(place + std::to_string(off)).value, 0) << size << place << off;
      }
  }
}

TEST(ProgramShadow, ASlantedBoardHidesPartOfAPanelFromATiltedSensor) {
  formula("Lambert's formula for a polygon: a panel partly hidden by a slanted board");
  // The board's edge from (0.3, 0.2) to (0.8, 0.75), half way up; what lies to its right (larger x) is
  // hidden.
  ProgramScene scene;
  const Vector3d from(0.3, 0.2, 0.75), to(0.8, 0.75, 0.75), aside(2, -1.8, 0);
  scene.sections =
      "materials:\n  black: {surface: matte, reflectance: 0}\nboards:\n  - {name: board, corner: " +
      yaml_list(list_of(from - 3 * (to - from))) + ", edges: [" + yaml_list(list_of(7 * (to - from))) + ", " +
      yaml_list(list_of(aside)) + "], material: black}\n";
  scene.add_lamp("panel", "shape: rectangle, length: 0.6 m, width: 0.3 m", "", "radiant_flux: 180 W",
                 {0.5, 0.5, 0.9});
  const std::vector<NamedSensor> sensors = {{"level", {0.5, 0.5, 0.6}, kUp},
                                            {"tilted", {0.45, 0.5, 0.6}, (kUp + 0.3 * kRight).normalized()},
                                            {"aside", {0.4, 0.55, 0.6}, (kUp - 0.2 * kBack).normalized()}};
  for (const NamedSensor& s : sensors) scene.add_point(s.name, list_of(s.at), list_of(s.normal));
  const ProgramReadings readings(scene);
  for (const NamedSensor& s : sensors) {
    // Seen are places of the panel beyond the plane through the sensor and the edge, on the side away from
    // the board.
    Vector3d side = (from - s.at).cross(to - s.at);
    if (side.dot(from + aside - s.at) > 0) side = -side;
    const Vector3d corner(0.2, 0.35, 0.9);
    const auto seen = part_above(
        s.at, side,
        {corner, corner + 0.6 * kRight, corner + 0.6 * kRight + 0.3 * kBack, corner + 0.3 * kBack});
    ASSERT_FALSE(seen.empty());
    expect_reading("panel partly hidden, sensor " + s.name + ", W/m2",
                   "Lambert's formula over the part that is seen",
                   1000 * polygon_factor(s.at, s.normal, seen), readings.value(s.name), 5e-3);
  }
}

}  // namespace
}  // namespace boughlight
