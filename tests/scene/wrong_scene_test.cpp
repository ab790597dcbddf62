// What a scene's sections must not say, each with the exact words of the mistake.
#include "scene_files.h"

namespace boughlight {
namespace {

using Texts = std::vector<std::string>;

std::string box(const std::string& faces, const std::string& size = "[90, 55, 110]") {
  return "boughlight: 1\nenclosure:\n  - {box: a, size: " + size + ", faces: {" + faces + "}}\n";
}
const std::string kAllCork = "floor: cork, top: cork, front: cork, back: cork, left: cork, right: cork";

TEST(WrongEnclosure, IsTold) {
  const TempFolder folder;
  const std::string lower =
      "boughlight: 1\nenclosure:\n  - {box: a, size: [90, 55, 110], faces: {" + kAllCork + "}}\n";
  const std::string sides = "front: cork, back: cork, left: cork, right: cork, top: cork";
  const std::vector<WrongCase> cases = {
      {"boughlight: 1\nenclosure: []\n",
       {"scene.yaml:2:12: enclosure: holds no box: at least one is needed"}},
      {box("floor: cork, top: cork, front: cork, back: cork, left: cork"),
       {"scene.yaml:3:42: enclosure[0].faces: 'right' is missing: the material of that side, or 'open' where "
        "there "
        "is none"}},
      {box(kAllCork + ", roof: cork"),
       {"scene.yaml:3:117: enclosure[0].faces.roof: is an unknown key; allowed: floor, top, front, back, "
        "left or "
        "right"}},
      {box("floor: corc, top: cork, front: cork, back: cork, left: cork, right: cork"),
       {"scene.yaml:3:50: enclosure[0].faces.floor: there is no material 'corc' (did you mean 'cork'?): it "
        "must be "
        "one of 'materials' here or of the library (boughlight library)"}},
      {box(kAllCork, "[90, 55]"),
       {"scene.yaml:3:20: enclosure[0].size: is a list of 2; a list of three lengths is needed here"}},
      {box(kAllCork, "[90, -55, 0]"),
       {"scene.yaml:3:25: enclosure[0].size[1]: '-55' is not allowed: it must be from 1 mm to 100 m",
        "scene.yaml:3:30: enclosure[0].size[2]: '0' is not allowed: it must be from 1 mm to 100 m"}},
      {box(kAllCork, "[90, 55, 110 m]"),
       {"scene.yaml:3:29: enclosure[0].size[2]: '110 m' is not allowed: it must be from 1 mm to 100 m"}},
      {lower + "  - {box: a, size: [60, 55, 50], faces: {" + sides + "}}\n",
       {"scene.yaml:4:11: enclosure[1].box: the name 'a' is used twice: first in line 3 (enclosure[0].box)"}},
      {lower + "  - {box: b, size: [60, 55, 50], offset: [95, 0], faces: {" + sides + ", floor: cork}}\n",
       {"scene.yaml:4:5: enclosure[1]: does not stand on the box below, 'a': their outlines must overlap"}},
      {lower + "  - {box: b, size: [60, 55, 50], faces: {" + sides + ", floor: cork}}\n",
       {"scene.yaml:4:110: enclosure[1].faces.floor: the box 'a' covers this side wholly: leave it out"}},
      {lower + "  - {box: b, size: [90, 55, 50], faces: {" + sides + "}}\n",
       {"scene.yaml:3:61: enclosure[0].faces.top: the box 'b' covers this side wholly: leave it out"}},
      {lower + "  - {box: b, size: [60, 55, 50], faces: {" + sides + ", floor: open}}\n", {}},
      {lower + "  - {box: b, size: [60, 55, 50], offset: [-5, 0], faces: {" + sides + "}}\n",
       {"scene.yaml:4:58: enclosure[1].faces: 'floor' is missing: the material of that side, or 'open' where "
        "there "
        "is none"}},
      {"boughlight: 1\nenclosure:\n  - {box: a, size: [90, 55, 110], offset: [1, 0], faces: {" + kAllCork +
           "}}\n",
       {"scene.yaml:3:43: enclosure[0].offset: the lowest box has no offset: its front-left corner is the "
        "origin"}},
  };
  for (const WrongCase& wrong : cases) EXPECT_EQ(folder.mistakes(wrong.yaml), wrong.mistakes) << wrong.yaml;
}

TEST(WrongBranches, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{"branches: [{name: a, path: [[1, 1, 1]], diameter: 2, material: bark}]\n",
        {"scene.yaml:3:28: branches[0].path: holds 1 place(s); a branch needs at least 2"}},
       {"branches: [{name: a, path: [[1, 1, 1], [1, 1, 1]], diameter: 2, material: bark}]\n",
        {"scene.yaml:3:40: branches[0].path[1]: is the same place as the one before: leave it out"}},
       {"branches: [{name: a, path: [[1, 1, 1], [5, 1, 1]], diameter: 0, material: bark}]\n",
        {"scene.yaml:3:62: branches[0].diameter: '0' is not allowed: it must be from 0.1 mm to 2 m"}},
       {"branches: [{name: a, path: [[1, 1, 1], [5, 1, 1]], diameter: 2, material: mesh-fine}]\n",
        {"scene.yaml:3:75: branches[0].material: 'mesh-fine' is a material of kind mesh; matte or leaf is "
         "allowed "
         "here"}},
       {"branches: [{name: a, path: [[1, 1, 101 m], [5, 1, 1]], diameter: 2, material: bark}]\n",
        {"scene.yaml:3:36: branches[0].path[0][2]: '101 m' is not allowed: it must be from -100 m to 100 m"}},
       {"branches:\n  - {name: a, path: [[1, 1, 1], [5, 1, 1]], diameter: 2, material: bark}\n"
        "boards:\n  - {name: a, corner: [1, 1, 1], edges: [[5, 0, 0], [0, 5, 0]], material: cork}\n",
        {"scene.yaml:6:12: boards[0].name: the name 'a' is used twice: first in line 4 "
         "(branches[0].name)"}}});
}

