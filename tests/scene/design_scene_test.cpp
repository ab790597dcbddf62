// The example of the design, field by field.
#include <algorithm>

#include "stand_ins.h"

namespace boughlight {
namespace {

// The scene of the design, without its OBJ model; the two fixtures stand in for the library's.
const std::string kReadingRoom = R"(boughlight: 1
title: Reading-room cabinet
length_unit: cm
enclosure:
  - box: cabinet
    size: [90, 55, 110]
    faces: {floor: soil, back: cork, left: birch-ply, right: birch-ply, front: glass-4mm, top: birch-ply}
  - box: cage
    size: [60, 55, 50]
    offset: [15, 0]
    faces: {back: mesh-fine, left: mesh-fine, right: mesh-fine, front: mesh-fine, top: coarse}
materials:
  flat-black: {surface: matte, reflectance: 0}
  coarse:     {surface: mesh, wire: 0.6 mm, pitch: 6 mm, reflectance: 0.4}
  clear:      {surface: pane, transmittance: [[300 nm, 0], [340 nm, 0.8], [400 nm, 0.9]], index: 1.49}
  dark-leaf:  {surface: leaf, reflectance: 0.05, transmittance: 0.02}
branches: [{name: high bough, path: [[22, 30, 136], [68, 34, 140]], diameter: 2.5, material: bark}]
boards:   [{name: ledge, corner: [0, 35, 60], edges: [[30, 0, 0], [0, 20, 0]], material: cork}]
models:   []
plants:
  - name: fig
    crown: {at: [60, 35, 75], radii: [16, 14, 25], leaf_area: 0.35 m2, growth: 1, seed: 4}
    leaf: {length: 6, width: 3, material: broad-leaf}
    needs: {dli: [2, 8]}
perches:
  - {name: sun perch, at: [45, 32, 138], along: [1, 0, 0], facing: brightest, wants: {uvi: [2.5, 4.5], irradiance: [150, 500]}}
points:
  - {name: door sill, at: [45, 0, 40], facing: [0, -1, 0], wants: {lux: {max: 2000}}}
animal:
  back: 5
  body: {length: 22, height: 7}
  basking: {uvi: [2.5, 4.5]}
  refuge: {uvi: {max: 0.5}}
  never: {uvi: 7}
  reach: 3
zones:
  refuge: {volume: {min: 30 %}, each_level: {min: 10 %}}
  basking: {perch: {min: 10 %}}
lamps:
  - {name: uv tube, fixture: tube.yaml, at: [45, 24, 176], along: x, aim: [0, 0, -1], dim: 100 %, lit: "08:00-18:00", burned: 500 h}
  - {name: basking flood, fixture: flood.yaml, over: {x: 47, y: 32, gap: 6}, lit: "08:00-12:00, 14:00-17:00"}
room: {lux: 150, spectrum: D65, lit: "07:00-19:00"}
survey: {spacing: 5, tolerance: 2 %, seed: 1}
)";
class ReadingRoom : public ::testing::Test {
 protected:
  ReadingRoom() {
    folder_.write("tube.yaml", kTube);
    folder_.write("flood.yaml", kFlood);
    scene_ = load(folder_, kReadingRoom);
  }
  const Material& material(int index) const { return scene_.materials.at(static_cast<std::size_t>(index)); }

