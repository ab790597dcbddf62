#include "assess/hottest.h"

#include <gtest/gtest.h>

#include <numbers>

#include "assess/reachable.h"
#include "assess/survey_kit.h"
#include "geometry/stream.h"
#include "transport/brightest.h"
#include "transport/directions.h"

namespace boughlight {
namespace {

using std::numbers::pi;

constexpr double kSearch = 0.02;  // the design's: within 2 % of the true maximum

Scene black_box(const Vec3& size, double reach) {
  Scene scene;
  kit::add_box(scene, size, kit::add_material(scene, kit::grey(0)));
  scene.animal = Animal{};
  scene.animal->reach = reach;
  scene.survey.spacing = 0.06;
  scene.survey.tolerance = 0.01;
  return scene;
}

void open(Scene& scene, Side side) {
  kit::set_face(scene.boxes[0], side, -1);
}

Hottest hottest_of(kit::Stage& stage) {
  const GridLight light = light_cells(stage.setting());
  auto hottest = find_hottest(stage.setting(), light);
  EXPECT_TRUE(hottest);
  return *hottest;
}

// The greatest irradiance over a fine lattice of reachable places, each at its brightest orientation, looked
// at again more closely around the best; what is reported comes from numbers that chose nothing, so it is a
// lower bound of the true maximum but for its own small error.
double brute_force(kit::Stage& stage, double step, const GatherEffort& look) {
  const Reachable reachable(stage.scene());
  const auto channels = channels_of(Quantity::irradiance, stage.setting().outputs);
  const Eigen::ArrayXf scale = Eigen::ArrayXf::Ones(static_cast<Eigen::Index>(channels.size()));
  const auto at = [&](const Vec3& place, const GatherEffort& effort, std::uint64_t id) {
    return static_cast<double>(
        brightest_orientation(collect_light(stage.field(), channels, place.cast<float>(), id, effort), scale)
            .value);
  };
  std::vector<std::pair<double, Vec3>> found;
  const auto consider = [&](const Vec3& place, const GatherEffort& effort, std::uint64_t id) {
    if (reachable.contains(place)) found.emplace_back(at(place, effort, id), place);
  };
  const double reach = reachable.reach();
  for (const Box& box : stage.scene().boxes)
    for (double z = reach; z <= box.size.z() - reach + 1e-9; z += step)
      for (double y = reach; y <= box.size.y() - reach + 1e-9; y += step)
        for (double x = reach; x <= box.size.x() - reach + 1e-9; x += step)
          consider(box.corner + Vec3(x, y, z), look, 1);
  const auto keep_best = [&](std::size_t count) {
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    found.resize(std::min(found.size(), count));
  };
  constexpr std::size_t kKept = 8;
  const GatherEffort closer{4 * look.direct, 4 * look.paths}, final{64 * look.direct, 64 * look.paths};
  for (double around = step / 2; around > 1e-3; around /= 2) {
    keep_best(kKept);
    const auto centres = found;
    found.clear();
    for (const auto& [value, centre] : centres) {
      consider(centre, closer, 2);
      for (const Vec3f& way : orientations()) consider(centre + around * way.cast<double>(), closer, 2);
    }
  }
  keep_best(1);
  return at(found.front().second, final, 3);
}

void expect_as_good_as(kit::Stage& stage, double step, const GatherEffort& look) {
  const Hottest hottest = hottest_of(stage);
  const double most = brute_force(stage, step, look);
  EXPECT_TRUE(Reachable(stage.scene()).contains(hottest.irradiance.at));
  EXPECT_GT(most, 0);
  // The search's 2 % and both sides' own errors.
  EXPECT_GE(hottest.irradiance.figure.value, (1 - kSearch) * most - 3 * hottest.irradiance.figure.se)
      << "at " << hottest.irradiance.at.transpose();
}

TEST(Brightest, OrientationOfNoLightIsUpAndReadsNothing) {
  const Brightest none = brightest_orientation(DirectedLight{}, Eigen::ArrayXf());
  EXPECT_EQ(none.value, 0);
  EXPECT_EQ(none.direction, Vec3f::UnitZ());
}

TEST(Brightest, OrientationIsTheBestThatAnyStartComesTo) {
  // Light from all round in a few lumps, so that there are several hills; every start climbed to its end.
  for (std::uint64_t scatter = 0; scatter < 40; ++scatter) {
    Stream random(77, scatter);
    DirectedLight light;
    light.directions.resize(3, 24);
    light.values.resize(1, 24);
    for (Eigen::Index i = 0; i < 24; ++i) {
      const Vec3f way(static_cast<float>(random.next()) - 0.5f, static_cast<float>(random.next()) - 0.5f,
                      static_cast<float>(random.next()) - 0.5f);
      light.directions.col(i) = way.normalized().array();
      light.values(0, i) = static_cast<float>(random.next() * random.next() * random.next());
    }
    const auto seen_by = [&](const Vec3f& normal) {
      Vec3f sum = Vec3f::Zero();
      for (Eigen::Index i = 0; i < 24; ++i) {
        const Vec3f way = light.directions.col(i).matrix();
        if (normal.dot(way) > 0) sum += light.values(0, i) * way;
      }
      return sum;
    };
    float best = 0;
    for (const Vec3f& start : orientations()) {
      Vec3f normal = start;
      for (int step = 0; step < 50; ++step) normal = seen_by(normal).normalized();
      best = std::max(best, normal.dot(seen_by(normal)));
    }
    const Brightest found = brightest_orientation(light, Eigen::ArrayXf::Ones(1));
    EXPECT_NEAR(found.value, best, 1e-5f * best) << "scatter " << scatter;
    EXPECT_NEAR(found.direction.dot(seen_by(found.direction)), found.value, 1e-5f * best);
  }
}

TEST(Hottest, BelowAPointOverMeshIsStraightUnderIt) {
  // E = flux / (4 pi r^2) x (1 - 0.2)^2, r = gap + reach; sensor looking up.
  Scene scene = black_box({0.4, 0.3, 0.5}, 0.03);
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.2e-3, 1e-3, 1e-3, 0)));
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.13, 0.12, 0.55}, 10);
  kit::Stage stage(scene);
  const Hottest hottest = hottest_of(stage);
  const double expected = 10 / (4 * pi * 0.08 * 0.08) * 0.64;
  EXPECT_NEAR(hottest.irradiance.figure.value, expected, kSearch * expected);
  EXPECT_LE(hottest.irradiance.figure.value, expected * (1 + 1e-4)) << "nothing reachable gets more";
  EXPECT_LT((hottest.irradiance.at - Vec3(0.13, 0.12, 0.47)).norm(), 0.01);
  EXPECT_GT(hottest.irradiance.direction.z(), 0.98);
  EXPECT_EQ(hottest.irradiance.lamp, "lamp 1");
}

