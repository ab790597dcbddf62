// Straight light taken apart, against the closed forms of each thing in its way.
#include "transport/straight_light.h"

#include <numbers>

#include "transport/measure.h"

namespace boughlight {
namespace {

using std::numbers::pi;

constexpr std::uint32_t kSamples = 4096;
// Rays and weights are single precision.
constexpr double kSingle = 3e-6;

struct Traced {
  std::vector<StraightLight> lights;
  std::vector<StraightSum> open, mirrored;
};

Traced trace(const Scene& scene, const Vec3& place, const Vec3& normal, std::uint32_t samples = kSamples) {
  const LightField field(scene, kit::flat_importance());
  const Receiver receiver = fixed_receiver(place.cast<float>(), normal.normalized().cast<float>(), 7);
  RayCount rays;
  return {straight_light(field, field.world(), receiver, samples, rays),
          straight_open(field, field.world(), receiver, samples, rays),
          mirrored_light(field, receiver, samples, rays)};
}

std::vector<HeightSlope> slopes_of(const Scene& scene, const Vec3& place, const Vec3& normal, float step,
                                   Shadows shadows = Shadows::stay_put) {
  const LightField field(scene, kit::flat_importance());
  RayCount rays;
  return height_slopes(scene, field, fixed_receiver(place.cast<float>(), normal.cast<float>(), 7), shadows,
                       step, kSamples, rays);
}

Scene point_over_open_box() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 1.2});
  return scene;
}

// Transmittance of a mesh of wire d and pitches along x and y on a level face, from the design's formula.
double mesh_transmittance(double wire, double pitch_x, double pitch_y, const Vec3& way) {
  const double tan_x = way.x() / way.z(), tan_y = way.y() / way.z();
  return (1 - wire / pitch_x * std::sqrt(1 + tan_x * tan_x)) *
         (1 - wire / pitch_y * std::sqrt(1 + tan_y * tan_y));
}

TEST(StraightLight, InFreeAirIsInverseSquareAndCosine) {
  const Vec3 place(0.8, 0.5, 0.8), way = Vec3(0.5, 0.5, 1.2) - place;
  const StraightLight light = trace(point_over_open_box(), place, Vec3::UnitZ(), 64).lights.front();
  const double faced = 1 / (4 * pi * way.squaredNorm()), tilted = faced * way.normalized().z();
  EXPECT_NEAR(light.faced, faced, kSingle * faced);
  EXPECT_NEAR(light.free, tilted, kSingle * tilted);
  EXPECT_EQ(light.meshed, light.free);
  EXPECT_DOUBLE_EQ(light.clear.grey, light.free);
  EXPECT_DOUBLE_EQ(light.open.grey, light.free);
  EXPECT_TRUE(light.meshes.empty());
}

TEST(StraightLight, BehindMeshIsTheClosedFormPerLayer) {
  for (const int layers : {1, 2, 3}) {
    Scene scene = point_over_open_box();
    Material mesh = kit::mesh(0.3e-3, 1.4e-3, 1.6e-3, 0.5);
    mesh.layers = layers;
    kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, mesh));
    const Vec3 place(0.8, 0.6, 0.8), way = Vec3(0.5, 0.5, 1.2) - place;
    const StraightLight light = trace(scene, place, Vec3::UnitZ(), 64).lights.front();
    const double one = mesh_transmittance(0.3e-3, 1.4e-3, 1.6e-3, way);
    EXPECT_NEAR(light.meshed / light.free, std::pow(one, layers), 1e-5);
    ASSERT_EQ(light.meshes.size(), 1u);
    EXPECT_NEAR(light.meshes[0].crossings, layers, kSingle);
    EXPECT_NEAR(light.meshes[0].gain_without_one, 1 / one, 1e-5);
    EXPECT_NEAR(light.meshes[0].open_without_one.grey / light.open.grey, 1 / one, 1e-5);
    EXPECT_NEAR(light.meshes[0].open_crossings.grey, layers * light.open.grey, kSingle * light.free);
  }
}

