// Light in, around and on surfaces of triangles.
#include <gtest/gtest.h>

#include <numbers>

#include "shell_kit.h"
#include "transport/measure.h"

namespace boughlight {
namespace {

using std::numbers::pi;

void light_the_room(Scene& scene) {
  Room room;
  room.components = {{SpectralLine{550}, 1}};
  room.per_watt = integrate_spectrum(room.components);
  room.irradiance_w_m2 = 1;
  room.lux = room.per_watt.total(Quantity::lux);
  scene.room = room;
}

TEST(ModelLightSlow, InAHollowBallIsThatOfAnIntegratingSphere) {
  // A lamp in the middle lights the wall evenly, and what the wall sends out is even too: on any sensor
  // turned away from the lamp rho / (1 - rho) Phi / A (J. W. T. Walsh, Photometry, 1958; from memory).
  // Corners on the sphere: edges of 1.5 cm at 30 cm make the light on the wall uneven by 1e-4.
  for (const double rho : {0.5, 0.9}) {
    Scene scene = kit::open_air();
    const Vec3 middle(0.5, 0.5, 0.5);
    const kit::Surface ball = kit::ball_surface(0.3, 5).turned(Eigen::Matrix3d::Identity(), middle);
    const double area =
        kit::add_model(scene, ball.inside_out(), kit::add_material(scene, kit::grey(rho))).shell->area();
    kit::add_lamp(scene, make_point_emitter(make_isotropic()), middle);
    const LightField field(scene, kit::flat_importance());
    for (const Vec3& off : {Vec3(0.02, 0, 0), Vec3(0.1, 0.1, -0.12), Vec3(0, 0, 0.29)}) {
      const auto m = kit::irradiance(field, middle + off, off, {16, 8192});
      kit::expect_close(m, rho / (1 - rho) / area, 3e-3);
    }
  }
}

TEST(ModelLight, ABlackBallHidesItsViewFactor) {
  // Even light from all round, less what the ball hides: the factor from a small element to a sphere is
  // cos(angle to its centre) (r / d)^2 where all of it is in front (J. R. Howell, A Catalog of Radiation Heat
  // Transfer Configuration Factors; from memory). The ball's corners are on the sphere: 3e-4 less of its
  // disc.
  Scene scene = kit::open_air();
  light_the_room(scene);
  const Vec3 centre(0.5, 0.5, 0.8);
  kit::add_model(scene, kit::ball_surface(0.1, 5).turned(kit::some_turn(), centre),
                 kit::add_material(scene, kit::grey(0)));
  const LightField field(scene, kit::flat_importance());
  for (const double distance : {0.15, 0.3, 0.6})
    for (const double angle : {0.0, 0.4}) {
      const double hidden = std::cos(angle) * std::pow(0.1 / distance, 2);
      const auto m = kit::irradiance(field, centre - Vec3(0, 0, distance),
                                     {std::sin(angle), 0, std::cos(angle)}, {16, 16384});
      EXPECT_LT(m.error, 3e-3);
      EXPECT_NEAR(m.value, 1 - hidden, 5 * m.error + 5e-4 * hidden);
    }
}

TEST(ModelLight, AWhiteBallInEvenLightIsNotSeen) {
  Scene scene = kit::open_air();
  light_the_room(scene);
  kit::add_model(scene, kit::ring_surface(0.2, 0.08).turned(kit::some_turn(), {0.5, 0.5, 0.5}),
                 kit::add_material(scene, kit::grey(1)));
  const LightField field(scene, kit::flat_importance());
  for (const Vec3& place : {Vec3(0.5, 0.5, 0.5), Vec3(0.5, 0.5, 0.15)})
    kit::expect_close(kit::irradiance(field, place, {0.3, 0.2, 1}, {16, 4096}), 1, 1e-2);
}

// A room with a lamp and a turned box in it, the box made as `add` makes it.
template <class Add>
Scene furnished(const Add& add) {
  Scene scene;
  kit::add_box(scene, {0.8, 0.6, 1}, kit::add_material(scene, kit::grey(0.6)));
  add(scene, kit::add_material(scene, kit::grey(0.3)));
  kit::add_lamp(scene, make_disc_emitter(0.05, nullptr), {0.3, 0.25, 0.95});
  return scene;
}

TEST(ModelLightSlow, AroundABoxIsAsAroundTheSameBoxOfBoards) {
  const Vec3 size(0.2, 0.15, 0.3), centre(0.45, 0.3, 0.25);
  const Eigen::Matrix3d turn = Eigen::AngleAxisd(0.5, Vec3::UnitZ()).toRotationMatrix();
  const Scene model = furnished([&](Scene& scene, int material) {
    kit::add_model(scene, kit::box_surface(size).turned(turn, centre), material);
  });
  const Scene boards = furnished([&](Scene& scene, int material) {
    OrientedBox box;
    box.centre = centre, box.half = 0.5 * size, box.axes = turn;
    const auto corners = box.corners();
    for (unsigned axis = 0; axis < 3; ++axis)
      for (const unsigned side : {0U, 1U << axis}) {
        Board board;
        board.corner = corners[side];
        board.edge_u = corners[side | 1U << (axis + 1) % 3] - board.corner;
        board.edge_v = corners[side | 1U << (axis + 2) % 3] - board.corner;
        board.material = material;
        scene.boards.push_back(board);
      }
  });
  const LightField of_model(model, kit::flat_importance()), of_boards(boards, kit::flat_importance());
  // In the open, at the shadow's edge, in the shadow, on the box and close to its side.
  for (const Vec3& place : {Vec3(0.2, 0.2, 0.01), Vec3(0.62, 0.36, 0.1), Vec3(0.68, 0.45, 0.01),
                            Vec3(0.45, 0.3, 0.41), Vec3(0.34, 0.2, 0.2)})
    for (const Vec3& facing : {Vec3(0, 0, 1), Vec3(1, 0.2, 0)}) {
      const auto a = kit::irradiance(of_model, place, facing, {1024, 4096});
      const auto b = kit::irradiance(of_boards, place, facing, {1024, 4096});
      EXPECT_NEAR(a.value, b.value, 5 * std::hypot(a.error, b.error) + 1e-5 * b.value) << place.transpose();
      EXPECT_LT(a.error, 0.02 * a.value);
    }
}

TEST(ModelLight, CellsLoseTheVolumeOfClosedModelsAndBodiesOfLamps) {
  Scene scene;
  kit::add_box(scene, {0.8, 0.6, 1}, -1);
  const int grey = kit::add_material(scene, kit::grey(0.5));
  const auto taken = [&] {
    const CellGrid grid(scene, 0.05);
    double free = 0;
    for (std::size_t cell = 0; cell < grid.size(); ++cell)
      free += static_cast<double>(grid.free_volume(cell));
    return 0.8 * 0.6 * 1 - free;
  };
  EXPECT_NEAR(taken(), 0, 1e-6);
  const Model ring =
      kit::add_model(scene, kit::ring_surface(0.2, 0.06).turned(kit::some_turn(), {0.4, 0.3, 0.5}), grey);
  const double volume = ring.shell->signed_volume();
  // The lattice's points are 3 mm apart: its error is that of a rough count at the surface only.
  EXPECT_NEAR(taken(), volume, 2e-3 * volume);
  // A wide hollow in a block that holds whole cells, and whole cells of wood.
  scene.models.clear();
  const kit::Surface block = kit::box_surface({0.3, 0.3, 0.35}).with(kit::ball_surface(0.12, 4).inside_out());
  const Model hollow = kit::add_model(scene, block.turned(kit::some_turn(), {0.4, 0.3, 0.5}), grey);
  EXPECT_NEAR(taken(), hollow.shell->signed_volume(), 2e-3 * hollow.shell->signed_volume());
  // One that is not closed takes nothing.
  kit::Surface open = kit::box_surface({0.3, 0.3, 0.3}).turned(kit::some_turn(), {0.4, 0.3, 0.5});
  open.triangles.pop_back();
  scene.models.clear();
  kit::add_model(scene, open, grey);
  EXPECT_NEAR(taken(), 0, 1e-6);
  scene.models.clear();
  Lamp& lamp = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.4, 0.3, 0.5}, 1, {0.3, 0.1, -1},
                             Vec3(1, 0, 0.3));
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->body = LampBody{0.3, 0.2, 0.1, SpectralD::Zero()};
  lamp.fixture = fixture;
  EXPECT_NEAR(taken(), 0.3 * 0.2 * 0.1, 2e-3 * 0.006);
}

}  // namespace
}  // namespace boughlight
