// A scene with everything that the stages of a survey share, for testing them one by one.
#pragma once

#include <algorithm>
#include <cmath>
#include <memory>

#include "assess/setting.h"
#include "scene_kit.h"

namespace boughlight::kit {

// Keeps the scene and the field that a setting points to.
class Stage {
 public:
  explicit Stage(Scene scene)
      : scene_(std::make_unique<Scene>(std::move(scene))),
        field_(std::make_unique<LightField>(*scene_, importance_of(*scene_))),
        setting_(setting_of(*scene_, *field_)) {}
  const Scene& scene() const { return *scene_; }
  const LightField& field() const { return *field_; }
  Setting& setting() { return setting_; }

 private:
  std::unique_ptr<Scene> scene_;
  std::unique_ptr<LightField> field_;
  Setting setting_;
};

// In the ultraviolet: a lamp of such light has a UV index, and nothing to see.
inline constexpr double kUvNm = 302;

// UV index for 1 W/m2 of a lamp's light, its first part.
inline double uvi_per_w_m2(const Lamp& lamp) {
  return lamp.fixture->parts[0].per_watt.total(Quantity::uvi);
}

// Radiant flux of an even point that gives UVI 1 at a metre.
inline double watts_for_uvi_at_a_metre(double uvi) {
  Scene scene;
  const Lamp& lamp =
      add_lamp(scene, make_point_emitter(make_isotropic()), {}, 1, -Vec3::UnitZ(), Vec3::UnitX(), kUvNm);
  return uvi * 4 * 3.14159265358979 / uvi_per_w_m2(lamp);
}

inline Lamp& add_uv_lamp(Scene& scene, std::unique_ptr<Emitter> emitter, const Vec3& at, double watts,
                         const Vec3& aim = -Vec3::UnitZ()) {
  const Vec3 along = std::abs(aim.normalized().x()) < 0.9 ? Vec3::UnitX() : Vec3::UnitY();
  return add_lamp(scene, std::move(emitter), at, watts, aim,
                  (along - along.dot(aim.normalized()) * aim.normalized()).normalized(), kUvNm);
}

// The greatest cosine between a direction and a cube's faces, edges and corners.
inline double greatest_of_26(const Vec3& direction) {
  Vec3 size = direction.normalized().cwiseAbs();
  std::sort(size.data(), size.data() + 3, [](double a, double b) { return a > b; });
  return std::max({size[0], (size[0] + size[1]) / std::sqrt(2.0), size.sum() / std::sqrt(3.0)});
}

// Room light of one wavelength in the visible, W/m2 on a flat sensor in any orientation.
inline void add_room(Scene& scene, double irradiance_w_m2, double wavelength_nm = 550) {
  Room room;
  room.components = {{SpectralLine{wavelength_nm}, 1}};
  room.per_watt = integrate_spectrum(room.components);
  room.irradiance_w_m2 = irradiance_w_m2;
  room.lux = std::max(1.0, irradiance_w_m2 * room.per_watt.total(Quantity::lux));
  scene.room = room;
}

inline Want want(Quantity quantity, std::optional<double> min, std::optional<double> max) {
  return {quantity, {min, max}, {}};
}

}  // namespace boughlight::kit