TEST(Hottest, AtALampInsideIsAtItsReach) {
  // A ball of radius 5 cm that radiates evenly all round: flux / (4 pi (5 + 4 cm)^2) anywhere at reach.
  Scene scene = black_box({0.5, 0.5, 0.5}, 0.04);
  kit::add_lamp(scene, make_sphere_emitter(0.1, nullptr), {0.22, 0.27, 0.3}, 5);
  kit::Stage stage(scene);
  const double expected = 5 / (4 * pi * 0.09 * 0.09);
  const Hottest hottest = hottest_of(stage);
  EXPECT_NEAR(hottest.irradiance.figure.value, expected,
              kSearch * expected + 3 * hottest.irradiance.figure.se);
}

TEST(Hottest, NarrowBeamIsFound) {
  // Half of the light within 6 deg, from a point slanting across: greatest where the axis comes within reach
  // of the roof.
  Scene scene = black_box({0.6, 0.4, 0.8}, 0.03);
  open(scene, Side::top);
  const Vec3 aim = Vec3(0.3, 0.1, -1).normalized();
  kit::add_lamp(scene, make_point_emitter(make_cosine_power(3 * pi / 180)), {0.2, 0.15, 0.95}, 2, aim,
                Vec3::UnitY().cross(aim));
  kit::Stage stage(scene);
  // I0 = flux (n + 1) / (2 pi), cos^n(3 deg) = 1/2.
  const double n = std::log(0.5) / std::log(std::cos(3 * pi / 180));
  const double distance = (0.95 - 0.77) / -aim.z();
  const double expected = 2 * (n + 1) / (2 * pi) / (distance * distance);
  EXPECT_NEAR(hottest_of(stage).irradiance.figure.value, expected, kSearch * expected);
}

TEST(Hottest, UnderATubeCloseToTheMesh) {
  Scene scene = black_box({0.5, 0.3, 0.4}, 0.03);
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::mesh(0.25e-3, 1.4e-3, 1.2e-3, 0.5)));
  kit::add_lamp(scene, make_tube_emitter(0.3, 0.016, make_trough(70 * pi / 180)), {0.25, 0.12, 0.43}, 5);
  kit::Stage stage(scene);
  expect_as_good_as(stage, 0.02, {32, 16});
}

TEST(Hottest, OfTwoLampsIsFoundWhereTheyAddUp) {
  // Each alone is greatest below itself; together somewhere between.
  Scene scene = black_box({0.6, 0.3, 0.5}, 0.05);
  open(scene, Side::top);
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.22, 0.15, 0.65}, 4, Vec3(0.2, 0, -1),
                Vec3::UnitY());
  kit::add_lamp(scene, make_disc_emitter(0.08, nullptr), {0.4, 0.15, 0.62}, 3, Vec3(-0.3, 0, -1),
                Vec3::UnitY());
  kit::Stage stage(scene);
  expect_as_good_as(stage, 0.02, {32, 0});
}

TEST(Hottest, BetweenLeavesThatHideTheLamp) {
  Scene scene = black_box({0.4, 0.3, 0.5}, 0.03);
  open(scene, Side::top);
  Plant& thicket = kit::add_plant(scene, {0.2, 0.15, 0.42}, {0.18, 0.14, 0.07}, 0.12, 0.04, 0.02,
                                  kit::add_material(scene, kit::grey(0.05, 0.05)));
  thicket.seed = 3;
  kit::add_lamp(scene, make_disc_emitter(0.06, nullptr), {0.2, 0.15, 0.6}, 4);
  kit::Stage stage(scene);
  expect_as_good_as(stage, 0.01, {16, 0});
}

