// Bodies of lamps shade and reflect, and leave what their own lamp sends to the front as it is.
#include <gtest/gtest.h>

#include <numbers>

#include "transport/measure.h"

namespace boughlight {
namespace {

using std::numbers::pi;

void give_body(Lamp& lamp, const Vec3& size, double reflectance) {
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  fixture->body = LampBody{size.x(), size.y(), size.z(), SpectralD::Constant(reflectance)};
  lamp.fixture = fixture;
}

// The factor from a small element to a rectangle a by b that faces it at height h, the element under its
// middle: four times that of a quarter with a corner above it (D. C. Hamilton and W. R. Morgan,
// Radiant-interchange configuration factors, NACA TN 2836, 1952; from memory).
double middle_factor(double a, double b, double h) {
  const double x = a / (2 * h), y = b / (2 * h), sx = std::sqrt(1 + x * x), sy = std::sqrt(1 + y * y);
  return 4 / (2 * pi) * (x / sx * std::atan(y / sx) + y / sy * std::atan(x / sy));
}

TEST(LampBodyLight, AnothersBodyHidesJustItsShareOfALamp) {
  // An even panel of 60 x 40 cm, 80 cm above the sensor, and half way down to it the black body of a lamp
  // that hides 30 x 20 cm of it, or, wider than the panel's share there, all of it.
  for (const double width : {0.1, 0.3}) {
    Scene scene = kit::open_air();
    kit::add_lamp(scene, make_rectangle_emitter(0.6, 0.4, nullptr), {0.5, 0.5, 1.0});
    const double gap = 2e-4;  // between emitter and body
    Lamp& other = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.5, 0.5, 0.6 - gap});
    give_body(other, {0.15, width, 0.05}, 0);
    const LightField field(scene, kit::flat_importance());
    const auto m = kit::irradiance(field, {0.5, 0.5, 0.2}, Vec3::UnitZ(), {16384, 64});
    // A Lambertian panel of 1 W: radiance 1 / (pi A), irradiance F / A. The body's front is at half the
    // height.
    const double area = 0.6 * 0.4;
    const double seen = middle_factor(0.6, 0.4, 0.8) - middle_factor(0.3, std::min(0.4, 2 * width), 0.8);
    kit::expect_close(m, seen / area, 2e-3);
  }
}

TEST(LampBodyLight, ThrowsBackWhatComesFromBelow) {
  // In even light all round a body hides its factor and gives back rho of it: 1 - (1 - rho) F.
  for (const double rho : {0.0, 0.6, 1.0}) {
    Scene scene = kit::open_air();
    Room room;
    room.lux = room.irradiance_w_m2 = 1;
    scene.room = room;
    Lamp& lamp = kit::add_lamp(scene, make_disc_emitter(0.02, nullptr), {0.5, 0.5, 0.7});
    give_body(lamp, {0.5, 0.3, 0.1}, rho);
    const LightField field(scene, kit::flat_importance());
    const double factor = middle_factor(0.5, 0.3, 0.2 + 2e-4);
    const auto m = kit::irradiance(field, {0.5, 0.5, 0.5}, Vec3::UnitZ(), {16, 16384}, 36, 1);
    kit::expect_close(m, 1 - (1 - rho) * factor, 5e-3);
  }
}

// The readings of every replicate, bit for bit.
std::vector<Spectral> direct_of(const Scene& scene, const Vec3& place, const Vec3& facing) {
  const LightField field(scene, kit::flat_importance());
  const auto receiver = fixed_receiver(place.cast<float>(), facing.cast<float>(), 7);
  return gather(field, {receiver}, {{256, 256}}).front().direct;
}