TEST(WrongBoards, AreTold) {
  const auto board = [](const std::string& edges, const std::string& material = "cork") {
    return "boards: [{name: a, corner: [1, 1, 1], edges: " + edges + ", material: " + material + "}]\n";
  };
  expect_mistakes(
      TempFolder(),
      {{board("[[5, 0, 0]]"),
        {"scene.yaml:3:46: boards[0].edges: is a list of 1; a pair of edges is needed here"}},
       {board("[[5, 0, 0], [0, 0, 0]]"), {"scene.yaml:3:46: boards[0].edges: an edge has no length"}},
       {board("[[5, 0, 0], [-8, 0, 0]]"),
        {"scene.yaml:3:46: boards[0].edges: the two edges lie along each other: they must span the board"}},
       {board("[[5, 0, 0], [5, 5, 0]]", "mesh-fine"),
        {"scene.yaml:3:46: boards[0].edges: the edges of a mesh or pane must be perpendicular"}},
       {board("[[5, 0, 0], [5, 5, 0]]"), {}}});
}

TEST(WrongPlants, AreTold) {
  const auto plant = [](const std::string& crown, const std::string& more = "") {
    return "plants: [{name: fig, crown: {" + crown + "}, leaf: {length: 6, width: 3, material: broad-leaf}" +
           more + "}]\n";
  };
  const std::string sound = "at: [60, 35, 75], radii: [16, 14, 25], leaf_area: 0.35 m2";
  expect_mistakes(
      TempFolder(),
      {{plant(sound), {}},
       {plant("at: [60, 35, 75], radii: [16, 14, 25], leaf_area: 0.35"),
        {"scene.yaml:3:80: plants[0].crown.leaf_area: '0.35' needs a unit: areas take m2, cm2, mm2, in2 or "
         "ft2"}},
       {plant("at: [60, 35, 75], radii: [16, 0, 25], leaf_area: 0.35 m2"),
        {"scene.yaml:3:60: plants[0].crown.radii[1]: '0' is not allowed: it must be from 1 mm to 100 m"}},
       {plant(sound + ", growth: 0"),
        {"scene.yaml:3:97: plants[0].crown.growth: '0' is not allowed: it must be more than 0 and at most "
         "10"}},
       {plant("at: [200, 35, 75], radii: [16, 14, 25], leaf_area: 0.35 m2"),
        {"scene.yaml:3:34: plants[0].crown.at: no part of this crown is inside the enclosure"}},
       // A sphere of 10 cm whose centre is 6 cm past two walls: their edge is 8.5 cm away, but with a third
       // wall the corner is 10.4 cm away.
       {plant("at: [96, 61, 100], radii: [10, 10, 10], leaf_area: 100 cm2"), {}},
       {plant("at: [96, 61, 116], radii: [10, 10, 10], leaf_area: 100 cm2"),
        {"scene.yaml:3:34: plants[0].crown.at: no part of this crown is inside the enclosure"}},
       {plant("at: [60, 35, 75], radii: [16, 14, 25], leaf_area: 9100 m2"),
        {"scene.yaml:3:29: plants[0].crown: its leaf area takes 5 060 000 leaves of this size; all plants "
         "together "
         "may have 5 000 000"}},
       {plant(sound, ", needs: {dli: [8, 2]}"),
        {"scene.yaml:3:154: plants[0].needs.dli: the lower limit 8 is above the upper limit 2"}},
       {"plants: [{name: fig, crown: {" + sound + "}, leaf: {length: 6, width: 3, material: cork}}]\n",
        {"scene.yaml:3:128: plants[0].leaf.material: 'cork' is a material of kind matte; leaf is allowed "
         "here"}}});
}

