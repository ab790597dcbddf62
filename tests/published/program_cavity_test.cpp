// The whole program on light between matte walls: energy balance of a closed cube, plates, and boxes of
// unlike walls against radiosity computed here.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"
#include "published/quadrature.h"
#include "published/radiosity.h"

namespace boughlight {
namespace {

using Eigen::Vector3d;
using std::numbers::pi;

// Gauss-Legendre of 4 points over [0, 1].
const double kFourNodes[] = {0.0694318442, 0.3300094782, 0.6699905218, 0.9305681558};
const double kFourWeights[] = {0.1739274226, 0.3260725774, 0.3260725774, 0.1739274226};

std::string named(int i, int j) {
  return "n" + std::to_string(i) + std::to_string(j);
}

TEST(ProgramCavitySlow, MeanIrradianceOfAClosedCubeIsFluxOverAreaTimesOneMinusReflectance) {
  formula("Energy balance of a closed grey cavity: flux / (area (1 - reflectance))");
  // Energy balance: Phi / (A (1 - rho)). A lamp in the middle lights all six faces alike, so a quarter of one
  // face stands for all of them.
  for (const double reflectance : {0.2, 0.5, 0.8, 0.9}) {
    ProgramScene scene;
    scene.tolerance = "0.5 %";
    scene.sections =
        "materials:\n  grey: {surface: matte, reflectance: " + std::to_string(reflectance) + "}\n";
    scene.faces = "floor: grey, top: grey, left: grey, right: grey, front: grey, back: grey";
    scene.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W", {0.5, 0.5, 0.5});
    for (int i = 0; i < 4; ++i)
      for (int j = 0; j <= i; ++j) scene.add_point(named(i, j), {kFourNodes[i] / 2, kFourNodes[j] / 2, 0});
    const ProgramReadings readings(scene);
    Printed mean;
    for (int i = 0; i < 4; ++i)
      for (int j = 0; j <= i; ++j) {
        const Printed here = readings.value(named(i, j));
        const double weight = kFourWeights[i] * kFourWeights[j] * (i == j ? 1 : 2);
        mean.value += weight * here.value;
        mean.se = std::hypot(mean.se, weight * here.se);
      }
    expect_reading(
        "mean irradiance of a cube, reflectance " + std::to_string(reflectance).substr(0, 3) + ", W/m2",
        "energy balance, Phi / (A (1 - rho)); exact", 1000 / 6.0 / (1 - reflectance), mean, 3e-3, 1e-3,
        "1e-3: 4 x 4 Gauss points a quarter, kinks at the edges");
  }
}

TEST(ProgramCavitySlow, UnlikeWallsAgreeWithRadiosity) {
  formula("Radiosity of a box of unlike walls, lamp and sensor off centre");
  const Vector3d size(0.6, 0.5, 1.2), lamp(0.2, 0.3, 0.6);
  const auto walls = box_walls(size, {0.2, 0.9, 0.7, 0.4, 0.7, 0.6});
  const Radiosity coarse(walls, 4, point_lamp(lamp)), fine(walls, 6, point_lamp(lamp));
  ProgramScene scene;
  scene.tolerance = "0.15 %";
  scene.size = "[0.6, 0.5, 1.2]";
  scene.sections = "materials:\n";
  for (const auto& [name, reflectance] :
       {std::pair{"two", 0.2}, {"nine", 0.9}, {"seven", 0.7}, {"four", 0.4}, {"six", 0.6}})
    scene.sections +=
        std::string("  ") + name + ": {surface: matte, reflectance: " + std::to_string(reflectance) + "}\n";
  scene.faces = "floor: two, top: nine, left: seven, right: four, front: seven, back: six";
  scene.add_lamp("lamp", "shape: point", "form: isotropic", "radiant_flux: 1000 W", {0.2, 0.3, 0.6});
  struct Place {
    const char* name;
    Vector3d at, normal;
  };
  const std::vector<Place> places = {{"floor's middle", {0.3, 0.25, 0}, Vector3d::UnitZ()},
                                     {"floor's side", {0.4, 0.3, 0}, Vector3d::UnitZ()},
                                     {"right wall", {0.6, 0.25, 0.6}, -Vector3d::UnitX()},
                                     {"top", {0.3, 0.25, 1.2}, -Vector3d::UnitZ()}};
  for (const Place& p : places)
    scene.add_point(p.name, {p.at.x(), p.at.y(), p.at.z()}, {p.normal.x(), p.normal.y(), p.normal.z()});
  const ProgramReadings readings(scene);
  for (const Place& p : places) {
    const double rough = coarse.irradiance(p.at, p.normal), expected = fine.irradiance(p.at, p.normal);
    EXPECT_NEAR(rough, expected, 1e-3 * expected) << "the reference itself";
    expect_reading(std::string("unlike walls: ") + p.name + ", W/m2",
                   "radiosity of 216 patches of nine places, computed here", expected, readings.value(p.name),
                   6e-3, 5e-4, "5e-4: what finer patches still change");
  }
}

TEST(ProgramCavitySlow, OneWallSeenByItsNeighbourAndItsOpposite) {
  formula("Howell C-14: wall to neighbouring wall");
  // The left wall of a black unit cube shines with M = 1000 W/m2: C-14 to the floor, C-11 to the right wall,
  // both as means over the wall by Gauss points.
  ProgramScene scene;
  scene.sections = "materials:\n  black: {surface: matte, reflectance: 0}\n";
  scene.faces = "floor: black, top: black, left: black, right: black, front: black, back: black";
  scene.add_lamp("wall", "shape: rectangle, length: 1 m, width: 1 m", "", "radiant_flux: 1000 W",
                 {1e-4, 0.5, 0.5}, "aim: [1, 0, 0], along: [0, 1, 0]");
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 4; ++j) {
      scene.add_point("floor " + named(i, j), {kFourNodes[i], kFourNodes[j] / 2, 0});
      if (i >= j)
        scene.add_point("right " + named(i, j), {1, kFourNodes[i] / 2, kFourNodes[j] / 2}, {-1, 0, 0});
    }
  const ProgramReadings readings(scene);
  Printed floor, right;
  const auto add = [](Printed& mean, double weight, const Printed& here) {
    mean.value += weight * here.value;
    mean.se = std::hypot(mean.se, weight * here.se);
  };
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 4; ++j) {
      add(floor, kFourWeights[i] * kFourWeights[j], readings.value("floor " + named(i, j)));
      if (i >= j)
        add(right, kFourWeights[i] * kFourWeights[j] * (i == j ? 1 : 2),
            readings.value("right " + named(i, j)));
    }
  const char* howell = "Howell's catalogue (from memory); computed from the closed form";
  expect_reading("wall to floor of a unit cube (C-14), W/m2", howell, 200.043776, floor, 2e-3, 2e-3,
                 "2e-3: 4 Gauss points from the common edge out, and a lamp 0.1 mm off the wall");
  formula("Howell C-11: wall to opposite wall");
  expect_reading("wall to wall of a unit cube (C-11), W/m2", howell, 199.824896, right, 2e-3, 3e-4,
                 "3e-4: a lamp 0.1 mm off the wall");
  const Radiosity cube(box_walls({1, 1, 1}, std::vector<double>(6, 0)), 8,
                       [](const Vector3d&, const Vector3d&) { return 0.0; });
  formula("Howell C-14: wall to neighbouring wall");
  expect_published({"C-14 by the radiosity of these tests", howell, 0.200043776, cube.factor(2, 0), 3e-4,
                    "3e-4: 2 x 2 points a patch"});
  formula("Howell C-11: wall to opposite wall");
  expect_published({"C-11 by the radiosity of these tests", howell, 0.199824896, cube.factor(2, 3), 1e-5,
                    "1e-5: 2 x 2 points a patch"});
}