TEST(StraightLight, TakesAwayTheLayerNearestToTheLamp) {
  // Out through the side of a box that is all one mesh, dirty on top: two layers of the same material.
  Scene scene = point_over_open_box();
  Material clean = kit::mesh(0.3e-3, 1.5e-3, 1.5e-3, 0.5), other = clean;
  other.name = "other";
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, clean));
  kit::set_face(scene.boxes[0], Side::right, kit::add_material(scene, other));
  const StraightLight light = trace(scene, {1.3, 0.5, 0.4}, Vec3::UnitZ(), 64).lights.front();
  ASSERT_EQ(light.meshes.size(), 2u) << "in the order of the materials";
  EXPECT_DOUBLE_EQ(light.meshes[0].crossings, 1);
  EXPECT_DOUBLE_EQ(light.meshes[1].crossings, 1);
  const Vec3 way(0.8, 0, -0.8);
  const double top = mesh_transmittance(0.3e-3, 1.5e-3, 1.5e-3, way);
  EXPECT_NEAR(light.meshes[0].gain_without_one, 1 / top, 1e-5);
  EXPECT_NEAR(light.meshed / light.free, top * top, 1e-5) << "45 degrees to both";
}

TEST(StraightLight, BehindAPaneIsTheDataSheetsFigure) {
  Scene scene = point_over_open_box();
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::pane(0.83)));
  const StraightLight light = trace(scene, {0.5, 0.5, 0.7}, Vec3::UnitZ(), 64).lights.front();
  EXPECT_DOUBLE_EQ(light.meshed, light.free);
  EXPECT_NEAR(light.clear.weigh(SpectralD::Ones()) / (kBins * light.meshed), 0.83, 1e-5);
  EXPECT_EQ(light.clear.grey, 0);
}

TEST(StraightLight, AnEdgeHidesHalfADisc) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.5, 0.5, 0.9});
  Board board;
  board.name = "edge";
  board.corner = {0.5, 0.2, 0.6};
  board.edge_u = {0.4, 0, 0};
  board.edge_v = {0, 0.6, 0};
  board.material = kit::add_material(scene, kit::grey(0));
  scene.boards.push_back(board);
  const Traced traced = trace(scene, {0.5, 0.5, 0.3}, Vec3::UnitZ());
  const StraightLight& light = traced.lights.front();
  // By symmetry; 4096 stratified points on either side of a straight edge.
  EXPECT_NEAR(light.open.grey / light.clear.grey, 0.5, 2e-3);
  EXPECT_DOUBLE_EQ(traced.open.front().grey, light.open.grey) << "the same points";
}

TEST(StraightLight, ByWayOfAPaneIsItsReflectanceAtTheImage) {
  // The sensor looks away from the lamp into a pane: only the mirror image at 0.3 + 0.5 m is seen.
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  const double transmittance = 0.9, index = 1.5;
  kit::set_face(scene.boxes[0], Side::left, kit::add_material(scene, kit::pane(transmittance, index)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.5});
  const Traced traced = trace(scene, {0.3, 0.5, 0.5}, -Vec3::UnitX(), 64);
  EXPECT_EQ(traced.lights.front().free, 0);
  EXPECT_NEAR(traced.lights.front().faced, 1 / (4 * pi * 0.04), 1e-4);
  // Both faces with all reflections between them: R + R t^2 (1 - R)^2 / (1 - R^2 t^2), Airy sum of
  // incoherent reflections (Hecht, Optics; from memory); t the internal transmittance that gives
  // `transmittance`.
  const double face = std::pow((index - 1) / (index + 1), 2);
  const double t = PaneOptics::internal_transmittance(transmittance, index);
  const double reflectance = face + face * t * t * (1 - face) * (1 - face) / (1 - face * face * t * t);
  const double expected = reflectance / (4 * pi * 0.64);
  EXPECT_NEAR(traced.mirrored.front().weigh(SpectralD::Ones()) / kBins, expected, 1e-4 * expected);
}

