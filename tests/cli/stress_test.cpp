// Scenes at the edge of sense: right, or refused with a reason; never a figure that is none.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// Lamps whose light, bare, is 1000 lx at the distance.
std::string lamp_file(const std::string& emitter, const std::string& form, const std::string& lux = "1000",
                      const std::string& at = "30 cm") {
  return fmt::format(
      "fixture: 1\ntitle: Lamp\nemitter: {{{}}}\ndistribution: {{form: {}}}\nemission:\n"
      "  - {{part: light, spectrum: {{blackbody: 2800 K}}, output: {{lux: {}, at: {}}}}}\n"
      "source: invented for the demo\n",
      emitter, form, lux, at);
}

class Crate {
 public:
  Crate() {
    write_file(folder_.path() / "bulb.yaml", lamp_file("shape: point", "isotropic"));
    write_file(folder_.path() / "ball.yaml", lamp_file("shape: sphere, diameter: 6 cm", "lambert"));
    write_file(folder_.path() / "panel.yaml",
               lamp_file("shape: rectangle, length: 20 cm, width: 10 cm", "lambert"));
  }

  const fs::path& folder() const { return folder_.path(); }

  // A crate of one material with a top of another, 40 x 40 x 60 cm, and what else is given.
  Outcome survey(const std::string& walls, const std::string& top, const std::string& more) const {
    write_file(folder_.path() / "scene.yaml",
               fmt::format(
                   "boughlight: 1\n"
                   "enclosure: [{{box: crate, size: [40, 40, 60], faces: {{floor: {0}, back: {0}, left: {0}, "
                   "right: {0}, front: {0}, top: {1}}}}}]\n"
                   "materials: {{black: {{surface: matte, reflectance: 0}}, white: {{surface: matte, "
                   "reflectance: 0.999}}, net: {{surface: mesh, wire: 1 mm, pitch: 5 mm, reflectance: 0.4}}, "
                   "green: {{surface: leaf, reflectance: 0.1, transmittance: 0.1}}}}\n"
                   "survey: {{spacing: 20, tolerance: 5 %, seed: 3}}\n{2}",
                   walls, top, more));
    fs::remove_all(folder_.path() / "scene");
    RunOptions options;
    options.folder = folder_.path();
    return boughlight_run({"survey", "scene.yaml", "--quiet"}, options);
  }

  // A survey that is made, and whose files hold nothing but numbers where numbers belong.
  json sound(const std::string& walls, const std::string& top, const std::string& more) const {
    const Outcome outcome = survey(walls, top, more);
    EXPECT_LE(outcome.code, 1) << outcome.err << more;
    EXPECT_GE(outcome.code, 0) << outcome.err << more;
    return outcome.code > 1 ? json() : files();
  }
  json files() const {
    static const std::regex none(R"((^|[^A-Za-z])-?(nan|inf|infinity)([^A-Za-z]|$))", std::regex::icase);
    for (const auto& [name, text] : folder_contents(folder_.path() / "scene"))
      if (name.ends_with(".json") || name.ends_with(".csv") || name.ends_with(".txt")) {
        EXPECT_FALSE(std::regex_search(text, none)) << name;
      }
    return json::parse(read_file(folder_.path() / "scene/readings.json"));
  }
  static double lux(const json& readings, std::size_t reading) {
    return readings["readings"][reading]["values"]["lux"]["value"].get<double>();
  }
  void expect_refused(const std::string& walls, const std::string& top, const std::string& more,
                      const std::string& told) const {
    const Outcome outcome = survey(walls, top, more);
    EXPECT_EQ(outcome.code, 2) << more;
    EXPECT_EQ(outcome.err, told + "\nboughlight: 1 mistake in the input; nothing was computed\n");
    EXPECT_FALSE(fs::exists(folder_.path() / "scene"));
  }

 private:
  TemporaryFolder folder_;
};

const std::string kAnimal =
    "animal: {back: 3, reach: 3, never: {uvi: 7}, basking: {lux: {min: 100}}, refuge: {uvi: {max: 0.5}}}\n"
    "zones: {refuge: {volume: {min: 30 %}}, basking: {each_level: {max: 90 %}}}\n";
