// What a meter found of lamps and meshes (`measured`), and what else may hang (`choose`).
#include "scene/measured.h"

#include "scene/extras.h"

#include "stand_ins.h"

namespace boughlight {
namespace {

const std::string kLamps =
    "materials: {net: {surface: mesh, transmittance: 50 %, layers: 2}}\n"
    "boards: [{name: b, corner: [0, 0, 19], edges: [[9, 0, 0], [0, 9, 0]], material: net}]\n"
    "lamps:\n  - {name: a, fixture: tube.yaml, at: [45, 24, 120], burned: 100 h}\n"
    "  - {name: b, fixture: tube.yaml, at: [45, 24, 130]}\n";

TempFolder& with_lamps(TempFolder& folder) {
  folder.write("tube.yaml", kTube);
  folder.write("flood.yaml", kFlood);
  return folder;
}

TEST(Measured, ScalesOneLampAndLeavesOthersOfItsKind) {
  TempFolder folder;
  const Scene plain = load(with_lamps(folder), kCabinet + kLamps);
  const Scene scene =
      load(folder, kCabinet + kLamps + "measured: {lamps: {a: {factor: 0.8, spread: 10 %}}}\n");
  ASSERT_EQ(scene.lamps[0].fixture->parts.size(), plain.lamps[0].fixture->parts.size());
  for (std::size_t i = 0; i < plain.lamps[0].fixture->parts.size(); ++i) {
    const double before = plain.lamps[0].fixture->parts[i].radiant_flux_w;
    EXPECT_DOUBLE_EQ(scene.lamps[0].fixture->parts[i].radiant_flux_w, 0.8 * before);
    EXPECT_DOUBLE_EQ(scene.lamps[1].fixture->parts[i].radiant_flux_w, before);
  }
  // Of the 10 % the survey's own doubt of ageing makes 8 %: 0.06^2 + 0.08^2 = 0.1^2.
  EXPECT_NEAR(scene.lamps[0].spread.value_or(0), 0.06, 1e-12);
  EXPECT_FALSE(scene.lamps[1].spread);
}

TEST(Measured, TakesAFactorForEachPart) {
  TempFolder folder;
  const Scene plain = load(with_lamps(folder), kCabinet + kLamps);
  const std::string part = plain.lamps[0].fixture->parts[0].name;
  const Scene scene =
      load(folder, kCabinet + kLamps + "measured: {lamps: {b: {factor: {" + part + ": 120 %}}}}\n");
  EXPECT_DOUBLE_EQ(scene.lamps[1].fixture->parts[0].radiant_flux_w,
                   1.2 * plain.lamps[1].fixture->parts[0].radiant_flux_w);
  EXPECT_FALSE(scene.lamps[1].spread) << "without a spread the declared one stands";
}

TEST(Measured, ScalesEachLayerOfAMesh) {
  TempFolder folder;
  const Scene scene =
      load(with_lamps(folder), kCabinet + kLamps + "measured: {meshes: {net: {factor: 0.9, spread: 3 %}}}\n");
  const Material& net = scene.materials[static_cast<std::size_t>(scene.boards[0].material)];
  EXPECT_DOUBLE_EQ(net.soiling, 0.81) << "two layers, and dirt counts once";
  EXPECT_EQ(net.spread, 0.03);
}

TEST(Measured, AMeshGivesNoMoreThanItGets) {
  Material open;
  open.kind = SurfaceKind::mesh;
  open.flat = 0.5;
  EXPECT_DOUBLE_EQ(most_measured_factor(open), 2);
  Material wire;
  wire.kind = SurfaceKind::mesh;
  wire.wire = 0.001, wire.pitch = {0.01, 0.01};
  wire.reflectance.setConstant(0.5);
  // 0.81 goes straight through, half of the other 0.19 is scattered.
  EXPECT_NEAR(most_measured_factor(wire), (1 - 0.19 * 0.5) / 0.81, 1e-12);
}

TEST(Measured, MistakesAreTold) {
  TempFolder folder;
  with_lamps(folder);
  const auto mistakes = [&](const std::string& text) { return folder.mistakes(kCabinet + kLamps + text); };
  EXPECT_EQ(mistakes("measured: {lamps: {aa: {factor: 1}}}\n"),
            std::vector<std::string>{
                "scene.yaml:8:20: measured.lamps.aa: there is no lamp of this name (did you mean 'a'?)"});
  EXPECT_EQ(mistakes("measured: {meshes: {soil: {factor: 1}}}\n"),
            std::vector<std::string>{
                "scene.yaml:8:21: measured.meshes.soil: no mesh of this name is in the scene"});
  EXPECT_EQ(
      mistakes("measured: {lamps: {a: {spread: 4 %}}}\n"),
      std::vector<std::string>{
          "scene.yaml:8:23: measured.lamps.a: 'factor' is missing: times what its fixture gives, or one for "
          "each of its parts"});
  EXPECT_EQ(mistakes("measured: {meshes: {net: {factor: 2.1}}}\n"),
            std::vector<std::string>{
                "scene.yaml:8:35: measured.meshes.net.factor: is '2.1'; with more than 1.414 more "
                "light would leave the mesh than meets it"});
  EXPECT_EQ(mistakes("measured: {lamps: {a: {factor: {heart: 1}}}}\n").size(), 1U);
  EXPECT_EQ(mistakes("measured: {lamps: {a: {factor: 0}}}\n").size(), 1U);
}

TEST(Choose, NamesOtherFixtures) {
  TempFolder folder;
  with_lamps(folder);
  const PlannedScene planned = load_planned_scene(folder.write(
      "scene.yaml", kCabinet + "lamps: [{name: a, fixture: tube.yaml, choose: [flood.yaml, tube-uv-55], "
                               "at: [45, 24, 120], dim: 100 %}]\n"));
  const LampExtras& lamp = planned.extras.lamps[0];
  ASSERT_EQ(lamp.choices.size(), 2U);
  EXPECT_EQ(lamp.choices[0]->name, "flood.yaml");
  EXPECT_EQ(lamp.choices[1]->name, "tube-uv-55");
  EXPECT_TRUE(lamp.has_dimmer);
}

TEST(Choose, MistakesAreTold) {
  TempFolder folder;
  with_lamps(folder);
  const auto mistakes = [&](const std::string& choose) {
    return folder.mistakes(
        kCabinet + "lamps: [{name: a, fixture: tube.yaml, at: [45, 24, 120], choose: " + choose + "}]\n");
  };
  EXPECT_EQ(mistakes("[flood.yaml, tube.yaml]"),
            std::vector<std::string>{
                "scene.yaml:3:79: lamps[0].choose[1]: 'tube.yaml' is its fixture already: name others"});
  EXPECT_EQ(mistakes("[flood.yaml, flood.yaml]"),
            std::vector<std::string>{"scene.yaml:3:79: lamps[0].choose[1]: 'flood.yaml' stands here twice"});
  EXPECT_EQ(mistakes("flood.yaml").size(), 1U);
  EXPECT_EQ(mistakes("[no-such-lamp]").size(), 1U);
}

}  // namespace
}  // namespace boughlight