TEST(HeightSlope, OfAPointIsTheInverseSquareLawsDerivative) {
  // E = I / h^2: dE/dz = +- 2 I / h^3; the step of a central difference makes (step / h)^2 of itself more.
  const double h = 0.5, expected = 2 / (4 * pi * h * h * h);
  const HeightSlope slope = slopes_of(point_over_open_box(), {0.5, 0.5, 0.7}, Vec3::UnitZ(), 0.01f).front();
  const double allowed = 2.1 * std::pow(0.01 / h, 2) * expected;
  EXPECT_NEAR(slope.sensor.grey, expected, allowed);
  EXPECT_NEAR(slope.lamp.grey, -expected, allowed);
}

TEST(HeightSlope, OfATubeIsThatOfItsQuadrature) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  const Lamp& lamp = kit::add_lamp(scene, make_tube_emitter(0.6, 0.016, nullptr), {0.5, 0.5, 1.2});
  const Emitter& tube = *lamp.fixture->emitter;
  const double expected = (tube.on_axis(0.29) - tube.on_axis(0.31)) / 0.02;
  const HeightSlope slope = slopes_of(scene, {0.5, 0.5, 0.9}, Vec3::UnitZ(), 0.01f).front();
  // Common random numbers: the noise of a tube's 4096 stratified points, a thousandth or so, is that of the
  // slope.
  EXPECT_NEAR(slope.sensor.grey, expected, 3e-3 * expected);
  EXPECT_NEAR(slope.lamp.grey, -expected, 3e-3 * expected);
}

TEST(HeightSlope, IsTakenFromOneSideOnASurface) {
  Scene scene = point_over_open_box();
  kit::set_face(scene.boxes[0], Side::floor, kit::add_material(scene, kit::grey(0.5)));
  const double h = 1.2 - 0.0001, up = 1.19 - 0.0001;
  const HeightSlope slope = slopes_of(scene, {0.5, 0.5, 0.0001}, Vec3::UnitZ(), 0.01f).front();
  const double expected = (1 / (up * up) - 1 / (h * h)) / (4 * pi * 0.01);
  EXPECT_NEAR(slope.sensor.grey, expected, 1e-3 * expected);
}

TEST(HeightSlope, ShadowsStayWhereTheyAreOrGoAlong) {
  // A board's edge 3.3 mm beside the axis and 8 cm above the sensor hides what of the disc lies beyond its
  // shadow.
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  const double radius = 0.05, lamp_z = 0.9, edge_x = 0.0033, edge_z = 0.38, z = 0.3;
  const float step = 0.01f;
  const Lamp& lamp = kit::add_lamp(scene, make_disc_emitter(2 * radius, nullptr), {0.5, 0.5, lamp_z});
  const Emitter& disc = *lamp.fixture->emitter;
  Board board;
  board.corner = {0.5 + edge_x, 0.2, edge_z};
  board.edge_u = {0.4, 0, 0};
  board.edge_v = {0, 0.6, 0};
  board.material = kit::add_material(scene, kit::grey(0));
  scene.boards.push_back(board);
  // Share of the disc's area on one side of a chord.
  const auto seen = [&](double from) {
    const double x = edge_x * (lamp_z - from) / (edge_z - from) / radius;
    return (pi - std::acos(x) + x * std::sqrt(1 - x * x)) / pi;
  };
  const auto slope = [&](double share_up, double share_down) {
    return (disc.on_axis(lamp_z - z - step) * share_up - disc.on_axis(lamp_z - z + step) * share_down) /
           (2 * step);
  };
  const Vec3 place(0.5, 0.5, z);
  const StraightLight light = trace(scene, place, Vec3::UnitZ()).lights.front();
  // The disc's rim counts 0.7 % less than its middle (cosine to the fourth).
  EXPECT_NEAR(light.open.grey / light.clear.grey, seen(z), 5e-3);
  const double put = slope(seen(z + step), seen(z - step)), along = slope(seen(z), seen(z));
  EXPECT_NEAR(slopes_of(scene, place, Vec3::UnitZ(), step).front().sensor.grey, put, 0.03 * put);
  EXPECT_NEAR(slopes_of(scene, place, Vec3::UnitZ(), step, Shadows::go_along).front().sensor.grey, along,
              0.01 * along);
}

}  // namespace
}  // namespace boughlight