const std::string kMiddle = "points: [{name: middle, at: [20, 20, 30]}]\n";

// A cube-like crate `cm` wide.
// Everything is larger by the same factor, the distance at which the lamp is told as well: 1000 lx x
// (30/40)^2.
void expect_the_same_in_a_crate_of(double cm) {
  const TemporaryFolder folder;
  write_file(folder.path() / "bulb.yaml",
             lamp_file("shape: point", "isotropic", "1000", fmt::format("{} cm", 0.75 * cm)));
  write_file(
      folder.path() / "crate.yaml",
      fmt::format("boughlight: 1\nenclosure: [{{box: crate, size: [{0}, {0}, {1}], faces: {{floor: black, "
                  "back: black, left: black, right: black, front: black, top: open}}}}]\n"
                  "materials: {{black: {{surface: matte, reflectance: 0}}}}\n"
                  "points: [{{name: middle, at: [{2}, {2}, {3}], wants: {{lux: {{min: 500}}}}}}]\n"
                  "lamps: [{{name: bulb, fixture: bulb.yaml, at: [{2}, {2}, {4}]}}]\n"
                  "animal: {{reach: {5}, never: {{irradiance: 1e6}}}}\n"
                  "survey: {{spacing: {6}, tolerance: 5 %}}\ndoubt: {{position: {7}}}\n",
                  cm, 1.5 * cm, 0.5 * cm, 0.75 * cm, 1.75 * cm, 0.05 * cm, std::clamp(cm / 4, 0.25, 100.0),
                  cm / 100));
  const Outcome outcome = boughlight_run({"survey", folder / "crate.yaml", "--quiet"});
  ASSERT_EQ(outcome.code, 0) << cm << " cm: " << outcome.err;
  const json readings = json::parse(read_file(folder.path() / "crate/readings.json"));
  EXPECT_NEAR(Crate::lux(readings, 0), kCrateLux, 2e-5 * kCrateLux) << cm << " cm";
  const double hottest = readings["hottest"]["irradiance"]["value"].get<double>();
  EXPECT_TRUE(std::isfinite(hottest) && hottest > 0) << hottest;
}

TEST(StressSlow, CratesOfFourCentimetresAndOfTenMetresReadTheSame) {
  for (const double cm : {4.0, 40.0, 1000.0}) expect_the_same_in_a_crate_of(cm);
}

TEST(StressSlow, ACrateOfOneCentimetreReadsTheSame) {
  expect_the_same_in_a_crate_of(1);
}

TEST(StressSlow, WallsThatReflectNearlyAllGiveTheLightOfAnIntegratingSphere) {
  // An open top of the area a absorbs all: the walls' mean radiosity is about flux x rho / (A (1 - rho) + a),
  // and a sensor that looks at the floor from 1 cm sees the floor's. Looser than the noise: the light is not
  // quite even.
  const Crate crate;
  const json readings =
      crate.sound("white", "open",
                  "points: [{name: floor, at: [20, 20, 1], facing: [0, 0, -1]}]\n" +
                      std::string("lamps: [{name: bulb, fixture: bulb.yaml, at: [20, 20, 30]}]\n"));
  const double flux = 1000 * 4 * 3.14159265358979 * 0.3 * 0.3, walls = 0.4 * 0.4 + 4 * 0.4 * 0.6,
               top = 0.4 * 0.4;
  const double even = flux * 0.999 / (walls * 0.001 + top);
  EXPECT_NEAR(Crate::lux(readings, 0), even, 0.35 * even);
}

TEST(StressSlow, WithoutAnyLightEveryFigureIsNought) {
  const Crate crate;
  for (const std::string& lamps :
       {std::string("lamps: []\n"),
        std::string("lamps: [{name: bulb, fixture: bulb.yaml, at: [20, 20, 70], dim: 0 %}]\n"),
        std::string("room: {lux: 0}\n")}) {
    const json readings = crate.sound("black", "open", kAnimal + kMiddle + lamps);
    for (const auto& [name, value] : readings["readings"][0]["values"].items())
      EXPECT_EQ(value["value"], 0.0) << name << " with " << lamps;
  }
}

