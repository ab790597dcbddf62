#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <numbers>

#include "transport/measure.h"

namespace boughlight {
namespace {

using std::numbers::pi;

// An enclosure of open faces: nothing for light to meet.
Scene empty_scene() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  return scene;
}

TEST(DirectLight, PointFollowsInverseSquareAndCosineLaw) {
  Scene scene = empty_scene();
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.9});
  const LightField field(scene, kit::flat_importance());
  // E = I h / (h^2 + x^2)^1.5 with I = 1/(4 pi) W/sr for 1 W.
  for (const double x : {0.0, 0.1, 0.3}) {
    const double h = 0.5, expected = h / (4 * pi) / std::pow(h * h + x * x, 1.5);
    const auto m = kit::irradiance(field, {0.5 + x, 0.5, 0.4}, Vec3::UnitZ(), {64, 64});
    EXPECT_NEAR(m.value, expected, 2e-5 * expected);
    EXPECT_LT(m.error, 1e-6 * expected) << "a point's light has no variance";
  }
}

TEST(Cavity, MeanIrradianceIsFluxOverAreaTimesOneMinusReflectance) {
  // Energy balance of a closed box: what the walls receive in all is Phi / (1 - rho), wherever the lamp is.
  for (const double rho : {0.2, 0.5, 0.8, 0.95}) {
    Scene scene;
    const Vec3 size(0.6, 0.5, 1.2);
    kit::add_box(scene, size, kit::add_material(scene, kit::grey(rho)));
    kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.17, 0.31, 0.9});
    const LightField field(scene, kit::flat_importance());
    // Random places over all six walls, one a sample: the mean over the walls.
    const double area = 2 * (size.x() * size.y() + size.y() * size.z() + size.z() * size.x());
    double total = 0, error = 0;
    for (const Side side : kSides) {
      const int axis = side == Side::left || side == Side::right   ? 0
                       : side == Side::front || side == Side::back ? 1
                                                                   : 2;
      const bool far = side == Side::right || side == Side::back || side == Side::top;
      Vec3 inward = Vec3::Zero();
      inward[axis] = far ? -1 : 1;
      const int u = (axis + 1) % 3, v = (axis + 2) % 3;
      Receiver receiver;
      receiver.normal = inward.cast<float>();
      receiver.id = static_cast<std::uint64_t>(side) + 5;
      receiver.place = [=](std::uint64_t stream, std::uint32_t index) {
        Stream random(mix64(77, stream), index);
        Vec3 p;
        p[axis] = far ? size[axis] - 1e-4 : 1e-4;
        p[u] = random.next() * size[u];
        p[v] = random.next() * size[v];
        return Vec3f(p.cast<float>());
      };
      const Response r = gather(field, {receiver}, {{256, 256}}).front();
      std::vector<double> values;
      for (int k = 0; k < kReplicates; ++k)
        values.push_back(static_cast<double>(r.direct[r.at(k, 0)][36]) +
                         static_cast<double>(r.indirect[r.at(k, 0)][36]));
      const auto m = kit::summarize(values);
      total += m.value * size[u] * size[v];
      error = std::hypot(error, m.error * size[u] * size[v]);
    }
    const double expected = 1 / (1 - rho);
    EXPECT_NEAR(total, expected, 4 * error + 1e-3 * expected) << "rho " << rho << ", error " << error;
    EXPECT_LT(error, 0.02 * expected);
    EXPECT_NEAR(total / area, 1 / (area * (1 - rho)), (4 * error + 1e-3 * expected) / area);
  }
}

