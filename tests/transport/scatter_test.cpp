// What a path does where it meets something: every way on is taken as often as its density says.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "transport/density.h"
#include "transport/measure.h"
#include "transport/walk.h"

namespace boughlight {
namespace {

// Keeps where a path leaves the scene.
struct Leaver {
  std::optional<Carried> left;
  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, Met) {}
  void vertex(const ScatterSite&, const Spectral&) {}
  void escape(const Vec3f& direction, const Spectral& throughput) { left = {direction, throughput[36]}; }
};

template <Travel kTravel>
std::optional<Carried> follow(const LightField& field, const Vec3f& origin, const Vec3f& direction,
                              std::uint64_t stream) {
  // One path a stream: independent of each other, not spread evenly.
  PairSampler sampler(mix64(7, stream), 0);
  RayCount rays;
  Leaver leaver;
  walk<kTravel>(field, origin, direction, Spectral::Ones(), sampler, rays, leaver);
  return leaver.left;
}

// A box of open faces; what a path meets in it is met once.
Scene open_box() {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  return scene;
}

Vec3f slanted(double polar, double azimuth) {
  return Vec3f(static_cast<float>(std::sin(polar) * std::cos(azimuth)),
               static_cast<float>(std::sin(polar) * std::sin(azimuth)), -static_cast<float>(std::cos(polar)))
      .normalized();
}
Vec3f above_middle(const Vec3f& direction) {
  return Vec3f(0.5f, 0.5f, 1) + 0.3f / direction.z() * direction;
}

class MeshScatter : public testing::Test {
 protected:
  MeshScatter() {
    Scene scene = open_box();
    kit::set_face(scene.boxes[0], Side::top,
                  kit::add_material(scene, kit::mesh(0.5e-3, 1.4e-3, 1.8e-3, 0.8)));
    field_ = std::make_unique<LightField>(scene, kit::flat_importance());
  }
  const World& world() const { return field_->world(); }
  const Panel& panel() const { return world().panels().front(); }
  double wires() const { return world().mesh(panel()).reflectance()[36]; }

