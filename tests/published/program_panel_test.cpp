// The whole program on light that passes mesh and panes, by angle.
#include <cmath>
#include <numbers>

#include "published/program_scene.h"
#include "published/quadrature.h"

namespace boughlight {
namespace {

using std::numbers::pi;

// An isotropic point of 1000 W/sr that shines on a sensor a metre away, from `polar` off straight up and
// `azimuth` from +x (degrees).
void add_slanted_lamp(ProgramScene& scene, const std::string& name, const std::vector<double>& sensor,
                      double polar, double azimuth) {
  const double t = polar * pi / 180, p = azimuth * pi / 180;
  scene.add_lamp(name, "shape: point", "form: isotropic", watts(4000 * pi),
                 {sensor[0] + std::sin(t) * std::cos(p), sensor[1] + std::sin(t) * std::sin(p),
                  sensor[2] + std::cos(t)});
}

// 18 x 16 wires per inch, 0.011 in thick, black.
const char* const kScreen =
    "materials:\n  screen: {surface: mesh, wire: 0.2794 mm, pitch: [1.4111111 mm, 1.5875 mm], reflectance: "
    "0}\n";

TEST(ProgramMeshSlow, TransmittanceByAngle) {
  formula("Straight transmittance of two families of round wires by angle");
  ProgramScene scene;
  scene.sections = kScreen;
  scene.faces = "floor: open, top: screen, left: open, right: open, front: open, back: open";
  const std::vector<double> sensor = {0.5, 0.5, 0.95};
  scene.add_point("s", sensor);
  struct Row {
    double polar;
    double at[3];  // azimuth 0, 45, 90 deg
  };
  const std::vector<Row> table = {{0, {.6608, .6608, .6608}},  {30, {.6356, .6367, .6390}},
                                  {45, {.5933, .5942, .6024}}, {60, {.4977, .4958, .5197}},
                                  {70, {.3470, .3492, .3893}}, {75, {.1936, .2221, .2566}},
                                  {80, {0, .0495, 0}}};
  const auto name = [](double polar, double azimuth) {
    return "p" + std::to_string(static_cast<int>(polar)) + "a" + std::to_string(static_cast<int>(azimuth));
  };
  for (const Row& row : table)
    for (const double azimuth : {0, 45, 90})
      add_slanted_lamp(scene, name(row.polar, azimuth), sensor, row.polar, azimuth);
  const ProgramReadings readings(scene);
  for (const Row& row : table)
    for (int i = 0; i < 3; ++i) {
      const std::string lamp = name(row.polar, 45 * i);
      const double free_air = 1000 * std::cos(row.polar * pi / 180);
      expect_published({"transmittance of 18 x 16 mesh, " + lamp,
                        "two families of straight round opaque wires; computed from the formula", row.at[i],
                        readings.by_lamp("s", lamp) / free_air, 6e-5,
                        "four digits given, and single precision"});
    }
}

TEST(ProgramMesh, WallsCountTheirFirstPitchAlongTheFloor) {
  formula("Straight transmittance of two families of round wires by angle");
  // A lamp in front of the front wall (u = x, v = z) and one to the left of the left wall (u = y, v = z),
  // each 60 deg off the wall's normal along u, then along v.
  ProgramScene scene;
  scene.sections = kScreen;
  scene.faces = "floor: open, top: open, left: screen, right: open, front: screen, back: open";
  const double s = std::sin(pi / 3), c = std::cos(pi / 3);
  scene.add_point("front", {0.5, 0.05, 0.5}, {0, -1, 0});
  scene.add_point("left", {0.05, 0.5, 0.5}, {-1, 0, 0});
  const auto lamp = [&](const std::string& name, const std::vector<double>& at) {
    scene.add_lamp(name, "shape: point", "form: isotropic", watts(4000 * pi), at);
  };
  lamp("front u", {0.5 + s, 0.05 - c, 0.5});
  lamp("front v", {0.5, 0.05 - c, 0.5 + s});
  lamp("left u", {0.05 - c, 0.5 + s, 0.5});
  lamp("left v", {0.05 - c, 0.5, 0.5 + s});
  const ProgramReadings readings(scene);
  for (const std::string wall : {"front", "left"})
    for (const auto& [way, expected] : {std::pair{" u", 0.4977}, {" v", 0.5197}})
      expect_published({"transmittance at 60 deg, " + wall + way,
                        "two families of straight round opaque wires; computed from the formula", expected,
                        readings.by_lamp(wall, wall + way) / 500, 6e-5,
                        "four digits given, and single precision"});
}

TEST(ProgramMeshSlow, OpenAreaAtNormalIncidence) {
  formula("Open area of a mesh (ISO 9044)");
  // Open area (1 - n1 d)(1 - n2 d), ISO 9044: a mesh on every face, a lamp before each, a sensor that faces
  // it.
  struct Mesh {
    const char* face;
    double u, v, wire_in;  // wires per inch
    double open;
    std::vector<double> normal;
  };
  const std::vector<Mesh> meshes = {
      {"top", 18, 16, 0.009, 0.717328, {0, 0, 1}},   {"floor", 18, 14, 0.011, 0.678492, {0, 0, -1}},
      {"left", 18, 18, 0.009, 0.702244, {-1, 0, 0}}, {"right", 8, 8, 0.017, 0.746496, {1, 0, 0}},
      {"front", 4, 4, 0.025, 0.810000, {0, -1, 0}},  {"back", 18, 16, 0.011, 0.660848, {0, 1, 0}}};
  ProgramScene scene;
  scene.sections = "materials:\n";
  scene.faces.clear();
  for (const Mesh& mesh : meshes) {
    const std::string face = mesh.face;
    scene.sections += "  m-" + face + ": {surface: mesh, wire: " + std::to_string(mesh.wire_in) +
                      " in, pitch: [" + std::to_string(25.4 / mesh.u) + " mm, " +
                      std::to_string(25.4 / mesh.v) + " mm], reflectance: 0}\n";
    scene.faces += (scene.faces.empty() ? "" : ", ") + face + ": m-" + face;
    scene.add_point("to " + face, {0.5, 0.5, 0.5}, mesh.normal);
    scene.add_lamp(face, "shape: point", "form: isotropic", watts(4000 * pi),
                   {0.5 + mesh.normal[0], 0.5 + mesh.normal[1], 0.5 + mesh.normal[2]});
  }
  const ProgramReadings readings(scene);
  for (const Mesh& mesh : meshes) {
    const std::string face = mesh.face;
    expect_reading("open area of the mesh on the " + face, "ISO 9044; computed from the formula",
                   1000 * mesh.open, {readings.by_lamp("to " + face, face), 0}, 1);
  }
}

TEST(ProgramMesh, LayersAndDirtMultiplyAndMeasuredMeshIsFlat) {
  formula("Layers of mesh and dirt multiply");
  ProgramScene scene;
  scene.sections =
      "materials:\n"
      "  two: {surface: mesh, wire: 0.2794 mm, pitch: [1.4111111 mm, 1.5875 mm], reflectance: 0, layers: 2, "
      "soiling: 0.9}\n"
      "  measured: {surface: mesh, transmittance: 0.7}\n";
  scene.faces = "floor: open, top: two, left: measured, right: open, front: open, back: open";
  const std::vector<double> sensor = {0.5, 0.5, 0.95};
  scene.add_point("s", sensor);
  scene.add_point("left", {0.05, 0.5, 0.5}, {-1, 0, 0});
  add_slanted_lamp(scene, "above", sensor, 0, 0);
  scene.add_lamp("beside", "shape: point", "form: isotropic", watts(4000 * pi),
                 {0.05 - std::cos(1.2), 0.5, 0.5 + std::sin(1.2)});
  const ProgramReadings readings(scene);
  expect_reading("two layers, soiled", "product of the layers, ISO 9044", 1000 * 0.660848 * 0.660848 * 0.9,
                 {readings.by_lamp("s", "above"), 0}, 1);
  formula("A measured mesh lets through the same at every angle");
  expect_reading("measured transmittance, far off the normal", "its own declaration; exact",
                 1000 * std::cos(1.2) * 0.7, {readings.by_lamp("left", "beside"), 0}, 1);
}

// Both faces and all inner reflections of a slab in air, added without interference, per polarisation:
// Fresnel's equations as in Born & Wolf, Principles of Optics, written with angles, from memory. `internal`:
// at normal incidence.
struct Slab {
  double transmittance, reflectance;
};
Slab slab(double angle, double index, double internal) {
  const double inside = std::asin(std::sin(angle) / index);
  double s = (index - 1) / (index + 1), p = s;
  if (angle > 0) {
    s = std::sin(angle - inside) / std::sin(angle + inside);
    p = std::tan(angle - inside) / std::tan(angle + inside);
  }
  const double a = std::pow(internal, 1 / std::cos(inside));
  Slab whole{0, 0};
  for (const double face : {s * s, p * p}) {
    const double once = (1 - face) * (1 - face) * a / (1 - face * face * a * a);
    whole.transmittance += once / 2;
    whole.reflectance += face * (1 + a * once) / 2;
  }
  return whole;
}

TEST(ProgramPane, TransmittanceByAngleFollowsFresnel) {
  formula("A slab by angle: Fresnel's equations and the series of inner reflections");
  // Clean glass, n 1.5: 0.96 of 0.96 at normal incidence and 0.04 a face, so (1 - r) / (1 + r) = 0.923077 in
  // all.
  ProgramScene scene;
  scene.sections =
      "materials:\n  clear: {surface: pane, transmittance: 0.92307692}\n"
      "  tinted: {surface: pane, transmittance: 0.6, index: 1.52}\n";
  scene.faces = "floor: open, top: clear, left: tinted, right: open, front: open, back: open";
  const std::vector<double> sensor = {0.5, 0.5, 0.95};
  scene.add_point("s", sensor);
  scene.add_point("left", {0.05, 0.5, 0.5}, {-1, 0, 0});
  const std::vector<int> angles = {0, 30, 45, 56, 70, 80};
  for (const int angle : angles) {
    const double t = angle * pi / 180;
    add_slanted_lamp(scene, "t" + std::to_string(angle), sensor, angle,
                     180);  // on the far side of the other pane
    scene.add_lamp("l" + std::to_string(angle), "shape: point", "form: isotropic", watts(4000 * pi),
                   {0.05 - std::cos(t), 0.5 + std::sin(t), 0.5});
  }
  const ProgramReadings readings(scene);
  const char* fresnel = "Fresnel's equations for a slab; computed with sines and tangents";
  // The internal transmittance that gives 0.6 in all: solves T = (1 - r)^2 a / (1 - r^2 a^2) for a.
  const double r = std::pow(0.52 / 2.52, 2), b = (1 - r) * (1 - r) / (0.6 * r * r);
  const double tinted = (-b + std::sqrt(b * b + 4 / (r * r))) / 2;
  for (const int angle : angles) {
    const double t = angle * pi / 180, free_air = 1000 * std::cos(t);
    expect_reading(
        "clear pane at " + std::to_string(angle) + " deg", fresnel, free_air * slab(t, 1.5, 1).transmittance,
        {readings.by_lamp("s", "t" + std::to_string(angle)), 0}, 1, 1e-4, "1e-4: slants in single precision");
    expect_reading("tinted pane at " + std::to_string(angle) + " deg", fresnel,
                   free_air * slab(t, 1.52, tinted).transmittance,
                   {readings.by_lamp("left", "l" + std::to_string(angle)), 0}, 1, 1e-4,
                   "1e-4: slants in single precision");
  }
  expect_reading("clear pane, n 1.5, at normal incidence",
                 "0.04 a face and the series of inner reflections; exact", 1000 * 0.96 / 1.04,
                 {readings.by_lamp("s", "t0"), 0}, 1);
}

TEST(ProgramPane, MirrorsALampInsideTheEnclosure) {
  formula("Image of a lamp in a plane mirror");
  // A lamp and a sensor before a pane: the sensor looking at the pane reads the image alone.
  ProgramScene scene;
  scene.sections = "materials:\n  tinted: {surface: pane, transmittance: 0.6, index: 1.52}\n";
  scene.faces = "floor: open, top: open, left: tinted, right: open, front: open, back: open";
  scene.add_point("s", {0.4, 0.5, 0.3}, {-1, 0, 0});
  scene.add_lamp("lamp", "shape: point", "form: isotropic", watts(4000 * pi), {0.4, 0.5, 0.8});
  const ProgramReadings readings(scene);
  const double r = std::pow(0.52 / 2.52, 2), b = (1 - r) * (1 - r) / (0.6 * r * r);
  const double tinted = (-b + std::sqrt(b * b + 4 / (r * r))) / 2, angle = std::atan(0.5 / 0.8);
  expect_reading("the mirror image in a tinted pane, W/m2",
                 "Fresnel's equations for a slab, and the image at 0.94 m",
                 1000 * std::cos(angle) / (0.25 + 0.64) * slab(angle, 1.52, tinted).reflectance,
                 readings.value("s"), 1e-3, 1e-4, "1e-4: slants in single precision");
}

// A black box under a skylight: a sensor just under the middle of the top sees nothing else.
ProgramScene skylight(const std::string& material) {
  ProgramScene scene;
  scene.sections = "materials:\n  black: {surface: matte, reflectance: 0}\n  sky: " + material +
                   "\nroom: {lux: 10000, spectrum: D65}\n";
  scene.faces = "floor: black, top: sky, left: black, right: black, front: black, back: black";
  scene.add_point("under", {0.5, 0.5, 0.9995});
  scene.add_point("over", {0.5, 0.5, 1.0005}, {0, 0, -1});
  return scene;
}
const char* const kUnder = "1e-4: the sensor is 0.5 mm under the panel";

TEST(ProgramMesh, RoomLightThroughBlackMeshIsItsHemisphericalMean) {
  formula("Even light through a mesh: the hemispherical mean");
  const ProgramReadings readings(
      skylight("{surface: mesh, wire: 0.2794 mm, pitch: [1.4111111 mm, 1.5875 mm], reflectance: 0}"));
  expect_reading("room light through 18 x 16 mesh, lx", "hemispherical mean of the formula; computed", 5349.6,
                 readings.value("under", "lux"), 3e-3, 1e-4, kUnder);
  // But for a thousandth of a radian of room past the mesh's rim: 1e-6 of it.
  EXPECT_LT(readings.value("over", "lux").value, 0.1) << "black wires over a black box send nothing back";
}

TEST(ProgramMesh, PaintedWiresThrowBackWhatTheirPaintDoes) {
  formula("One bounce off a mesh: the back share of diffuse round wires, less what other wires keep");
  // A lamp and a sensor under a mesh of wires painted white, which swallows ultraviolet; all else is black.
  // What comes down is rho / (1 + x (1 - rho)) of what each family meets, x = wire / pitch, times [1 + (pi/4)
  // cos psi] / 2.
  ProgramScene scene;
  const double ratio = 0.2;
  scene.sections =
      "materials:\n  black: {surface: matte, reflectance: 0}\n"
      "  painted: {surface: mesh, wire: 0.3 mm, pitch: 1.5 mm, reflectance: [[380 nm, 0.06], [420 nm, "
      "0.85]]}\n";
  scene.faces = "floor: black, top: painted, left: black, right: black, front: black, back: black";
  scene.tolerance = "0.5 %";
  const std::vector<double> lamp = {0.5, 0.5, 0.6}, sensor = {0.7, 0.5, 0.6};
  scene.add_lamp("visible", "shape: point", "form: isotropic", watts(4000 * pi), lamp, "",
                 "lines: [[550 nm, 1]]");
  scene.add_lamp("ultraviolet", "shape: point", "form: isotropic", watts(4000 * pi), lamp, "",
                 "lines: [[340 nm, 1]]");
  // Level with the lamps, whose own light comes along the sensor's rim.
  scene.add_point("s", sensor);
  const ProgramReadings readings(scene);
  const auto seen = quadrature(
      [&](double x, double y) {
        const Eigen::Vector3d at(x, y, 1), in = at - Eigen::Vector3d(0.5, 0.5, 0.6),
                                           out = at - Eigen::Vector3d(0.7, 0.5, 0.6);
        const double falls = 1000 * in.z() / std::pow(in.norm(), 3);
        const double sec_u = std::hypot(1, in.x() / in.z()), sec_v = std::hypot(1, in.y() / in.z());
        const double hit_u = std::min(1.0, ratio * sec_u), hit_v = (1 - hit_u) * std::min(1.0, ratio * sec_v);
        const double back = (hit_u * (1 + pi / 4 / sec_u) + hit_v * (1 + pi / 4 / sec_v)) / 2;
        return falls * back / pi * std::pow(out.z(), 2) / std::pow(out.norm(), 4);
      },
      0, 1, 0, 1);
  for (const auto& [name, reflectance] : {std::pair{"visible", 0.85}, {"ultraviolet", 0.06}})
    expect_reading(std::string("thrown back by painted wires, ") + name + ", W/m2",
                   "integral over the mesh; GSL", reflectance / (1 + ratio * (1 - reflectance)) * seen,
                   {readings.by_lamp("s", name),
                    readings.value("s").se * readings.by_lamp("s", name) / readings.value("s").value},
                   0.02, 1e-3, "1e-3: the quadrature's own");
}

TEST(ProgramMeshSlow, WhiteWiresLoseNothing) {
  formula("Energy balance of white wires");
  const ProgramReadings readings(
      skylight("{surface: mesh, wire: 0.2794 mm, pitch: [1.4111111 mm, 1.5875 mm], reflectance: 1}"));
  const Printed in = readings.value("under", "lux"), out = readings.value("over", "lux");
  expect_reading("through and back by white wires, lx", "energy balance, exact", 10000,
                 {in.value + out.value, std::hypot(in.se, out.se)}, 3e-3, 1e-4, kUnder);
  EXPECT_GT(out.value, 0.5 * (10000 - 5349.6)) << "a round wire sends more back than on";
}

// Where a mesh of round wires sends light, as shares of it: the formulas of the README, from the angles that
// a way makes with the normal along both families of wires.
struct MeshLight {
  double straight, back, forward;
};
MeshLight mesh_light(double polar, double azimuth, double ratio_u, double ratio_v, double reflectance) {
  const double sec_u = std::hypot(1, std::tan(polar) * std::cos(azimuth)),
               sec_v = std::hypot(1, std::tan(polar) * std::sin(azimuth));
  const double hit_u = std::min(1.0, ratio_u * sec_u), hit_v = (1 - hit_u) * std::min(1.0, ratio_v * sec_v);
  const double sent = reflectance / (1 + (ratio_u + ratio_v) / 2 * (1 - reflectance));
  const double back = sent * (hit_u * (1 + pi / 4 / sec_u) + hit_v * (1 + pi / 4 / sec_v)) / 2;
  return {1 - hit_u - hit_v, back, sent * (hit_u + hit_v) - back};
}

TEST(ProgramMeshSlow, LightScattersToAndFroBetweenTwoLayersAndDirtDimsWhatGoesStraight) {
  const auto mean = [](auto share) {
    return quadrature(
        [&](double polar, double azimuth) {
          return 4 / pi * std::sin(polar) * std::cos(polar) *
                 share(mesh_light(polar, azimuth, 0.2794 / 1.4111111, 0.2794 / 1.5875, 0.6));
        },
        0, pi / 2 - 1e-6, 0, pi / 2);
  };
  const double straight = mean([](const MeshLight&m) { return m.straight; }),
               back = mean([](const MeshLight&m) { return m.back; }),
               forward = mean([](const MeshLight&m) { return m.forward; }),
               twice = mean([](const MeshLight&m) { return m.straight * m.straight; }),
               straight_back = mean([](const MeshLight&m) { return m.straight * m.back; }),
               straight_forward = mean([](const MeshLight&m) { return m.straight * m.forward; });
  const std::string wires =
      "{surface: mesh, wire: 0.2794 mm, pitch: [1.4111111 mm, 1.5875 mm], reflectance: 0.6";
  {
    formula("Two layers of scattering mesh in even light: diffuse light to and fro between them");
    // Light that one layer has scattered falls on the other as even light does. Downwards there is what the
    // upper one scatters on and sends back again; upwards what the lower one sends back.
    const double down = (forward + straight_back * back) / (1 - back * back),
                 up = straight_back + down * back;
    const ProgramReadings readings(skylight(wires + ", layers: 2}"));
    const char* source = "the series of diffuse exchanges, means over the hemisphere; GSL";
    expect_reading("room light through two layers, lx", source,
                   10000 * (twice + straight_forward + down * (straight + forward)),
                   readings.value("under", "lux"), 4e-3, 3e-4, "3e-4: sensors 0.5 mm off");
    expect_reading("room light sent back by two layers, lx", source,
                   10000 * (back + up * (straight + forward)), readings.value("over", "lux"), 6e-3, 3e-4,
                   "3e-4: sensors 0.5 mm off");
  }
  formula("A dirty mesh: what goes straight is dimmed, what wires scatter is not");
  const ProgramReadings readings(skylight(wires + ", soiling: 0.7}"));
  expect_reading("room light through a dirty mesh, lx", "hemispherical means of the formula; GSL",
                 10000 * (0.7 * straight + forward), readings.value("under", "lux"), 3e-3, 1e-4, kUnder);
}

TEST(ProgramPane, RoomLightThroughCleanGlassIsItsHemisphericalMean) {
  formula("Even light through glass: the hemispherical mean");
  const ProgramReadings readings(skylight("{surface: pane, transmittance: 0.92307692}"));
  const auto mean = [](auto share) {
    return quadrature([&](double t) { return 2 * share(slab(t, 1.5, 1)) * std::sin(t) * std::cos(t); }, 1e-9,
                      pi / 2);
  };
  const char* source = "Fresnel's equations for a slab over the hemisphere; GSL";
  expect_reading("room light through clean glass, lx", source,
                 10000 * mean([](const Slab& s) { return s.transmittance; }), readings.value("under", "lux"),
                 3e-3, 1e-4, kUnder);
  expect_reading("room light mirrored by clean glass, lx", source,
                 10000 * mean([](const Slab& s) { return s.reflectance; }), readings.value("over", "lux"),
                 6e-3, 1e-4, kUnder);
}

}  // namespace
}  // namespace boughlight