TEST(Cells, PlacesOfABatchAreThoseOfItsSamples) {
  Scene scene = empty_scene();
  Branch branch;
  branch.path = {{0.1, 0.5, 0.3}, {0.9, 0.5, 0.3}};
  branch.diameter = 0.1;
  branch.material = kit::add_material(scene, kit::grey(0.5));
  scene.branches.push_back(branch);
  const CellGrid grid(scene, 0.2);
  for (std::size_t cell = 0; cell < grid.size(); ++cell) {
    const CellPlaces places(scene, grid, cell);
    std::vector<DirectSample> batch;
    for (std::uint32_t i = 0; i < World::kSegments; ++i)
      batch.push_back({Vec3f::Zero(), PairSampler(cell, i)});
    places.place_all(batch);
    for (std::uint32_t i = 0; i < World::kSegments; ++i) {
      PairSampler sampler(cell, i);
      EXPECT_EQ((batch[i].place - places.at(sampler)).norm(), 0) << "sample " << i << " of cell " << cell;
      EXPECT_FALSE(scene.inside_solid(batch[i].place.cast<double>()));
    }
  }
}

TEST(CellsSlow, LightCountedAlongItsWaysAgreesWithReadingsFromWithin) {
  // The two estimators share only the scattering rules: one follows light from the lamp, the other from the
  // sensor.
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.6));
  const int screen = kit::add_material(scene, kit::mesh(0.3e-3, 1.5e-3, 1.2e-3, 0.5));
  const int glass = kit::add_material(scene, kit::pane(0.88));
  Box& box = kit::add_box(scene, {0.5, 0.4, 0.8}, wall);
  kit::set_face(box, Side::top, screen);
  kit::set_face(box, Side::front, glass);
  kit::set_face(box, Side::left, glass);
  scene.branches.push_back({"bough", {{0.1, 0.2, 0.5}, {0.4, 0.25, 0.6}}, 0.04, wall});
  const int leaf = kit::add_material(scene, kit::grey(0.3, 0.3));
  kit::add_plant(scene, {0.25, 0.2, 0.3}, {0.15, 0.12, 0.2}, 0.1, 0.05, 0.03, leaf).seed = 3;
  kit::add_lamp(scene, make_tube_emitter(0.4, 0.016, make_trough(70 * pi / 180)), {0.25, 0.2, 0.87});
  Room room;
  room.lux = 1;
  room.irradiance_w_m2 = 1;
  scene.room = room;
  const LightField field(scene, kit::flat_importance());
  const CellGrid grid(scene, 0.2);
  ASSERT_EQ(grid.size(), 3u * 2u * 4u);
  const std::size_t sources = field.source_count();
  CellLight light(grid.size(), sources, 0);
  const std::vector<std::uint32_t> places(grid.size() * field.lamp_count(), 256);
  add_direct(field, scene, grid, places, {}, {}, 5, light);
  add_indirect(field, grid, {}, {1u << 14, 1u << 14}, {}, 5, light);
  // The same with much of the straight light told by the paths, but for what comes through the panes.
  CellLight told_light(grid.size(), sources, 0);
  const std::vector<float> told(places.size(), 0.8f);
  add_direct(field, scene, grid, places, told, {}, 6, told_light);
  const auto tell = [&](int replicate, std::size_t lamp, const std::vector<float>& straight) {
    for (std::size_t cell = 0; cell < grid.size(); ++cell)
      told_light.up(replicate, lamp, cell) += told[cell] * straight[cell];
  };
  add_indirect(field, grid, {}, {1u << 15, 1u << 14}, tell, 6, told_light);
  for (const std::size_t cell : {std::size_t{0}, std::size_t{5}, std::size_t{9}, std::size_t{14}}) {
    Receiver receiver;
    receiver.id = 1000 + cell;
    receiver.place = [&, cell](std::uint64_t stream, std::uint32_t index) {
      PairSampler sampler(mix64(77, stream), index);
      return CellPlaces(scene, grid, cell).at(sampler);
    };
    const Response r = gather(field, {receiver}, {{4096, 8192}}).front();
    for (std::size_t source = 0; source < sources; ++source) {
      std::vector<double> gathered;
      for (int k = 0; k < kReplicates; ++k)
        gathered.push_back(static_cast<double>(r.direct[r.at(k, source)][36]) +
                           static_cast<double>(r.indirect[r.at(k, source)][36]));
      const auto a = kit::summarize(gathered);
      for (const CellLight* of : {&light, &told_light}) {
        std::vector<double> counted;
        for (int k = 0; k < kCellReplicates; ++k) counted.push_back(of->up(k, source, cell)[36]);
        const auto b = kit::summarize(counted);
        const auto where = "cell " + std::to_string(cell) + " source " + std::to_string(source) +
                           (of == &light ? "" : ", told by paths");
        EXPECT_NEAR(a.value, b.value, 4.5 * std::hypot(a.error, b.error)) << where;
        EXPECT_LT(std::hypot(a.error, b.error), 0.03 * a.value) << where;
      }
    }
  }
}

