// Layers of mesh that lie on each other: as meshes a little apart, but with no room for a lamp or a sensor
// between them.
#include <gtest/gtest.h>

#include <numbers>

#include "transport/measure.h"
#include "transport/walk.h"

namespace boughlight {
namespace {

using std::numbers::pi;

Material layered(Material mesh, int layers) {
  mesh.layers = layers;
  return mesh;
}
Material half_through() {
  Material mesh = kit::mesh(0.1e-3, 1e-3, 1e-3, 0);
  mesh.flat = 0.5;
  return mesh;
}

TEST(MeshLayers, ALampOnTheFaceIsBehindThemAll) {
  for (const Side side : kSides) {
    const int axis = side == Side::left || side == Side::right   ? 0
                     : side == Side::front || side == Side::back ? 1
                                                                 : 2;
    const bool far = side == Side::right || side == Side::back || side == Side::top;
    Vec3 lamp(0.5, 0.5, 0.5), sensor = lamp, outward = Vec3::Zero();
    lamp[axis] = far ? 1 : 0, sensor[axis] = far ? 0.7 : 0.3, outward[axis] = far ? 1 : -1;
    for (const int layers : {1, 2, 3}) {
      Scene scene = kit::open_air();
      kit::set_face(scene.boxes[0], side, kit::add_material(scene, layered(half_through(), layers)));
      kit::add_lamp(scene, make_point_emitter(make_isotropic()), lamp);
      const LightField field(scene, kit::flat_importance());
      const double expected = std::pow(0.5, layers) / (4 * pi * 0.3 * 0.3);
      EXPECT_NEAR(kit::irradiance(field, sensor, outward, {64, 16}).value, expected, 1e-5 * expected)
          << side_name(side) << ", " << layers;
    }
  }
}

TEST(MeshLayers, ASensorOnTheFaceThatLooksOutIsInFrontOfThemAll) {
  for (const int layers : {1, 3}) {
    Scene scene = kit::open_air();
    kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, layered(half_through(), layers)));
    kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 1.3});
    const LightField field(scene, kit::flat_importance());
    const Vec3 hair(0, 0, 2.0 * field.world().offset()), on_top(0.5, 0.5, 1);
    const double free = 1 / (4 * pi * 0.3 * 0.3);
    EXPECT_NEAR(kit::irradiance(field, on_top + hair, Vec3::UnitZ(), {64, 16}).value, free, 1e-3 * free);
    EXPECT_NEAR(kit::irradiance(field, on_top - hair, Vec3::UnitZ(), {64, 16}).value,
                std::pow(0.5, layers) * free, 1e-3 * free);
  }
}

// Three layers on a board with a lamp above, or three boards with a layer each a tenth of a millimetre apart.
Scene three(bool apart) {
  Scene scene = kit::open_air();
  Material wires = kit::mesh(0.5e-3, 1.4e-3, 1.8e-3, 0.8);
  wires.soiling = apart ? 1 : 0.8;
  const int material = kit::add_material(scene, layered(wires, apart ? 1 : 3));
  Material dirty = wires;
  dirty.soiling = 0.8;
  const int lowest = kit::add_material(scene, dirty);
  for (int i = 0; i < (apart ? 3 : 1); ++i)
    scene.boards.push_back(
        {"board", {-2, -2, 0.6 + 1e-4 * i}, {5, 0, 0}, {0, 5, 0}, i == 0 && apart ? lowest : material});
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9});
  return scene;
}

TEST(MeshLayers, ScatterAsThoseThatLieApart) {
  const LightField stack(three(false), kit::flat_importance()), boards(three(true), kit::flat_importance());
  for (const Vec3& place : {Vec3(0.6, 0.4, 0.4), Vec3(0.6, 0.4, 0.8)})
    for (const Vec3& facing : {Vec3(0, 0, 1), Vec3(0, 0, -1)}) {
      const auto a = kit::irradiance(stack, place, facing, {256, 8192});
      const auto b = kit::irradiance(boards, place, facing, {256, 8192});
      EXPECT_NEAR(a.value, b.value, 4 * std::hypot(a.error, b.error) + 1e-3 * b.value)
          << place.z() << ", facing " << facing.z();
    }
}

// What leaves upwards and downwards of paths that come from above, as means with their errors.
struct Leaving {
  std::array<double, 2> sum{}, squares{};
  double paths = 0;

  double mean(std::size_t way) const { return sum[way] / paths; }
  double error(std::size_t way) const {
    return std::sqrt((squares[way] / paths - mean(way) * mean(way)) / paths);
  }
};
struct SideLeaver {
  double up = 0, down = 0;
  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, Met) {}
  void vertex(const ScatterSite&, const Spectral&) {}
  void escape(const Vec3f& direction, const Spectral& throughput) {
    (direction.z() > 0 ? up : down) = static_cast<double>(throughput[36]);
  }
};
template <Travel kTravel>
Leaving followed(const LightField& field) {
  Leaving leaving;
  for (std::uint64_t i = 0; i < 40000; ++i, ++leaving.paths) {
    PairSampler sampler(mix64(7, i), 0);
    RayCount rays;
    SideLeaver leaver;
    walk<kTravel>(field, {0.5f, 0.5f, 0.8f}, Vec3f(0.3f, 0.2f, -1).normalized(), Spectral::Ones(), sampler,
                  rays, leaver);
    for (const auto& [way, value] : {std::pair(0U, leaver.up), std::pair(1U, leaver.down)})
      leaving.sum[way] += value, leaving.squares[way] += value * value;
  }
  return leaving;
}
template <Travel kTravel>
void expect_paths_alike(const LightField& stack, const LightField& boards) {
  const Leaving a = followed<kTravel>(stack), b = followed<kTravel>(boards);
  for (const std::size_t way : {0U, 1U})
    EXPECT_NEAR(a.mean(way), b.mean(way), 4 * std::hypot(a.error(way), b.error(way))) << way;
  EXPECT_LT(a.error(0) + a.error(1), 0.01);
}

TEST(MeshLayers, SendPathsOnAsThoseThatLieApart) {
  const LightField stack(three(false), kit::flat_importance()), boards(three(true), kit::flat_importance());
  expect_paths_alike<Travel::with_light>(stack, boards);
  expect_paths_alike<Travel::against_light>(stack, boards);
}

TEST(MeshLayers, ADirtyWallOnTheLeftDoesWhatItsMirrorImageDoes) {
  const auto lit = [](Side side) {
    Scene scene = kit::open_air();
    Material wires = layered(kit::mesh(0.5e-3, 1.4e-3, 1.8e-3, 0.8), 2);
    wires.soiling = 0.3;
    kit::set_face(scene.boxes[0], side, kit::add_material(scene, wires));
    const double lamp = side == Side::left ? -0.2 : 1.2, sensor = side == Side::left ? 0.2 : 0.8;
    kit::add_lamp(scene, make_point_emitter(make_isotropic()), {lamp, 0.5, 0.5});
    const LightField field(scene, kit::flat_importance());
    // Turned away from the lamp's line, so that scattered light counts.
    return kit::irradiance(field, {sensor, 0.5, 0.2}, {side == Side::left ? -1 : 1.0, 0, 0}, {256, 16384});
  };
  const auto left = lit(Side::left), right = lit(Side::right);
  EXPECT_NEAR(left.value, right.value, 4 * std::hypot(left.error, right.error));
  EXPECT_LT(left.error, 0.004 * left.value);
}

}  // namespace
}  // namespace boughlight
