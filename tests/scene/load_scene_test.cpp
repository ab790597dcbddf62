// Sound scenes: what each field becomes in the model.
#include <cmath>
#include <numbers>

#include "stand_ins.h"

namespace boughlight {
namespace {

TEST(LoadScene, TakesTheDefaultsOfTheDesign) {
  const TempFolder folder;
  const Scene scene =
      load(folder, kCabinet +
                       "perches: [{name: p, at: [45, 32, 20]}]\n"
                       "points: [{name: q, at: [500, 0, 0]}]\n"
                       "plants: [{name: fig, crown: {at: [60, 35, 75], radii: [16, 14, 25], leaf_area: "
                       "0.35 m2}, leaf: {length: 6, width: 3, material: broad-leaf}}]\n"
                       "lamps: [{name: a, fixture: tube-uv-55, at: [45, 24, 130]}]\n"
                       "room: {lux: 0}\n");
  EXPECT_EQ(scene.title, "");
  EXPECT_EQ(scene.length_unit, "cm");
  EXPECT_TRUE(scene.perches[0].facing.brightest);
  EXPECT_FALSE(scene.points[0].facing.brightest);
  EXPECT_TRUE(scene.points[0].facing.direction.isApprox(Vec3::UnitZ()));
  EXPECT_EQ(scene.plants[0].growth, 1);
  EXPECT_TRUE(scene.lamps[0].aim.isApprox(-Vec3::UnitZ()));
  EXPECT_TRUE(scene.lamps[0].along.isApprox(Vec3::UnitX()));
  EXPECT_EQ(scene.lamps[0].dim, 1);
  EXPECT_EQ(scene.lamps[0].burned_h, 0);
  EXPECT_FALSE(scene.lamps[0].lit);
  EXPECT_EQ(scene.room->irradiance_w_m2, 0);
  EXPECT_EQ(scene.survey.spacing, 0.05);
  EXPECT_EQ(scene.survey.tolerance, 0.02);
  EXPECT_EQ(scene.survey.seed, 1u);
  EXPECT_FALSE(scene.animal);
}

TEST(LoadScene, CrownSeedsComeFromTheName) {
  const TempFolder folder;
  const auto seed_of = [&](const std::string& name) {
    return load(folder,
                kCabinet + "plants: [{name: " + name +
                    ", crown: {at: [60, 35, 75], radii: [16, 14, 25], leaf_area: 0.35 m2}, leaf: {length: 6, "
                    "width: 3, material: broad-leaf}}]\n")
        .plants[0]
        .seed;
  };
  // FNV-1a 64-bit test vectors of its authors for "a" and "foobar" (from memory).
  EXPECT_EQ(seed_of("a"), 0xaf63dc4c8601ec8cU);
  EXPECT_EQ(seed_of("foobar"), 0x85944171f73967e8U);
}

TEST(LoadScene, ReadsBareLengthsInItsOwnUnit) {
  const TempFolder folder;
  const Scene scene =
      load(folder,
           "enclosure: [{box: a, size: [18, 2 ft, 1.5 m], faces: {floor: soil, top: open, front: open, "
           "back: open, left: open, right: open}}]\nlength_unit: in\nboughlight: 1\n");
  EXPECT_TRUE(scene.boxes[0].size.isApprox(Vec3(18 * 0.0254, 0.6096, 1.5)));
  EXPECT_EQ(scene.length_unit, "in");
}

TEST(LoadScene, ReadsLimitsInTheirUnits) {
  const TempFolder folder;
  const Scene scene =
      load(folder,
           kCabinet +
               "points: [{name: q, at: [5, 5, 5], wants: {uvb: {min: 50 uW/cm2}, ppfd: [20 umol/m2/s, 300], "
               "uvi: {min: 0, max: 3}}}]\n");
  const auto& wants = scene.points[0].wants;
  EXPECT_EQ(wants[0].limits.min, 0.5);
  EXPECT_FALSE(wants[0].limits.max);
  EXPECT_EQ(wants[1].limits.min, 20);
  EXPECT_EQ(wants[1].limits.max, 300);
  EXPECT_EQ(wants[2].limits.max, 3);
}

TEST(LoadScene, PutsATiltedLampsLowestPartAtTheGap) {
  const TempFolder folder;
  folder.write("tube.yaml", kTube);
  const Scene scene =
      load(folder, kCabinet +
                       "lamps: [{name: a, fixture: tube.yaml, over: {x: 45, y: 24, gap: 5}, along: [1, "
                       "0, 1], aim: [1, 0, -1]}]\n");
  const Lamp& lamp = scene.lamps[0];
  const double s = std::numbers::sqrt2 / 2;
  EXPECT_TRUE(lamp.aim.isApprox(Vec3(s, 0, -s)));
  EXPECT_TRUE(lamp.along.isApprox(Vec3(s, 0, s)));
  // A cylinder at 45 degrees reaches down by half its length and its radius, each times cos 45.
  EXPECT_NEAR(lamp.at.z(), 1.1 + 0.05 + s * (0.265 + 0.008), 1e-12);
}

TEST(LoadScene, AlongIsTurnedPerpendicularToASlantedAim) {
  const TempFolder folder;
  folder.write("flood.yaml", kFlood);
  const Scene scene =
      load(folder, kCabinet +
                       "lamps:\n  - {name: a, fixture: flood.yaml, at: [1, 2, 150], aim: [1, 0, -2]}\n"
                       "  - {name: b, fixture: flood.yaml, at: [1, 2, 150], aim: [1, 0, 0]}\n");
  for (const Lamp& lamp : scene.lamps) {
    EXPECT_NEAR(lamp.along.dot(lamp.aim), 0, 1e-12);
    EXPECT_NEAR(lamp.along.norm(), 1, 1e-12);
  }
  EXPECT_TRUE(scene.lamps[0].along.isApprox(Vec3(2, 0, 1).normalized()));
  EXPECT_TRUE(scene.lamps[1].along.isApprox(Vec3::UnitY()));
}

TEST(LoadScene, HangsALampOverTheHighestTopThere) {
  const TempFolder folder;
  folder.write("flood.yaml", kFlood);
  const std::string sides = "front: cork, back: cork, left: cork, right: cork";
  const auto height = [&](const std::string& x) {
    return load(folder, "boughlight: 1\nenclosure:\n  - {box: a, size: [90, 55, 110], faces: {" + sides +
                            ", floor: soil, top: cork}}\n  - {box: b, size: [60, 55, 50], faces: {" + sides +
                            ", top: mesh-fine}}\nlamps: [{name: a, fixture: flood.yaml, over: {x: " + x +
                            ", y: 24, gap: 6}}]\n")
        .lamps[0]
        .at.z();
  };
  EXPECT_NEAR(height("30"), 1.7, 1e-12);
  EXPECT_NEAR(height("75"), 1.2, 1e-12);
}

TEST(LoadScene, NotesWhatLooksLikeASlip) {
  const TempFolder folder;
  const auto notes = [&](const std::string& more) { return load(folder, kCabinet + more).notes; };
  const std::string branch =
      "branches: [{name: b, path: [[20, 20, 50], [60, 20, 50]], diameter: 4, material: bark}]\n";
  using Notes = std::vector<std::string>;
  const std::string no_lamps = "the scene has no lamps";
  EXPECT_EQ(notes(""), Notes{no_lamps});
  EXPECT_EQ(
      notes("animal: {back: 4}\n"),
      (Notes{"animal.reach is not given, so places right up to the mesh and the lamps count as reachable",
             no_lamps}));
  EXPECT_EQ(notes("perches: [{name: p, at: [30, 20, 50]}]\n"),
            (Notes{"perch 'p' is on nothing: there is no branch or board", no_lamps}));
  EXPECT_EQ(notes(branch + "perches: [{name: p, at: [30, 20, 50]}]\n"),
            (Notes{"perch 'p', where the back is, is inside branch 'b': it reads nothing", no_lamps}));
  EXPECT_EQ(notes(branch + "animal: {back: 4, reach: 2}\nperches: [{name: p, at: [30, 20, 50]}]\n"),
            Notes{no_lamps});
  EXPECT_EQ(notes(branch + "perches: [{name: p, at: [30, 20, 52.9]}]\n"), Notes{no_lamps});
  EXPECT_EQ(notes(branch + "perches: [{name: p, at: [30, 20, 56.2]}]\n"),
            (Notes{"perch 'p' is 4.2 cm from the nearest branch or board", no_lamps}));
  EXPECT_EQ(notes(branch +
                  "boards: [{name: l, corner: [0, 0, 108], edges: [[9, 0, 0], [0, 9, 0]], material: cork}]\n"
                  "animal: {back: 4, reach: 2}\nperches: [{name: p, at: [5, 5, 108]}]\n"),
            (Notes{"on perch 'p' the animal's back, 4 cm above it, is outside the enclosure", no_lamps}));
}

TEST(LoadScene, NotesBranchesThatLeaveTheEnclosure) {
  const TempFolder folder;
  const auto notes = [&](const std::string& path) {
    auto all =
        load(folder, kCabinet + "branches: [{name: b, path: " + path + ", diameter: 4, material: bark}]\n")
            .notes;
    all.pop_back();  // the scene has no lamps
    return all;
  };
  using Notes = std::vector<std::string>;
  EXPECT_EQ(notes("[[20, 20, 50], [-2, 20, 50]]"), Notes()) << "let into the wall";
  EXPECT_EQ(notes("[[20, 20, 50], [20, 20, 300], [20, 20, 310]]"),
            Notes{"branch 'b' leaves the enclosure: [20, 20, 300] cm lies outside"});
  EXPECT_EQ(notes("[[20, 20, 500], [60, 20, 500]]"), Notes{"branch 'b' is outside the enclosure"});
}

TEST(LoadScene, NotesALampThatRadiatesMoreThanItTakes) {
  const TempFolder folder;
  const auto notes = [&](const std::string& power) {
    folder.write("bulb.yaml",
                 "fixture: 1\nemitter: {shape: point}\ndistribution: lambert\nemission: [{part: light, "
                 "spectrum: {blackbody: 2900 K}, output: {radiant_flux: 60 W}}]\n" +
                     power);
    return load(folder, kCabinet + "lamps: [{name: bulb, fixture: bulb.yaml, at: [45, 24, 130]}]\n").notes;
  };
  using Notes = std::vector<std::string>;
  EXPECT_EQ(notes(""), Notes()) << "not said";
  EXPECT_EQ(notes("power: 60 W\n"), Notes());
  EXPECT_EQ(notes("power: 50 W\n"), Notes{"lamp 'bulb' radiates 60 W, more than the 50 W that it takes: its "
                                          "'output' or its 'power' is wrong"});
}

TEST(LoadScene, ReadsMaterialsFromCsvFiles) {
  const TempFolder folder;
  folder.write("ply.csv", "# wavelength in nm, reflectance\n300, 0.1\n700, 0.5\n");
  const Scene scene = load(
      folder, kCabinet +
                  "materials:\n  ply: {surface: matte, reflectance: {file: ply.csv}}\n"
                  "  net: {surface: mesh, transmittance: 70 %, layers: 2, soiling: 0.9}\n"
                  "boards:\n  - {name: a, corner: [0, 0, 9], edges: [[9, 0, 0], [0, 9, 0]], material: ply}\n"
                  "  - {name: b, corner: [0, 0, 19], edges: [[9, 0, 0], [0, 9, 0]], material: net}\n");
  const auto of_board = [&](std::size_t i) {
    return scene.materials[static_cast<std::size_t>(scene.boards[i].material)];
  };
  EXPECT_EQ(of_board(0).reflectance[0], 0.1);
  // The mean over 400 to 425 nm of a straight line is its value in the middle: 0.1 + 0.4 x 112.5 / 400.
  EXPECT_NEAR(of_board(0).reflectance[bin_of(410)], 0.2125, 1e-12);
  EXPECT_EQ(of_board(0).reflectance[kBins - 1], 0.5);
  EXPECT_EQ(of_board(1).flat, 0.7);
  EXPECT_EQ(of_board(1).layers, 2);
  EXPECT_EQ(of_board(1).soiling, 0.9);
}

}  // namespace
}  // namespace boughlight