  TempFolder folder_;
  Scene scene_;
};

TEST_F(ReadingRoom, BoxesStackFromTheFloorUp) {
  ASSERT_EQ(scene_.boxes.size(), 2u);
  const Box& cabinet = scene_.boxes[0];
  const Box& cage = scene_.boxes[1];
  EXPECT_EQ(cabinet.name, "cabinet");
  EXPECT_TRUE(cabinet.corner.isZero());
  EXPECT_TRUE(cabinet.size.isApprox(Vec3(0.9, 0.55, 1.1)));
  EXPECT_TRUE(cage.corner.isApprox(Vec3(0.15, 0, 1.1)));
  EXPECT_EQ(material(cabinet.face[static_cast<std::size_t>(Side::front)]).name, "glass-4mm");
  EXPECT_EQ(material(cage.face[static_cast<std::size_t>(Side::top)]).name, "coarse");
  EXPECT_EQ(cage.face[static_cast<std::size_t>(Side::floor)], -1);
}

TEST_F(ReadingRoom, HoldsOnlyTheMaterialsInUse) {
  std::vector<std::string> names;
  for (const Material& m : scene_.materials) names.push_back(m.name);
  std::sort(names.begin(), names.end());
  EXPECT_EQ(names, (std::vector<std::string>{"bark", "birch-ply", "broad-leaf", "coarse", "cork", "glass-4mm",
                                             "mesh-fine", "soil"}));
  const Material& coarse = material(scene_.boxes[1].face[static_cast<std::size_t>(Side::top)]);
  EXPECT_EQ(coarse.kind, SurfaceKind::mesh);
  EXPECT_EQ(coarse.wire, 0.0006);
  EXPECT_EQ(coarse.pitch, (std::array<double, 2>{0.006, 0.006}));
  EXPECT_TRUE(coarse.reflectance.isApproxToConstant(0.4));
  EXPECT_FALSE(coarse.flat);
  EXPECT_EQ(coarse.layers, 1);
  EXPECT_EQ(coarse.soiling, 1);
}

TEST_F(ReadingRoom, SolidsAndPlantsAreInMetres) {
  EXPECT_TRUE(scene_.branches.at(0).path.at(1).isApprox(Vec3(0.68, 0.34, 1.4)));
  EXPECT_EQ(scene_.branches[0].diameter, 0.025);
  EXPECT_EQ(material(scene_.branches[0].material).name, "bark");
  EXPECT_TRUE(scene_.boards.at(0).edge_v.isApprox(Vec3(0, 0.2, 0)));
  const Plant& fig = scene_.plants.at(0);
  EXPECT_TRUE(fig.radii.isApprox(Vec3(0.16, 0.14, 0.25)));
  EXPECT_EQ(fig.leaf_area, 0.35);
  EXPECT_EQ(fig.seed, 4u);
  EXPECT_EQ(fig.leaf_length, 0.06);
  EXPECT_EQ(fig.needs.at(0).quantity, Quantity::dli);
  EXPECT_EQ(fig.needs[0].limits.max, 8);
  EXPECT_EQ(fig.mark.line, 21);
}

TEST_F(ReadingRoom, ReceiversAnimalAndZonesAreRead) {
  const Perch& perch = scene_.perches.at(0);
  EXPECT_TRUE(perch.facing.brightest);
  EXPECT_TRUE(perch.along->isApprox(Vec3::UnitX()));
  ASSERT_EQ(perch.wants.size(), 2u);
  EXPECT_EQ(perch.wants[0].limits.min, 2.5);
  EXPECT_EQ(perch.wants[1].quantity, Quantity::irradiance);
  EXPECT_EQ(perch.wants[1].mark.line, 26);
  EXPECT_TRUE(scene_.points.at(0).facing.direction.isApprox(-Vec3::UnitY()));
  ASSERT_TRUE(scene_.animal);
  EXPECT_EQ(scene_.animal->back, 0.05);
  EXPECT_EQ(scene_.animal->body->first, 0.22);
  EXPECT_EQ(scene_.animal->never.at(0).limits.max, 7);
  EXPECT_FALSE(scene_.animal->never[0].limits.min);
  EXPECT_EQ(scene_.animal->reach, 0.03);
  ASSERT_EQ(scene_.zone_wants.size(), 3u);
  EXPECT_EQ(scene_.zone_wants[0].zone, "basking");
  EXPECT_EQ(scene_.zone_wants[0].share, ZoneShare::perch);
  EXPECT_EQ(scene_.zone_wants[1].limits.min, 0.3);
  EXPECT_EQ(scene_.zone_wants[2].share, ZoneShare::each_level);
}

TEST_F(ReadingRoom, LampsHangWhereDeclared) {
  const Lamp& tube = scene_.lamps.at(0);
  EXPECT_TRUE(tube.at.isApprox(Vec3(0.45, 0.24, 1.76)));
  EXPECT_TRUE(tube.along.isApprox(Vec3::UnitX()));
  EXPECT_EQ(tube.dim, 1);
  EXPECT_EQ(tube.burned_h, 500);
  EXPECT_EQ(total_hours(*tube.lit), 10);
  EXPECT_EQ(tube.fixture->power_w, 24);
  EXPECT_EQ(tube.fixture->distribution, "trough, cut off at 70 deg");
  // The top is 160 cm up, the gap 6 cm, and the sphere reaches 4 cm below its centre.
  EXPECT_TRUE(scene_.lamps.at(1).at.isApprox(Vec3(0.47, 0.32, 1.7)));
  EXPECT_EQ(total_hours(*scene_.lamps[1].lit), 7);
}

TEST_F(ReadingRoom, RoomLightIsScaledToItsLux) {
  ASSERT_TRUE(scene_.room);
  EXPECT_EQ(scene_.room->lux, 150);
  // Rounding of one multiplication and one division.
  EXPECT_NEAR(scene_.room->irradiance_w_m2 * scene_.room->per_watt.total(Quantity::lux), 150, 1e-9);
  EXPECT_EQ(scene_.survey.spacing, 0.05);
  EXPECT_EQ(scene_.survey.tolerance, 0.02);
}

TEST_F(ReadingRoom, RaisesNoCaution) {
  EXPECT_EQ(scene_.notes, std::vector<std::string>());
}

}  // namespace
}  // namespace boughlight