TEST(LampBodyLight, LeavesItsOwnLampsLightToTheFrontAsItIs) {
  using Make = std::unique_ptr<Emitter> (*)();
  const Make kMakes[] = {[] { return make_point_emitter(make_isotropic()); },
                         [] { return make_tube_emitter(0.5, 0.026, nullptr); },
                         [] { return make_tube_emitter(0.5, 0.026, make_trough(1.2)); },
                         [] { return make_disc_emitter(0.1, nullptr); },
                         [] { return make_disc_emitter(0.1, make_cosine_power(0.4)); },
                         [] { return make_rectangle_emitter(0.5, 0.2, nullptr); },
                         [] { return make_sphere_emitter(0.06, nullptr); },
                         [] { return make_sphere_emitter(0.06, make_isotropic()); }};
  for (const Vec3& aim : {Vec3(0, 0, -1), Vec3(0.6, 0, -0.8), Vec3(0, 0, 1)})
    for (const Make make : kMakes) {
      const Vec3 along = aim.unitOrthogonal();
      Scene bare = kit::open_air();
      kit::add_lamp(bare, make(), {0.53, 0.41, 0.77}, 1, aim, along);
      Scene housed = bare;
      give_body(housed.lamps[0], {0.8, 0.5, 0.1}, 0);
      const Lamp& lamp = bare.lamps[0];
      // On the axis, near and far, and as far to the side as the front goes.
      for (const Vec3& local :
           {Vec3(0, 0, 0.05), Vec3(0, 0, 0.3), Vec3(0, 0, 1), Vec3(0.6, 0.2, 0.1), Vec3(0.3, 0.5, 1e-3)}) {
        const Vec3 place = lamp.to_scene(local), facing = (lamp.at - place).normalized();
        const auto a = direct_of(bare, place, facing), b = direct_of(housed, place, facing);
        ASSERT_EQ(a.size(), b.size());
        for (std::size_t i = 0; i < a.size(); ++i)
          EXPECT_TRUE((a[i] == b[i]).all()) << lamp.fixture->emitter->describe() << ", " << local.transpose();
      }
    }
}

TEST(LampBodyLight, StopsWhatItsLampSendsBackwards) {
  Scene scene = kit::open_air();
  Lamp& lamp = kit::add_lamp(scene, make_tube_emitter(0.5, 0.026, nullptr), {0.5, 0.5, 0.5});
  const Vec3 behind(0.5, 0.5, 0.8);
  EXPECT_GT(direct_of(scene, behind, -Vec3::UnitZ())[0].minCoeff(), 0);
  give_body(lamp, {0.6, 0.3, 0.1}, 0);
  for (const Spectral& bins : direct_of(scene, behind, -Vec3::UnitZ())) EXPECT_EQ(bins.maxCoeff(), 0);
}

TEST(LampBodyLight, WhatItsBodyReflectsOfABareLampComesOnTop) {
  // An even ball under a white plate: E(r) = Phi h / (4 pi (r^2 + h^2)^1.5) on the plate, which sends rho E /
  // pi back down; added up here over its squares of 1 mm.
  const double radius = 0.05, h = radius + 2e-4, rho = 0.8, side = 0.6, distance = 0.4;
  Scene scene = kit::open_air();
  Lamp& lamp = kit::add_lamp(scene, make_sphere_emitter(2 * radius, nullptr), {0.5, 0.5, 0.8});
  give_body(lamp, {side, side, 0.1}, rho);
  double expected = 1 / (4 * pi * distance * distance);
  const double d = distance + h, step = 1e-3;
  for (double x = step / 2; x < side / 2; x += step)
    for (double y = step / 2; y < side / 2; y += step) {
      const double r2 = x * x + y * y, on_plate = h / (4 * pi * std::pow(r2 + h * h, 1.5));
      expected += 4 * step * step * rho * on_plate / pi * d * d / ((r2 + d * d) * (r2 + d * d));
    }
  const LightField field(scene, kit::flat_importance());
  const auto m = kit::irradiance(field, {0.5, 0.5, 0.8 - distance}, Vec3::UnitZ(), {4096, 16384});
  kit::expect_close(m, expected, 5e-3);
}

}  // namespace
}  // namespace boughlight
