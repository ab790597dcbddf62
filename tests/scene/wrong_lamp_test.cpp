// What a scene must not say about its lamps and materials.
#include "scene_files.h"

namespace boughlight {
namespace {

std::string lamp(const std::string& more) {
  return "lamps: [{name: tube, fixture: tube-uv-55, " + more + "}]\n";
}

TEST(WrongLamps, AreTold) {
  expect_mistakes(
      TempFolder(),
      {{lamp("at: [45, 24, 120]"), {}},
       {"lamps: [{name: tube, fixture: tube-uv-5, at: [45, 24, 120]}]\n",
        {"scene.yaml:3:31: lamps[0].fixture: there is no lamp 'tube-uv-5' in the library (did you mean "
         "'tube-uv-55'?); 'boughlight library' lists them, and a file of your own is named with its .yaml "
         "ending"}},
       {"lamps: [{name: tube, fixture: none.yaml, at: [45, 24, 120]}]\n",
        {"scene.yaml:3:31: lamps[0].fixture: there is no file 'none.yaml'"}},
       {lamp("dim: 50 %"),
        {"scene.yaml:3:9: lamps[0]: the place is missing: give 'at: [x, y, z]' or 'over: {x: ..., y: ..., "
         "gap: "
         "...}'"}},
       {lamp("at: [45, 24, 120], over: {x: 45, y: 24, gap: 5}"),
        {"scene.yaml:3:68: lamps[0].over: 'at' is given too: place a lamp by one of them"}},
       {lamp("over: {x: 45, y: 24}"),
        {"scene.yaml:3:49: lamps[0].over: 'gap' is missing: from the top up to the lowest part that shines"}},
       {lamp("over: {x: 45, y: 24, gap: -1}"),
        {"scene.yaml:3:69: lamps[0].over.gap: '-1' is not allowed: it must be from 0 to 100 m"}},
       {lamp("over: {x: 91, y: 24, gap: 1}"),
        {"scene.yaml:3:49: lamps[0].over: the enclosure has no top below this place, or an open one: give "
         "'at' "
         "instead"}},
       {lamp("at: [45, 24, 120], dim: 50"),
        {"scene.yaml:3:67: lamps[0].dim: '50' is not allowed: it must be from 0 to 1 (1 is 100 %)"}},
       {lamp("at: [45, 24, 120], burned: 500"),
        {"scene.yaml:3:70: lamps[0].burned: '500' needs a unit: durations take h, min, d or s"}},
       {lamp("at: [45, 24, 120], lit: 8-18"),
        {"scene.yaml:3:67: lamps[0].lit: '8-18' is not a range of clock times: write times of day as in "
         "\"08:00-12:00, 14:00-17:00\""}},
       {lamp("at: [45, 24, 120], along: z"),
        {"scene.yaml:3:69: lamps[0].along: must be perpendicular to aim, but is at 0 deg to it"}},
       {lamp("at: [45, 24, 120], along: [1, 0, 0.02]"),
        {"scene.yaml:3:69: lamps[0].along: must be perpendicular to aim, but is at 88.9 deg to it"}},
       {lamp("at: [45, 24, 120], along: [1, 0, 0.008]"), {}},
       {lamp("at: [45, 24, 120], aim: down"),
        {"scene.yaml:3:67: lamps[0].aim: is 'down'; a direction [x, y, z] is needed here"}},
       {"lamps: [{name: room, fixture: tube-uv-55, at: [45, 24, 120]}]\n",
        {"scene.yaml:3:16: lamps[0].name: 'room' stands for the room's light: choose another name"}},
       {"lamps: [{name: All, fixture: tube-uv-55, at: [45, 24, 120]}]\n",
        {"scene.yaml:3:16: lamps[0].name: 'All' stands for all lamps in a log of readings: choose another "
         "name"}},
       {"lamps:\n  - {name: a, fixture: tube-uv-55, at: [45, 24, 120]}\n"
        "  - {name: a, fixture: tube-uv-55, at: [45, 24, 120]}\n",
        {"scene.yaml:5:12: lamps[1].name: the name 'a' is used twice: first in line 4 (lamps[0].name)"}},
       {lamp("at: [45, 24, 120]") + "points: [{name: a, at: [1, 1, 1], wants: {sed: {max: 9}}}]\n",
        {"scene.yaml:4:48: points[0].wants.sed: adds up over the day and needs the hours of every lamp: "
         "'lit' "
         "is "
         "missing at lamp 'tube'"}},
       {lamp("at: [45, 24, 100]") + "animal: {back: 4}\n",
        {"scene.yaml:3:9: lamps[0]: hangs inside the enclosure, so 'animal.reach' must say how near the "
         "animal "
         "comes to it (above 0)"}},
       {lamp("at: [45, 24, 100]") + "animal: {reach: 0}\n",
        {"scene.yaml:3:9: lamps[0]: hangs inside the enclosure, so 'animal.reach' must say how near the "
         "animal "
         "comes to it (above 0)"}},
       {lamp("at: [45, 24, 100]"), {}}});
}

TEST(WrongLamps, InAClosedEnclosureThatTakesUpNoLightAreTold) {
  TempFolder folder;
  folder.write("tube.yaml", kTube);
  const auto mistakes = [&](const std::string& floor, const std::string& more,
                            const std::string& at = "[45, 25, 40]") {
    return folder.mistakes(
        "boughlight: 1\n"
        "materials:\n"
        "  white: {surface: matte, reflectance: 1}\n"
        "  grey: {surface: matte, reflectance: 0.9}\n"
        "  net: {surface: mesh, transmittance: 0.7}\n"
        "  blue: {surface: matte, reflectance: [[400 nm, 1], [500 nm, 0.5]]}\n"
        "enclosure: [{box: b, size: [90, 50, 50], faces: {floor: " +
        floor +
        ", top: white, left: white, right: white, front: white, back: white}}]\n"
        "animal: {reach: 5}\n"
        "lamps: [{name: tube, fixture: tube.yaml, at: " +
        at + "}]\n" + more);
  };
  const auto told = [](const std::string& nm) {
    return std::vector<std::string>{
        "scene.yaml:9:9: lamps[0]: hangs in a closed enclosure where nothing takes up its "
        "light of " +
        nm + " nm, which would have no end: give a wall a reflectance below 1"};
  };
  const std::vector<std::string> none;
  EXPECT_EQ(mistakes("white", ""), told("250"));
  EXPECT_EQ(mistakes("blue", ""), told("250")) << "white below 400 nm";
  EXPECT_EQ(mistakes("grey", ""), none);
  EXPECT_EQ(mistakes("open", ""), none);
  EXPECT_EQ(mistakes("white", "", "[45, 25, 60]"), none) << "beside it, its light has an end";
  EXPECT_EQ(
      mistakes(
          "white",
          "branches: [{name: bough, path: [[10, 10, 10], [30, 10, 10]], diameter: 2, material: grey}]\n"),
      none);
  EXPECT_EQ(
      mistakes(
          "white",
          "boards: [{name: net, corner: [10, 10, 10], edges: [[20, 0, 0], [0, 20, 0]], material: net}]\n"),
      none);
}

TEST(WrongLamps, OverAnOpenTopAreTold) {
  const std::string open =
      "boughlight: 1\nenclosure: [{box: a, size: [90, 55, 110], faces: {floor: soil, top: open, front: open, "
      "back: "
      "cork, left: cork, right: cork}}]\n";
  EXPECT_EQ(TempFolder().mistakes(open + lamp("over: {x: 45, y: 24, gap: 5}")),
            (std::vector<std::string>{
                "scene.yaml:3:49: lamps[0].over: the enclosure has no top below this place, or "
                "an open one: give 'at' instead"}));
}

TEST(WrongLamps, OneMistakeInAFixtureFileIsToldOnceForAllItsLamps) {
  const TempFolder folder;
  folder.write("bad.yaml", "fixture: 1\nemitter: {shape: point}\nemission: []\n");
  EXPECT_EQ(
      folder.mistakes(kCabinet + "lamps:\n  - {name: a, fixture: bad.yaml, at: [1, 2, 3], colour: red}\n"
                                 "  - {name: b, fixture: bad.yaml, at: [1, 2, 3]}\n"),
      (std::vector<std::string>{"scene.yaml:4:49: lamps[0].colour: is an unknown key; allowed: name, "
                                "fixture, at, over, aim, along, "
                                "dim, lit, ramp, burned, spread or choose",
                                "bad.yaml:3:11: emission: holds no part: at least one is needed"}));
}

std::string material(const std::string& fields) {
  return "materials: {own: {" + fields + "}}\n";
}

TEST(WrongMaterials, AreTold) {
  const TempFolder folder;
  folder.write("high.csv", "300, 0.5\n400, 1.5\n");
  folder.write("words.csv", "300, half\n");
  folder.write("um.csv", "0.3, 0.5\n0.7, 0.6\n");
  folder.write("wide.csv", std::string("3\0", 2));
  expect_mistakes(
      folder,
      {{material("surface: matte, reflectance: 30 %"), {}},
       {material("surface: matte"),
        {"scene.yaml:3:18: materials.own: 'reflectance' is missing: the share of light sent back: a ratio, a "
         "table "
         "or {file: ...}"}},
       {material("reflectance: 0.3"),
        {"scene.yaml:3:18: materials.own: 'surface' is missing: matte, mesh, pane or "
         "leaf"}},
       {material("surface: shiny, reflectance: 0.3"),
        {"scene.yaml:3:28: materials.own.surface: is 'shiny'; matte, mesh, pane or leaf is allowed"}},
       {material("surface: matte, reflectance: 1.2"),
        {"scene.yaml:3:48: materials.own.reflectance: '1.2' is not allowed: it must be from 0 to 1 (1 is 100 "
         "%)"}},
       {material("surface: matte, reflectance: 0.3, wire: 1 mm"),
        {"scene.yaml:3:53: materials.own.wire: is an unknown key; allowed: surface, "
         "title, "
         "source or reflectance"}},
       {material("surface: matte, reflectance: [[400 nm, 0.1], [300 nm, 0.2]]"),
        {"scene.yaml:3:65: materials.own.reflectance[1][0]: '300 nm' does not come after 400 nm: entries "
         "must "
         "rise"}},
       {material("surface: matte, reflectance: [[400, 0.1]]"),
        {"scene.yaml:3:50: materials.own.reflectance[0][0]: '400' needs a unit: wavelengths take nm or um"}},
       {material("surface: matte, reflectance: []"),
        {"scene.yaml:3:48: materials.own.reflectance: holds 0 entries; at least 1 are needed"}},
       {material("surface: matte, reflectance: {file: wide.csv}"),
        {"wide.csv: is not UTF-8 text: save the file as plain UTF-8 text"}},
       {material("surface: matte, reflectance: {file: um.csv}"),
        {"scene.yaml:3:55: materials.own.reflectance.file: goes from 0.3 nm to 0.7 nm; light here is 250 nm "
         "to 25 um"}},
       {material("surface: matte, reflectance: [[100 nm, 0.1], [200 nm, 0.2]]"),
        {"scene.yaml:3:48: materials.own.reflectance: goes from 100 nm to 200 nm; light here is 250 nm to 25 "
         "um"}},
       {material("surface: leaf, reflectance: 0.6, transmittance: 0.6"),
        {"scene.yaml:3:67: materials.own.transmittance: reflectance and transmittance add up to 1.2; a leaf "
         "cannot give "
         "back more than 1"}},
       {material("surface: matte, reflectance: {file: none.csv}"),
        {"scene.yaml:3:55: materials.own.reflectance.file: there is no file 'none.csv'"}},
       {material("surface: matte, reflectance: {file: high.csv}"),
        {"scene.yaml:3:55: materials.own.reflectance.file: holds a ratio of 1.5; at most 1 is allowed"}},
       {material("surface: mesh, wire: 6 mm, pitch: 6 mm, reflectance: 0.4"),
        {"scene.yaml:3:40: materials.own.wire: the wire of 6 mm leaves no opening at a pitch of 6 mm"}},
       {material("surface: mesh, wire: 1 mm, pitch: [6 mm], reflectance: 0.4"),
        {"scene.yaml:3:53: materials.own.pitch: is a list of 1; one spacing or [along u, along v] is needed "
         "here"}},
       {material("surface: mesh, transmittance: 0.7, wire: 1 mm"),
        {"scene.yaml:3:60: materials.own.wire: a mesh has either a measured transmittance or wire, pitch and "
         "reflectance, not both"}},
       {material("surface: mesh, transmittance: 0.7, layers: 2.5, soiling: 0"),
        {"scene.yaml:3:62: materials.own.layers: is '2.5'; a whole number from 1 to 10 is needed here",
         "scene.yaml:3:76: materials.own.soiling: '0' is not allowed: it must be more than 0 and at most 1 "
         "(1 is 100 "
         "%)"}},
       // Fresnel at normal incidence: R = (0.5 / 2.5)^2 = 0.04 at index 1.5, (1 - R) / (1 + R) = 0.92308.
       {material("surface: pane, transmittance: 0.93"),
        {"scene.yaml:3:49: materials.own.transmittance: is 0.93; the two faces of a pane of index 1.5 let at "
         "most "
         "0.923 through"}},
       {material("surface: pane, transmittance: 0.923"), {}},
       {material("surface: pane, transmittance: 0.9, index: 0.5"),
        {"scene.yaml:3:61: materials.own.index: '0.5' is not allowed: it must be from 1 to 3"}},
       {material("surface: leaf, reflectance: 0.6, transmittance: [[300 nm, 0], [700 nm, 0.5]]"),
        {"scene.yaml:3:67: materials.own.transmittance: reflectance and transmittance add up to 1.1 at 700 "
         "nm; a "
         "leaf cannot give back more than 1"}},
       {material("surface: leaf, reflectance: 0.6, transmittance: 0.4"), {}},
       {"materials: {open: {surface: matte, reflectance: 0}}\n",
        {"scene.yaml:3:13: materials.open: 'open' stands for no material: choose another name"}},
       {"materials: {cork: {surface: matte, reflectance: 0}}\n",
        {"scene.yaml:3:13: materials.cork: the library has a material of this name: choose another name"}}});
  const auto words = folder.mistakes(kCabinet + material("surface: matte, reflectance: {file: words.csv}"));
  ASSERT_EQ(words.size(), 1u);
  EXPECT_TRUE(words[0].starts_with("words.csv:1:")) << words[0];
}

}  // namespace
}  // namespace boughlight