TEST(Gather, EachLampMayHaveAsManySamplesAsItIsWorth) {
  // Under a shelf, so that samples differ.
  Scene scene = empty_scene();
  Board shelf;
  shelf.corner = {0.3, 0.3, 0.6};
  shelf.edge_u = {0.2, 0, 0}, shelf.edge_v = {0, 0.2, 0};
  shelf.material = kit::add_material(scene, kit::grey(0.5));
  scene.boards.push_back(shelf);
  kit::add_lamp(scene, make_disc_emitter(0.2, nullptr), {0.4, 0.5, 0.9});
  kit::add_lamp(scene, make_rectangle_emitter(0.3, 0.2, nullptr), {0.5, 0.3, 0.9});
  const LightField field(scene, kit::flat_importance());
  const Receiver receiver = fixed_receiver({0.45f, 0.45f, 0.2f}, Vec3f::UnitZ(), 8);
  const auto read = [&](std::uint32_t first, std::uint32_t second, std::uint32_t paths) {
    return gather(field, {receiver}, {LampEfforts{{first, second}, paths}}).front();
  };
  const Response both = gather(field, {receiver}, {GatherEffort{256, 0}}).front();
  const Response first = read(256, 0, 0), second = read(0, 256, 0), uneven = read(64, 256, 0);
  std::vector<double> few, many;
  for (int k = 0; k < kReplicates; ++k) {
    EXPECT_GT(both.direct[both.at(k, 0)][3], 0);
    EXPECT_EQ(first.direct[both.at(k, 0)][3], both.direct[both.at(k, 0)][3]);
    EXPECT_EQ(first.direct[both.at(k, 1)][3], 0);
    EXPECT_EQ(second.direct[both.at(k, 0)][3], 0);
    EXPECT_EQ(second.direct[both.at(k, 1)][3], both.direct[both.at(k, 1)][3]);
    EXPECT_EQ(uneven.direct[both.at(k, 1)][3], both.direct[both.at(k, 1)][3]);
    few.push_back(uneven.direct[both.at(k, 0)][3]);
    many.push_back(both.direct[both.at(k, 0)][3]);
  }
  const auto a = kit::summarize(few), b = kit::summarize(many);
  EXPECT_NEAR(a.value, b.value, 4.5 * std::hypot(a.error, b.error));
  EXPECT_LT(a.error, 0.05 * a.value) << "or the line before says little";
  EXPECT_EQ(first.rays.shadow + second.rays.shadow, both.rays.shadow);
  EXPECT_LT(uneven.rays.shadow, both.rays.shadow);
}

TEST(Mirror, OnePaneGivesTheImageLampAsWell) {
  // A clear pane beside a point lamp and a sensor: the sensor sees the lamp and its mirror image, dimmed by
  // the slab's reflectance at that angle.
  Scene scene = empty_scene();
  const int glass = kit::add_material(scene, kit::pane(0.9, 1.52));
  kit::set_face(scene.boxes[0], Side::left, glass);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.5, 0.8});
  const LightField field(scene, kit::flat_importance());
  const Vec3 sensor(0.4, 0.5, 0.3), image(-0.3, 0.5, 0.8);
  const Vec3 way = image - sensor;
  Spectral transmittance, reflectance;
  PaneOptics(scene.materials[0])
      .evaluate(static_cast<float>(std::abs(way.normalized().x())), transmittance, reflectance);
  const double direct = 0.5 / (4 * pi) / std::pow(0.5 * 0.5 + 0.1 * 0.1, 1.5);
  const double mirrored = way.normalized().z() / (4 * pi) / way.squaredNorm() * reflectance[36];
  const auto m = kit::irradiance(field, sensor, Vec3::UnitZ(), {64, 64});
  EXPECT_NEAR(m.value, direct + mirrored, 1e-4 * (direct + mirrored));
  EXPECT_GT(mirrored, 0.01 * direct);
}