TEST(Stress, ALampOfNoOutputGivesNone) {
  const Crate crate;
  write_file(crate.folder() / "none.yaml", lamp_file("shape: point", "isotropic", "0"));
  const json readings = crate.sound(
      "black", "open", kAnimal + kMiddle + "lamps: [{name: none, fixture: none.yaml, at: [20, 20, 70]}]\n");
  for (const auto& [name, value] : readings["readings"][0]["values"].items())
    EXPECT_EQ(value["value"], 0.0) << name;
}

TEST(StressSlow, ALampInAWallIsRefusedAndOneThroughItIsToldOf) {
  const Crate crate;
  crate.expect_refused(
      "black", "open", kMiddle + "lamps: [{name: bulb, fixture: bulb.yaml, at: [0, 20, 40]}]\n",
      "scene.yaml:6:9: lamps[0]: lies in the left of box 'crate', which stops light: hang it at "
      "least 1 mm off");
  crate.expect_refused(
      "black", "black", kMiddle + "lamps: [{name: panel, fixture: panel.yaml, at: [20, 20, 60]}]\n",
      "scene.yaml:6:9: lamps[0]: lies in the top of box 'crate', which stops light: hang it at "
      "least 1 mm off");
  crate.expect_refused(
      "black", "open",
      "boards: [{name: shelf, corner: [5, 5, 40], edges: [[30, 0, 0], [0, 30, 0]], material: black}]\n" +
          kMiddle + "lamps: [{name: bulb, fixture: bulb.yaml, at: [20, 20, 40]}]\n",
      "scene.yaml:7:9: lamps[0]: lies in board 'shelf', which stops light: hang it at least 1 mm off");
  crate.expect_refused(
      "black", "open",
      "branches: [{name: bough, path: [[5, 20, 40], [35, 20, 40]], diameter: 4, material: black}]\n" +
          kMiddle + "lamps: [{name: bulb, fixture: bulb.yaml, at: [20, 20, 41]}]\n",
      "scene.yaml:7:9: lamps[0]: its middle is inside branch 'bough': no light gets out");
  // On a mesh it may lie, and a millimetre off a wall it shines into the crate whole: 1000 lx at 30 cm.
  const json on_mesh = crate.sound(
      "black", "net", kMiddle + "lamps: [{name: panel, fixture: panel.yaml, at: [20, 20, 60]}]\n");
  EXPECT_GT(Crate::lux(on_mesh, 0), 500);
  const json off = crate.sound("black", "black",
                               kMiddle + "lamps: [{name: panel, fixture: panel.yaml, at: [20, 20, 59.9]}]\n");
  EXPECT_NEAR(Crate::lux(off, 0), 1006, 6);
  const json through = crate.sound(
      "black", "open", kAnimal + kMiddle + "lamps: [{name: ball, fixture: ball.yaml, at: [0, 20, 40]}]\n");
  EXPECT_TRUE(
      contains(through.dump(),
               "lamp 'ball' goes through the left of box 'crate', which stops the light of what is beyond"));
}

TEST(Stress, ASensorOnALampIsRefused) {
  const Crate crate;
  for (const char* lamp : {"bulb", "ball", "panel"})
    crate.expect_refused(
        "black", "open",
        fmt::format("points: [{{name: a, at: [20, 20, 70], facing: brightest}}]\n"
                    "lamps: [{{name: it, fixture: {}.yaml, at: [20, 20, 70]}}]\n",
                    lamp),
        "scene.yaml:5:10: points[0]: the sensor is on or inside the emitter of lamp 'it', where "
        "nothing can be read: move it off by 1 mm or more");
}