TEST(WrongReceivers, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{"perches: [{name: a, at: [45, 32, 120]}]\n",
        {"scene.yaml:3:25: perches[0].at: is outside the enclosure: a perch must be inside (a point may be "
         "anywhere)"}},
       {"perches: [{name: a, at: [45, 32, 20], along: w}]\n",
        {"scene.yaml:3:46: perches[0].along: is 'w'; x, y, z or a direction [x, y, z] is needed here"}},
       {"perches: [{name: a, at: [45, 32, 20], facing: brigtest}]\n",
        {"scene.yaml:3:47: perches[0].facing: is 'brigtest' (did you mean 'brightest'?); brightest, up or a "
         "direction [x, "
         "y, z] is allowed"}},
       {"perches: [{name: a, at: [45, 32, 20], facing: [0, 0, 0]}]\n",
        {"scene.yaml:3:47: perches[0].facing: is a direction of no length: at least one of the three numbers "
         "must "
         "not be 0"}},
       {"perches: [{name: a, at: [45, 32, 20], facing: [0, 0, 1 cm]}]\n",
        {"scene.yaml:3:54: perches[0].facing[2]: '1 cm' must be a plain number, without a unit"}},
       {"points: [{name: a, at: [45, 32, 20], facing: down}]\n",
        {"scene.yaml:3:46: points[0].facing: is 'down'; brightest, up or a direction [x, y, z] is allowed"}},
       {"points: [{name: a, at: [1, 1, 1]}]\nperches: [{name: a, at: [1, 1, 1]}]\n",
        {"scene.yaml:3:17: points[0].name: the name 'a' is used twice: first in line 4 (perches[0].name)"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uv: 3}}]\n",
        {"scene.yaml:3:43: points[0].wants.uv: is no quantity (did you mean 'uvi'?); allowed: uvi, uvc, uvb, "
         "uva, "
         "d3, actinic, lux, ppfd, irradiance, infrared, dli, uvi_hours, sed or infrared_hours"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uvi: 3}}]\n",
        {"scene.yaml:3:48: points[0].wants.uvi: is '3'; limits are needed here: [min, max], {min: ...}, "
         "{max: ...} "
         "or {min: ..., max: ...}"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uvi: {}}}]\n",
        {"scene.yaml:3:48: points[0].wants.uvi: holds no limit; allowed: [min, max], {min: ...}, {max: ...} "
         "or "
         "{min: ..., max: ...}"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uvi: [1, 2, 3]}}]\n",
        {"scene.yaml:3:48: points[0].wants.uvi: is a list of 3; [min, max] is needed here"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uvi: {max: 30 %}}}]\n",
        {"scene.yaml:3:54: points[0].wants.uvi.max: '30 %' must be a plain number, without a unit"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {uvb: {min: 5 lux}}}]\n",
        {"scene.yaml:3:54: points[0].wants.uvb.min: '5 lux' has an unknown unit; irradiances take W/m2, "
         "mW/m2, "
         "uW/m2, mW/cm2, uW/cm2 or W/cm2"}},
       {"points: [{name: a, at: [1, 1, 1], wants: {lux: {min: -3}}}]\n",
        {"scene.yaml:3:54: points[0].wants.lux.min: '-3' is not allowed: it must be 0 or more"}}});
}