TEST(ProgramCavitySlow, TwoPlates) {
  formula("Two parallel grey plates without end (Siegel and Howell)");
  // Plate 1 (the floor, reflectance 0.3) emits M = 100 W/m2, plate 2 is of 0.6. Infinite: E2 = M / (1 - rho1
  // rho2), E1 = rho2 E2, met here by plates a hundred times as wide as their gap; and plates five times as
  // wide, against radiosity.
  for (const double gap : {0.01, 0.2}) {
    ProgramScene scene;
    scene.size = yaml_list({1, 1, gap});
    scene.sections =
        "materials:\n  three: {surface: matte, reflectance: 0.3}\n  six: {surface: matte, reflectance: "
        "0.6}\n";
    scene.faces = "floor: three, top: six, left: open, right: open, front: open, back: open";
    const double height = 1e-4;  // of the glowing sheet over the floor
    scene.add_lamp("sheet", "shape: rectangle, length: 1 m, width: 1 m", "", "radiant_flux: 100 W",
                   {0.5, 0.5, height}, "aim: [0, 0, 1]");
    scene.add_point("floor", {0.5, 0.5, 0});
    scene.add_point("top", {0.5, 0.5, gap}, {0, 0, -1});
    scene.add_point("top's side", {0.9, 0.5, gap}, {0, 0, -1});
    const ProgramReadings readings(scene);
    const Printed floor = readings.value("floor"), top = readings.value("top"),
                  side = readings.value("top's side");
    if (gap < 0.1) {
      const char* siegel = "Siegel & Howell (from memory); infinite plates, exact";
      const char* why = "2e-3: the plates end (h^2 / r^2 = 4e-4 at each of a few passes)";
      expect_reading("infinite plates, E2, W/m2", siegel, 121.951220, top, 3e-3, 2e-3, why);
      expect_reading("infinite plates, E1, W/m2", siegel, 73.170732, floor, 4e-3, 2e-3, why);
      continue;
    }
    const auto all = box_walls({1, 1, gap}, {0.3, 0.6, 0, 0, 0, 0});
    const std::vector<Wall> plates(all.begin(), all.begin() + 2);
    const Radiosity reference(plates, 8, [&](const Vector3d& at, const Vector3d& normal) {
      if (normal.z() > 0) return 0.0;  // the floor is behind the sheet
      const Vector3d o(0, 0, height), x(1, 0, 0), y(0, 1, 0);
      return 100 * polygon_factor(at, normal, {o, o + x, o + x + y, o + y});
    });
    const char* source = "radiosity of 128 patches of nine places, computed here";
    const char* why = "1e-3: a lamp 0.1 mm over the floor";
    formula("Radiosity of two grey plates that end");
    expect_reading("plates, top's middle, W/m2", source,
                   reference.irradiance({0.5, 0.5, gap}, -Vector3d::UnitZ()), top, 3e-3, 1e-3, why);
    expect_reading("plates, floor's middle, W/m2", source,
                   reference.irradiance({0.5, 0.5, 0}, Vector3d::UnitZ()), floor, 4e-3, 1e-3, why);
    expect_reading("plates, top's side, W/m2", source,
                   reference.irradiance({0.9, 0.5, gap}, -Vector3d::UnitZ()), side, 3e-3, 1e-3, why);
  }
}

}  // namespace
}  // namespace boughlight