TEST(Stress, SensorsOnSurfacesAndFarOutsideReadTheirOwnSide) {
  const Crate crate;
  const json readings = crate.sound("black", "open",
                                    "points:\n"
                                    "  - {name: floor, at: [20, 20, 0]}\n"
                                    "  - {name: its underside, at: [20, 20, 0], facing: [0, 0, -1]}\n"
                                    "  - {name: corner, at: [0, 0, 0], facing: brightest}\n"
                                    "  - {name: wall, at: [0, 20, 30], facing: [1, 0, 0]}\n"
                                    "  - {name: mouth, at: [20, 20, 60]}\n"
                                    "  - {name: far, at: [90 m, 20, 60], facing: brightest}\n"
                                    "  - {name: below, at: [20, 20, -30]}\n"
                                    "lamps: [{name: bulb, fixture: bulb.yaml, at: [20, 20, 80]}]\n");
  EXPECT_NEAR(Crate::lux(readings, 0), 1000 * 0.09 / 0.64, 0.01);
  EXPECT_EQ(Crate::lux(readings, 1), 0);
  EXPECT_NEAR(Crate::lux(readings, 2), 1000 * 0.09 / (0.64 + 0.08), 0.2) << "facing the lamp from the corner";
  EXPECT_NEAR(Crate::lux(readings, 3), 1000 * 0.09 / (0.04 + 0.25) * 0.2 / std::sqrt(0.29), 0.2);
  EXPECT_NEAR(Crate::lux(readings, 4), 1000 * 0.09 / 0.04, 0.1);
  EXPECT_NEAR(Crate::lux(readings, 5), 1000 * 0.09 / (89.8 * 89.8 + 0.04), 1e-6);
  EXPECT_EQ(Crate::lux(readings, 6), 0);
}

TEST(StressSlow, APerchInALeafReadsOneOfItsSides) {
  const Crate crate;
  const json readings = crate.sound(
      "black", "net",
      kAnimal +
          "plants: [{name: bush, crown: {at: [20, 20, 30], radii: [10, 10, 10], leaf_area: 1 m2}, leaf: "
          "{length: 8, "
          "width: 6, material: green}, needs: {ppfd: {min: 1}}}]\n"
          "branches: [{name: bough, path: [[5, 20, 30], [35, 20, 30]], diameter: 1, material: white}]\n"
          "perches: [{name: in leaves, at: [20, 20, 30.5], wants: {uvi: {max: 3}}}]\n"
          "lamps: [{name: ball, fixture: ball.yaml, at: [20, 20, 80]}]\n");
  const double lux = Crate::lux(readings, 0);
  EXPECT_GE(lux, 0);
  EXPECT_LT(lux, 400) << "as much as without leaves";
}

TEST(Stress, LeavesOfNoAreaAreRefusedAndOneHugeLeafIsNot) {
  const Crate crate;
  const auto bush = [](const std::string& area, const std::string& leaf) {
    return "plants: [{name: bush, crown: {at: [20, 20, 30], radii: [1, 1, 1], leaf_area: " + area +
           "}, leaf: {length: " + leaf + ", width: " + leaf +
           ", material: green}}]\nlamps: [{name: ball, fixture: ball.yaml, at: [20, 20, 80]}]\n";
  };
  crate.expect_refused(
      "black", "open", bush("0 m2", "5"),
      "scene.yaml:5:78: plants[0].crown.leaf_area: '0 m2' is not allowed: it must be more than 0 and "
      "at most 10 000 m2");
  crate.sound("black", "open", bush("4 m2", "200"));
  crate.sound("black", "open", bush("0.001 mm2", "5"));
}

TEST(StressSlow, HundredsOfLampsAreAddedUp) {
  const Crate crate;
  std::string lamps = "lamps:\n";
  double expected = 0;
  for (int i = 0; i < 150; ++i) {
    const double x = 2.0 + 36.0 * (i % 15) / 14, y = 2.0 + 36.0 * (i / 15) / 9;
    lamps += fmt::format("  - {{name: lamp {}, fixture: bulb.yaml, at: [{}, {}, 59], dim: 50 %}}\n", i, x, y);
    const double square = std::pow((x - 20) / 100, 2) + std::pow((y - 20) / 100, 2) + 0.29 * 0.29;
    expected += 500 * 0.09 / square * 0.29 / std::sqrt(square);
  }
  const json readings = crate.sound("black", "open", kMiddle + lamps);
  // Coordinates are written in full; rays are single precision.
  EXPECT_NEAR(Crate::lux(readings, 0), expected, 1e-4 * expected);
}

}  // namespace
}  // namespace boughlight