TEST(WrongAnimal, IsTold) {
  expect_mistakes(
      TempFolder(),
      {{"animal: {never: {lux: 7}}\n",
        {"scene.yaml:3:18: animal.never.lux: is a quantity that cannot be asked for here; allowed: uvi or "
         "irradiance"}},
       // The nearest name would be another quantity.
       {"animal: {never: {uvb: 7}}\n",
        {"scene.yaml:3:18: animal.never.uvb: is a quantity that cannot be asked for here; allowed: uvi or "
         "irradiance"}},
       {"animal: {never: {uvi: [1, 7]}}\n",
        {"scene.yaml:3:23: animal.never.uvi: is a list; a number, the most allowed anywhere, is needed "
         "here"}},
       {"animal: {never: {uvi: {min: 1}}}\n",
        {"scene.yaml:3:23: animal.never.uvi: 'max' is missing: the upper limit",
         "scene.yaml:3:24: animal.never.uvi.min: is an unknown key; allowed: range or max"}},
       {"animal: {basking: {dli: {min: 1}}}\n",
        {"scene.yaml:3:20: animal.basking.dli: is a quantity that cannot be asked for here; allowed: uvi, "
         "uvc, uvb, uva, "
         "d3, actinic, lux, ppfd, irradiance or infrared"}},
       {"animal: {back: -1, reach: 9 m, body: {length: 22}}\n",
        {"scene.yaml:3:16: animal.back: '-1' is not allowed: it must be from 0 to 5 m",
         "scene.yaml:3:27: animal.reach: '9 m' is not allowed: it must be from 0 to 5 m",
         "scene.yaml:3:38: animal.body: 'height' is missing: of the body"}},
       {"animal: {reach: 3}\nzones: {refuge: {volume: {min: 30 %}}}\n",
        {"scene.yaml:4:17: zones.refuge: needs 'animal.refuge', which says what counts as such a place"}},
       {"zones: {basking: {volume: {min: 30 %}}}\n",
        {"scene.yaml:3:18: zones.basking: needs 'animal.basking', which says what counts as such a place"}},
       {"animal: {reach: 3, refuge: {uvi: {max: 1}}}\nzones: {refuge: {perch: {min: 30}}}\n",
        {"scene.yaml:4:25: zones.refuge.perch: there is neither branch nor board in the scene to take a "
         "share of",
         "scene.yaml:4:31: zones.refuge.perch.min: '30' is not allowed: it must be from 0 to 1 (1 is 100 "
         "%)"}}});
}

TEST(WrongRoom, IsTold) {
  expect_mistakes(
      TempFolder(),
      {{"room: {lux: -1}\n",
        {"scene.yaml:3:13: room.lux: '-1' is not allowed: it must be from 0 to 200 000 lx"}},
       {"room: {spectrum: D65}\n",
        {"scene.yaml:3:7: room: 'lux' is missing: on a flat sensor outside, whichever way "
         "it looks"}},
       {"room: {lux: 100, spectrum: D50}\n",
        {"scene.yaml:3:28: room.spectrum: is 'D50'; D65, A or a spectrum as in a "
         "lamp's part "
         "is allowed"}},
       {"room: {lux: 100, spectrum: {bands: [{at: 320 nm, width: 10 nm}]}}\n",
        {"scene.yaml:3:28: room.spectrum: holds no visible light, so it cannot give the room's lux"}},
       {"room: {lux: 100, spectrum: {lines: [[320 nm, 1]]}}\n",
        {"scene.yaml:3:28: room.spectrum: holds no visible light, so it cannot give the room's lux"}}});
}

}  // namespace
}  // namespace boughlight
