// How far what is declared may be off: the section `doubt` and the `spread` of lamps, fixtures and meshes.
#include "stand_ins.h"

namespace boughlight {
namespace {

TEST(Doubt, HasItsDefaults) {
  const Doubts doubts = load(TempFolder(), kCabinet).doubts;
  EXPECT_EQ(doubts.lamp, 0.15);
  EXPECT_EQ(doubts.ageing, 0.08);
  EXPECT_EQ(doubts.mesh, 0.10);
  EXPECT_EQ(doubts.surfaces, 0.15);
  EXPECT_EQ(doubts.position, 0.01);
}

TEST(Doubt, IsReadInSiUnitsAndWhatIsLeftOutStays) {
  const Doubts doubts =
      load(TempFolder(), kCabinet + "doubt: {lamp: 20 %, mesh: 0.05, surfaces: 0, position: 2}\n").doubts;
  EXPECT_EQ(doubts.lamp, 0.20);
  EXPECT_EQ(doubts.ageing, 0.08);
  EXPECT_EQ(doubts.mesh, 0.05);
  EXPECT_EQ(doubts.surfaces, 0);
  EXPECT_EQ(doubts.position, 0.02) << "the scene's unit is the centimetre";
  EXPECT_EQ(load(TempFolder(), kCabinet + "doubt: {position: 5 mm}\n").doubts.position, 0.005);
}

TEST(Doubt, SpreadBelongsToLampsFixturesAndMeshes) {
  const TempFolder folder;
  folder.write("tube.yaml", kTube + "spread: 12 %\n");
  folder.write("flood.yaml", kFlood);
  const Scene scene = load(
      folder, kCabinet +
                  "materials: {net: {surface: mesh, transmittance: 70 %, spread: 5 %}}\n"
                  "boards: [{name: b, corner: [0, 0, 19], edges: [[9, 0, 0], [0, 9, 0]], material: net}]\n"
                  "lamps:\n  - {name: a, fixture: tube.yaml, at: [45, 24, 120]}\n"
                  "  - {name: b, fixture: flood.yaml, at: [45, 24, 130], spread: 25 %}\n");
  EXPECT_EQ(scene.lamps[0].fixture->spread, 0.12);
  EXPECT_FALSE(scene.lamps[0].spread);
  EXPECT_FALSE(scene.lamps[1].fixture->spread);
  EXPECT_EQ(scene.lamps[1].spread, 0.25);
  EXPECT_EQ(scene.materials[static_cast<std::size_t>(scene.boards[0].material)].spread, 0.05);
  EXPECT_FALSE(scene.materials[static_cast<std::size_t>(scene.boxes[0].face[1])].spread) << "the library's";
}

TEST(Doubt, AnchorsKeepTheirDistance) {
  const TempFolder folder;
  folder.write("tube.yaml", kTube);
  folder.write("flood.yaml", kFlood);
  const Scene scene = load(folder, kCabinet +
                                       "lamps:\n  - {name: a, fixture: tube.yaml, at: [45, 24, 120]}\n"
                                       "  - {name: b, fixture: flood.yaml, at: [45, 24, 130]}\n");
  EXPECT_EQ(scene.lamps[0].fixture->parts[0].anchor_m, 0.3);
  EXPECT_FALSE(scene.lamps[1].fixture->parts[0].anchor_m) << "declared as a flux";
}

TEST(WrongDoubt, IsTold) {
  TempFolder folder;
  folder.write("tube.yaml", kTube);
  folder.write("wide.yaml", kTube + "spread: -5 %\n");
  expect_mistakes(
      folder,
      {{"doubt: 15 %\n",
        {"scene.yaml:3:8: doubt: is '15 %'; a mapping with lamp, ageing, mesh, surfaces or position "
         "is "
         "needed here"}},
       {"doubt: {lamps: 15 %}\n",
        {"scene.yaml:3:9: doubt.lamps: is an unknown key (did you mean 'lamp'?); allowed: lamp, ageing, "
         "mesh, "
         "surfaces or position"}},
       {"doubt: {lamp: 15, mesh: -0.1, surfaces: wide}\n",
        {"scene.yaml:3:15: doubt.lamp: '15' is not allowed: it must be from 0 to 1 (1 is 100 %)",
         "scene.yaml:3:25: doubt.mesh: '-0.1' is not allowed: it must be from 0 to 1 (1 is 100 %)",
         "scene.yaml:3:41: doubt.surfaces: 'wide' is not a number"}},
       {"doubt: {position: 60}\n",
        {"scene.yaml:3:19: doubt.position: '60' is not allowed: it must be from 0 to 50 cm"}},
       {"doubt: {position: 10 %}\n",
        {"scene.yaml:3:19: doubt.position: '10 %' has an unknown unit; lengths take m, cm, mm, um, in, inch "
         "or "
         "ft"}},
       {"lamps: [{name: a, fixture: tube.yaml, at: [45, 24, 120], spread: 2}]\n",
        {"scene.yaml:3:66: lamps[0].spread: '2' is not allowed: it must be from 0 to 1 (1 is 100 %)"}},
       {"lamps: [{name: a, fixture: wide.yaml, at: [45, 24, 120]}]\n",
        {"wide.yaml:10:9: spread: '-5 %' is not allowed: it must be from 0 to 1 (1 is 100 %)"}},
       {"materials: {net: {surface: mesh, transmittance: 0.7, spread: 150 %}}\n",
        {"scene.yaml:3:62: materials.net.spread: '150 %' is not allowed: it must be from 0 to 1 (1 is 100 "
         "%)"}},
       {"materials: {net: {surface: matte, reflectance: 0.7, spread: 10 %}}\n",
        {"scene.yaml:3:53: materials.net.spread: is an unknown key; allowed: surface, title, source or "
         "reflectance"}}});
}

}  // namespace
}  // namespace boughlight
