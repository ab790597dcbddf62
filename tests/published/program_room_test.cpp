// The whole program on the room's light: uniform from outside, the same on a sensor of any orientation.
#include <cmath>

#include "published/program_scene.h"

namespace boughlight {
namespace {

const char* const kRoom = "room: {lux: 10000, spectrum: D65}\n";

TEST(ProgramRoom, OpenAirReadsTheRoomInEveryOrientation) {
  formula("Uniform radiance: all round is four times the flat reading");
  ProgramScene scene;
  scene.sections = kRoom;
  scene.add_point("up", {0.5, 0.5, 0.5});
  scene.add_point("down", {0.2, 0.1, 0.1}, {0, 0, -1});
  scene.add_point("slanted", {3, -2, 1.5}, {1, -2, 0.5});
  const ProgramReadings readings(scene);
  for (const char* point : {"up", "down", "slanted"}) {
    expect_reading(std::string("room, sensor ") + point + ", lx", "its own declaration; exact", 10000,
                   readings.value(point, "lux"), 3e-3);
    expect_reading(std::string("room all round, at ") + point + ", lx", "four times the flat reading; exact",
                   40000, readings.scalar(point, "lux"), 6e-3);
  }
}

TEST(ProgramRoom, ThroughTheOpenTopOfABlackBox) {
  formula("Howell B-3: rectangle over a parallel element under its corner");
  // The opening, 0.6 x 0.3 m and 0.5 m above, is a source of uniform radiance: B-3 and B-4.
  ProgramScene scene;
  scene.size = "[0.6, 0.3, 0.5]";
  scene.sections = std::string("materials:\n  black: {surface: matte, reflectance: 0}\n") + kRoom;
  scene.faces = "floor: black, top: open, left: black, right: black, front: black, back: black";
  scene.add_point("middle", {0.3, 0.15, 0});
  scene.add_point("corner", {0, 0, 0});
  scene.add_point("side", {0, 0, 0}, {1, 0, 0});
  scene.add_point("down", {0.3, 0.15, 0.2}, {0, 0, -1});
  const ProgramReadings readings(scene);
  const char* howell = "Howell's catalogue (from memory); computed from the closed form";
  const char* why = "1e-3: a sensor on a face is read a hair off it";
  expect_reading("floor's middle (B-3), lx", howell, 1778.88354, readings.value("middle", "lux"), 3e-3, 1e-3,
                 why);
  expect_reading("floor's corner (B-3), lx", howell, 1103.21093, readings.value("corner", "lux"), 3e-3, 1e-3,
                 why);
  formula("Howell B-4: rectangle standing on the element's plane");
  expect_reading("corner, on the wall (B-4), lx", howell, 486.44447, readings.value("side", "lux"), 5e-3,
                 1e-3, why);
  EXPECT_EQ(readings.value("down", "lux").value, 0) << "a black box sends nothing up";
}

TEST(ProgramRoom, WhiteFurnace) {
  formula("White furnace: surfaces that lose nothing cannot be seen");
  // Surfaces that lose nothing (walls of reflectance 1, leaves of R + T = 1, clean glass) cannot be told from
  // the uniform light that falls in: every sensor, anywhere, of any orientation, reads the room.
  ProgramScene scene;
  scene.tolerance = "0.5 %";
  scene.sections =
      std::string(
          "materials:\n"
          "  white: {surface: matte, reflectance: 1}\n"
          "  glass: {surface: pane, transmittance: 0.92307692}\n"
          "  lossless: {surface: leaf, reflectance: 0.6, transmittance: 0.4}\n"
          "boards:\n"
          "  - {name: shelf, corner: [0, 0.5, 0.4], edges: [[0.5, 0, 0], [0, 0.5, 0]], material: white}\n"
          "branches:\n"
          "  - {name: bough, path: [[0.1, 0.3, 0.6], [0.9, 0.4, 0.7]], diameter: 0.04, material: white}\n"
          "plants:\n"
          "  - name: bush\n"
          "    crown: {at: [0.6, 0.5, 0.3], radii: [0.25, 0.25, 0.25], leaf_area: 0.5 m2, seed: 5}\n"
          "    leaf: {length: 0.05, width: 0.03, material: lossless}\n") +
      kRoom;
  scene.faces = "floor: white, top: open, left: white, right: glass, front: glass, back: white";
  scene.add_point("under the shelf", {0.25, 0.75, 0.2});
  scene.add_point("in the bush", {0.6, 0.5, 0.3}, {1, 1, 0});
  scene.add_point("under the bough", {0.5, 0.35, 0.6});
  scene.add_point("floor", {0.3, 0.3, 0});
  scene.add_point("back wall", {0.3, 1, 0.5}, {0, -1, 0});
  scene.add_point("corner", {0.02, 0.98, 0.39}, {0, 0, -1});
  const ProgramReadings readings(scene);
  for (const char* place :
       {"under the shelf", "in the bush", "under the bough", "floor", "back wall", "corner", "bush"})
    expect_reading(std::string("furnace: ") + place + ", lx", "energy balance, exact", 10000,
                   readings.value(place, "lux"), 8e-3, 5e-4,
                   "5e-4: rays start a hair off surfaces, and many bounces in single precision");
}

}  // namespace
}  // namespace boughlight