TEST(Mirror, TwoPanesFacingGiveTheWholeSeriesOfImages) {
  // Lamp and sensor between parallel panes: images at 2 k W +- x, each dimmed once a mirror. Reference: the
  // sum over images, with the slab's reflectance at each angle.
  Scene scene = empty_scene();
  const int glass = kit::add_material(scene, kit::pane(0.5, 2.5));
  kit::set_face(scene.boxes[0], Side::left, glass);
  kit::set_face(scene.boxes[0], Side::right, glass);
  const Vec3 lamp(0.3, 0.5, 0.8), sensor(0.6, 0.5, 0.5);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), lamp);
  const LightField field(scene, kit::flat_importance());
  const PaneOptics optics(scene.materials[0]);
  const auto from = [&](double x, int mirrors) {
    const Vec3 way = Vec3(x, lamp.y(), lamp.z()) - sensor;
    Spectral t, r;
    optics.evaluate(static_cast<float>(std::max(1e-6, std::abs(way.normalized().x()))), t, r);
    // The mirrored way must hit panes, which end at the box: z stays between lamp and sensor, y is constant.
    return way.normalized().z() / (4 * pi) / way.squaredNorm() * std::pow(r[36], mirrors);
  };
  double expected = 0;
  for (int k = -20; k <= 20; ++k) {
    expected += from(2 * k + lamp.x(), 2 * std::abs(k));
    expected += from(2 * k - lamp.x(), k > 0 ? 2 * k - 1 : 1 - 2 * k);
  }
  const auto m = kit::irradiance(field, sensor, Vec3::UnitZ(), {4096, 64});
  kit::expect_close(m, expected, 0.005);
}

TEST(Transport, SameBitsOnAnyNumberOfThreads) {
  Scene scene;
  kit::add_box(scene, {0.6, 0.5, 1}, kit::add_material(scene, kit::grey(0.5)));
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.3, 0.2, 0.9});
  const LightField field(scene, kit::flat_importance());
  const CellGrid grid(scene, 0.2);
  const auto run = [&](std::size_t threads) {
    tbb::global_control control(tbb::global_control::max_allowed_parallelism, threads);
    CellLight light(grid.size(), 1, 1);
    add_direct(field, scene, grid, std::vector<std::uint32_t>(grid.size() * field.lamp_count(), 4), {}, {}, 1,
               light);
    add_indirect(field, grid, {{0, Spectral::Ones()}}, {512}, {}, 1, light);
    std::vector<float> all;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      for (int k = 0; k < kCellReplicates; ++k) all.push_back(light.up(k, 0, cell)[10]);
      for (const float v : light.oriented(0, cell)) all.push_back(v);
    }
    const auto receiver = fixed_receiver({0.3f, 0.3f, 0.2f}, Vec3f::UnitZ(), 4);
    const std::vector<Response> responses = gather(field, {receiver}, {{64, 64}});
    for (const Spectral& part : responses.front().indirect) all.push_back(part[7]);
    return all;
  };
  const auto one = run(1);
  for (const std::size_t threads : {2, 7}) {
    const auto other = run(threads);
    ASSERT_EQ(one.size(), other.size());
    for (std::size_t i = 0; i < one.size(); ++i)
      ASSERT_EQ(one[i], other[i]) << "number " << i << " with " << threads << " threads";
  }
}

}  // namespace
}  // namespace boughlight