  std::unique_ptr<LightField> field_;
};

// What goes straight on has one direction: it is told apart by that and counted on its own.
TEST_F(MeshScatter, WithTheLightGoesBackForwardAndStraightByItsShares) {
  for (const Vec3f& in : {slanted(0, 0), slanted(0.6, 0.4), slanted(1.2, 1.0)}) {
    const MeshShares shares = world().mesh_shares(panel(), 0, in);
    double straight = 0;
    Mean whole;
    expect_carried(
        [&](std::uint64_t stream) -> std::optional<Carried> {
          const auto left = follow<Travel::with_light>(*field_, above_middle(in), in, stream);
          whole.add(left ? left->weight : 0);
          if (!left || !left->direction.isApprox(in, 0)) return left;
          straight += left->weight;
          return std::nullopt;
        },
        [&](const Vec3f& d) {
          return wires() * (d.z() > 0 ? shares.back : shares.forward) * std::abs(d.z()) / std::numbers::pi;
        });
    const auto share = static_cast<double>(shares.straight);
    constexpr double kCount = 1 << 17;
    EXPECT_NEAR(straight / kCount, share, kSigmas * std::sqrt(share * (1 - share) / kCount))
        << in.transpose();
    EXPECT_NEAR(whole.mean(), share + wires() * (1 - share), kSigmas * whole.error() + 1e-6);
  }
}

TEST_F(MeshScatter, AgainstTheLightCarriesWhatTheMeshDoesWithLightFromThere) {
  // A path that came to the mesh along `in` and goes on along d carries what the mesh sends of light along
  // -d.
  for (const Vec3f& in : {slanted(0, 0), slanted(0.6, 0.4), slanted(1.2, 1.0)})
    expect_carried(
        [&](std::uint64_t stream) -> std::optional<Carried> {
          const auto left = follow<Travel::against_light>(*field_, above_middle(in), in, stream);
          if (left && left->direction.isApprox(in, 0)) return std::nullopt;
          return left;
        },
        [&](const Vec3f& d) {
          const MeshShares shares = world().mesh_shares(panel(), 0, d);
          return wires() * (d.z() > 0 ? shares.back : shares.forward) * std::abs(d.z()) / std::numbers::pi;
        });
}

// A board that lets light through as a leaf does: reflectance + transmittance below 1, well below, and next
// to nothing.
struct Leafy {
  double reflectance, transmittance;
};
constexpr Leafy kLeaves[] = {{0.6, 0.35}, {0.1, 0.3}, {0.05, 0.02}, {0, 0.4}};

Scene leaf_board(const Leafy& leaf) {
  Scene scene = open_box();
  Material material = kit::grey(leaf.reflectance, leaf.transmittance);
  material.kind = SurfaceKind::leaf;
  scene.boards.push_back({"leaf", {0, 0, 1}, {1, 0, 0}, {0, 1, 0}, kit::add_material(scene, material)});
  return scene;
}

// Weighed, so that the ends by chance of paths that carry little are tested too.
template <Travel kTravel>
void expect_leaf_law(const LightField& field, const Leafy& leaf) {
  const Vec3f in = slanted(0.8, 2.0);
  expect_carried([&](std::uint64_t stream) { return follow<kTravel>(field, above_middle(in), in, stream); },
                 [&](const Vec3f& d) {
                   return (d.z() > 0 ? leaf.reflectance : leaf.transmittance) * std::abs(d.z()) /
                          std::numbers::pi;
                 });
}

TEST(LeafScatter, SendsLightToBothSidesByTheCosineLaw) {
  for (const Leafy& leaf : kLeaves) {
    const LightField field(leaf_board(leaf), kit::flat_importance());
    expect_leaf_law<Travel::with_light>(field, leaf);
    expect_leaf_law<Travel::against_light>(field, leaf);
  }
}

TEST(LeafScatter, IsTheSameWherePathsLookForALamp) {
  for (const Leafy& leaf : kLeaves) {
    Scene scene = leaf_board(leaf);
    kit::add_lamp(scene, make_sphere_emitter(0.1, nullptr), {0.7, 0.6, 1.4});
    expect_leaf_law<Travel::against_light>(LightField(scene, kit::flat_importance()), leaf);
  }
}

TEST(PaneScatter, GoesThroughOrIsMirroredAsFresnelShares) {
  Scene scene = open_box();
  kit::set_face(scene.boxes[0], Side::top, kit::add_material(scene, kit::pane(0.5, 2.0)));
  const LightField field(scene, kit::flat_importance());
  for (const double polar : {0.0, 0.9, 1.3}) {
    const Vec3f in = slanted(polar, 0.7), mirrored(in.x(), in.y(), -in.z());
    Spectral transmittance, reflectance;
    field.world().pane_shares(field.world().panels().front(), in, transmittance, reflectance);
    constexpr int kCount = 1 << 16;
    Mean through, back;
    for (std::uint64_t i = 0; i < kCount; ++i) {
      const auto left = follow<Travel::against_light>(field, above_middle(in), in, i);
      const bool on = left && left->direction.isApprox(in, 1e-6f);
      if (left && !on) {
        EXPECT_TRUE(left->direction.isApprox(mirrored, 1e-5f));
      }
      through.add(on ? left->weight : 0);
      back.add(left && !on ? left->weight : 0);
    }
    // Two outcomes: chi-square with one degree of freedom is the square of either's deviation.
    EXPECT_NEAR(through.mean(), transmittance[36], kSigmas * through.error());
    EXPECT_NEAR(back.mean(), reflectance[36], kSigmas * back.error());
    EXPECT_GT(reflectance[36], 0.05f);
  }
}

TEST(RoomLight, EntersEvenlyOverTheBoundsByTheCosineLaw) {
  Scene scene;
  kit::add_box(scene, {0.5, 0.8, 1.3}, kit::add_material(scene, kit::grey(0.5)));
  Room room;
  room.lux = 1;
  room.irradiance_w_m2 = 1;
  scene.room = room;
  const LightField field(scene, kit::flat_importance());
  const Eigen::AlignedBox3f& bounds = field.world().bounds();
  const Vec3f size = bounds.sizes();
  const double area = 2 * (size.x() * size.y() + size.y() * size.z() + size.z() * size.x());
  constexpr int kCount = 1 << 17, kAcross = 4;
  Stream random(5, 6);
  // 4 x 4 parts of each of six sides; directions on each side by rings of equal flux and azimuth, 4 x 4 as
  // well.
  std::array<std::array<double, kAcross * kAcross>, 6> places{}, ways{};
  const auto part = [](double share) {
    return std::clamp(static_cast<int>(share * kAcross), 0, kAcross - 1);
  };
  for (int i = 0; i < kCount; ++i) {
    const Pair place{random.next_float(), random.next_float()}, way{random.next_float(), random.next_float()};
    const auto ray = field.emit_room(place, way, random.next_float());
    EXPECT_NEAR(ray.weight, area, 1e-5 * area);
    int side = -1;
    for (int axis = 0; axis < 3; ++axis) {
      if (ray.origin[axis] == bounds.min()[axis]) side = 2 * axis;
      if (std::abs(ray.origin[axis] - bounds.max()[axis]) < 1e-6f) side = 2 * axis + 1;
    }
    ASSERT_GE(side, 0) << ray.origin.transpose();
    const int axis = side / 2, u = (axis + 1) % 3, v = (axis + 2) % 3;
    const Vec3f at = (ray.origin - bounds.min()).cwiseQuotient(size);
    ++places[static_cast<std::size_t>(side)][static_cast<std::size_t>(part(at[u]) * kAcross + part(at[v]))];
    const double cosine = ray.direction[axis] * (side % 2 ? -1 : 1);
    ASSERT_GE(cosine, 0);
    const double turn = std::atan2(ray.direction[v], ray.direction[u]) / (2 * kPi) + 0.5;
    ++ways[static_cast<std::size_t>(side)]
          [static_cast<std::size_t>(part(cosine * cosine) * kAcross + part(turn))];
  }
  for (const auto& counts : {places, ways}) {
    double chi_square = 0;
    for (std::size_t side = 0; side < 6; ++side) {
      const double across = size.prod() / size[static_cast<Eigen::Index>(side / 2)];
      const double expected = kCount * across / area / (kAcross * kAcross);
      for (const double count : counts[side])
        chi_square += (count - expected) * (count - expected) / expected;
    }
    EXPECT_LT(chi_square_sigmas(chi_square, 6 * kAcross * kAcross - 1), kSigmas);
  }
}

TEST(LampRays, OfALampThatIsTurnedLeaveByItsLaw) {
  Scene scene = open_box();
  const Vec3 aim = Vec3(0.5, -0.7, 0.2).normalized(), along = Vec3(0.7, 0.5, 0).normalized();
  kit::add_lamp(scene, make_rectangle_emitter(0.3, 0.1, nullptr), {0.4, 0.5, 0.6}, 1, aim, along);
  const LightField field(scene, kit::flat_importance());
  Stream random(8, 9);
  std::array<double, 6 * 4> places{};
  constexpr int kCount = 1 << 17;
  expect_carried(
      [&](std::uint64_t) -> std::optional<Carried> {
        const Pair place{random.next_float(), random.next_float()},
            way{random.next_float(), random.next_float()};
        const auto ray = field.emit(0, place, way);
        const Vec3 off = ray.origin.cast<double>() - Vec3(0.4, 0.5, 0.6);
        EXPECT_NEAR(off.dot(aim), 0, 1e-6);
        const int a = std::clamp(static_cast<int>((off.dot(along) / 0.3 + 0.5) * 6), 0, 5);
        const int b = std::clamp(static_cast<int>((off.dot(aim.cross(along)) / 0.1 + 0.5) * 4), 0, 3);
        ++places[static_cast<std::size_t>(4 * a + b)];
        return Carried{ray.direction, ray.weight};
      },
      [&](const Vec3f& d) { return std::max(0.0, aim.dot(d.cast<double>())) / std::numbers::pi; });
  double chi_square = 0;
  for (const double count : places) chi_square += std::pow(count - kCount / 24.0, 2) / (kCount / 24.0);
  EXPECT_LT(chi_square_sigmas(chi_square, 23), kSigmas);
}

TEST(PlacesInCells, AreEvenOverWhatABranchLeavesFree) {
  Scene scene;
  const int bark = kit::add_material(scene, kit::grey(0.3));
  kit::add_box(scene, {0.2, 0.3, 0.2}, bark);
  scene.branches.push_back({"bough", {{0.02, 0.05, 0.05}, {0.15, 0.25, 0.14}}, 0.08, bark});
  const CellGrid grid(scene, 0.4);
  ASSERT_EQ(grid.size(), 1u);
  constexpr int kAcross = 5, kSub = 16, kCount = 1 << 16;
  std::array<double, kAcross * kAcross * kAcross> counted{}, expected{};
  const Vec3 size(0.2, 0.3, 0.2);
  const auto cell_of = [&](const Vec3& place) {
    std::size_t cell = 0;
    for (int axis = 0; axis < 3; ++axis)
      cell = cell * kAcross + static_cast<std::size_t>(std::clamp(
                                  static_cast<int>(place[axis] / size[axis] * kAcross), 0, kAcross - 1));
    return cell;
  };
  double all = 0;
  constexpr int kFine = kAcross * kSub;
  for (int i = 0; i < kFine; ++i)
    for (int j = 0; j < kFine; ++j)
      for (int k = 0; k < kFine; ++k) {
        const Vec3 place = Vec3(i + 0.5, j + 0.5, k + 0.5).cwiseProduct(size) / kFine;
        if (!scene.inside_solid(place)) ++expected[cell_of(place)], ++all;
      }
  for (int i = 0; i < kCount; ++i) {
    PairSampler sampler(mix64(11, static_cast<std::uint64_t>(i)), 0);
    ++counted[cell_of(CellPlaces(scene, grid, 0).at(sampler).cast<double>())];
  }
  double chi_square = 0;
  int cells = 0;
  for (std::size_t i = 0; i < counted.size(); ++i) {
    const double mean = kCount * expected[i] / all;
    if (mean < 10) continue;
    // The midpoints know a cut cell's free part to about one in a hundred of a whole cell's.
    const double blur = expected[i] < std::pow(kSub, 3) ? 0.01 * kCount * std::pow(kSub, 3) / all : 0;
    chi_square += std::pow(counted[i] - mean, 2) / (mean + blur * blur);
    ++cells;
  }
  EXPECT_LT(all, 0.95 * std::pow(kFine, 3)) << "the branch fills a part";
  EXPECT_LT(chi_square_sigmas(chi_square, cells - 1), kSigmas);
}

}  // namespace
}  // namespace boughlight