TEST(Hottest, ByAWindowIsInFrontOfItsMiddle) {
  // Uniform light seen through an open rectangle a x b from distance c in front of its middle, sensor facing
  // it: four times the corner's view factor (standard form, Howell's catalogue B-3): F = [A / sqrt(1 + A^2)
  // atan(B / sqrt(1 + A^2)) + B / sqrt(1 + B^2) atan(A / sqrt(1 + B^2))] / (2 pi), A = a / 2c, B = b / 2c.
  Scene scene = black_box({0.4, 0.5, 0.3}, 0.1);
  open(scene, Side::front);
  kit::add_room(scene, 2);
  kit::Stage stage(scene);
  const double a = 0.2 / 0.1, b = 0.15 / 0.1, ra = std::sqrt(1 + a * a), rb = std::sqrt(1 + b * b);
  const double expected = 2 * 4 * (a / ra * std::atan(b / ra) + b / rb * std::atan(a / rb)) / (2 * pi);
  const Hottest hottest = hottest_of(stage);
  EXPECT_NEAR(hottest.irradiance.figure.value, expected,
              kSearch * expected + 3 * hottest.irradiance.figure.se);
  EXPECT_EQ(hottest.irradiance.lamp, "room");
}

TEST(Hottest, BesideAPaneIsFoundWhicheverLampComesFirst) {
  // What a pane mirrors takes now more, now fewer random numbers: none that another lamp goes by, or places
  // would not compare. A disc of radius r straight above is M r^2 / (r^2 + d^2) of it, M = P / (pi r^2); the
  // pane and the other lamp add a little.
  constexpr double r = 0.04, d = 0.05, watts = 6, dim = 0.8;
  constexpr double kFound = 2e-3;  // of the light of one lamp, which changes smoothly
  const double least = watts / (pi * (r * r + d * d));
  const auto expect_found = [&](bool strong_first, std::uint64_t seed) {
    Scene scene = black_box({0.3, 0.4, 0.5}, 0.03);
    open(scene, Side::top);
    kit::set_face(scene.boxes[0], Side::front, kit::add_material(scene, kit::pane(0.9, 1.5)));
    const auto weak = [&] { kit::add_lamp(scene, make_disc_emitter(0.05, nullptr), {0.07, 0.1, 0.7}, 0.5); };
    if (!strong_first) weak();
    kit::add_lamp(scene, make_disc_emitter(2 * r, nullptr), {0.2, 0.25, 0.52}, watts);
    scene.lamps.back().dim = dim;
    if (strong_first) weak();
    scene.survey.seed = seed;
    kit::Stage stage(scene);
    const Hottest hottest = hottest_of(stage);
    EXPECT_GE(hottest.irradiance.figure.value, (1 - kFound) * dim * least) << strong_first << seed;
    EXPECT_LE(hottest.irradiance.figure.value, 1.02 * dim * least) << strong_first << seed;
    EXPECT_GE(hottest.irradiance_at_full.figure.value, (1 - kFound) * least) << strong_first << seed;
  };
  expect_found(true, 1);
  for (const std::uint64_t seed : {1, 2}) expect_found(false, seed);
}

TEST(Hottest, WithDimmersAtFullIsJudgedApart) {
  Scene scene = black_box({0.4, 0.3, 0.5}, 0.03);
  open(scene, Side::top);
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.15, 0.57},
                   kit::watts_for_uvi_at_a_metre(0.1 * 0.1 * 8));  // UVI 8 at 10 cm, where reach ends
  scene.lamps[0].dim = 0.5;
  scene.animal->never = {kit::want(Quantity::uvi, std::nullopt, 6)};
  kit::Stage stage(scene);
  const Hottest hottest = hottest_of(stage);
  EXPECT_NEAR(hottest.uvi.figure.value, 4, 4 * kSearch);
  EXPECT_NEAR(hottest.uvi_at_full.figure.value, 8, 8 * kSearch);
  EXPECT_EQ(hottest.uvi.verdict, Verdict::met);
  EXPECT_EQ(hottest.uvi_at_full.verdict, Verdict::above);
  EXPECT_EQ(hottest.uvi.figure.converged, true);
  EXPECT_FALSE(hottest.irradiance.verdict) << "no limit was set";
}

TEST(Hottest, NeedsAnAnimalAndAPlaceForIt) {
  Scene scene = black_box({0.4, 0.3, 0.5}, 0.16);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.15, 0.6}, 1);
  kit::Stage cramped(scene);
  const GridLight light = light_cells(cramped.setting());
  EXPECT_FALSE(find_hottest(cramped.setting(), light)) << "nowhere is 16 cm from every wall";
  scene.animal.reset();
  kit::Stage empty(scene);
  EXPECT_FALSE(find_hottest(empty.setting(), light));
}

}  // namespace
}  // namespace boughlight
