// Small scenes built in code, for tests of the rooms above the loader.
#pragma once

#include <memory>
#include <utility>

#include "scene/model.h"

namespace boughlight::kit {

inline Material grey(double reflectance, double transmittance = 0) {
  Material material;
  material.name = "grey";
  material.kind = transmittance > 0 ? SurfaceKind::leaf : SurfaceKind::matte;
  material.reflectance.setConstant(reflectance);
  material.transmittance.setConstant(transmittance);
  return material;
}

inline Material mesh(double wire, double pitch_u, double pitch_v, double reflectance) {
  Material material;
  material.name = "mesh";
  material.kind = SurfaceKind::mesh;
  material.wire = wire;
  material.pitch = {pitch_u, pitch_v};
  material.reflectance.setConstant(reflectance);
  return material;
}

inline Material pane(double transmittance, double index = 1.5) {
  Material material;
  material.name = "pane";
  material.kind = SurfaceKind::pane;
  material.transmittance.setConstant(transmittance);
  material.index = index;
  return material;
}

inline int add_material(Scene& scene, const Material& material) {
  scene.materials.push_back(material);
  return static_cast<int>(scene.materials.size()) - 1;
}

// A box at the origin; every face of one material, or open (-1).
inline Box& add_box(Scene& scene, const Vec3& size, int material) {
  Box box;
  box.name = "box" + std::to_string(scene.boxes.size());
  box.size = size;
  box.face.fill(material);
  scene.boxes.push_back(box);
  return scene.boxes.back();
}

// A cubic metre with open faces.
inline Scene open_air() {
  Scene scene;
  add_box(scene, {1, 1, 1}, -1);
  return scene;
}

inline void set_face(Box& box, Side side, int material) {
  box.face[static_cast<std::size_t>(side)] = material;
}

// A lamp whose one part sends `watts` at one wavelength.
inline Lamp& add_lamp(Scene& scene, std::unique_ptr<Emitter> emitter, const Vec3& at, double watts = 1,
                      const Vec3& aim = -Vec3::UnitZ(), const Vec3& along = Vec3::UnitX(),
                      double wavelength_nm = 550) {
  auto fixture = std::make_shared<Fixture>();
  fixture->name = "test lamp";
  fixture->emitter = std::move(emitter);
  LampPart part;
  part.name = "all";
  part.components = {{SpectralLine{wavelength_nm}, 1}};
  part.per_watt = integrate_spectrum(part.components);
  part.radiant_flux_w = watts;
  part.ageing = Table::constant(1);
  fixture->parts.push_back(part);
  Lamp lamp;
  lamp.name = "lamp " + std::to_string(scene.lamps.size() + 1);
  lamp.fixture = fixture;
  lamp.at = at;
  lamp.aim = aim.normalized();
  lamp.along = along.normalized();
  scene.lamps.push_back(lamp);
  return scene.lamps.back();
}

inline Point& add_point(Scene& scene, const std::string& name, const Vec3& at,
                        const Vec3& facing = Vec3::UnitZ()) {
  Point point;
  point.name = name;
  point.at = at;
  point.facing.direction = facing.normalized();
  scene.points.push_back(point);
  return scene.points.back();
}

inline Plant& add_plant(Scene& scene, const Vec3& centre, const Vec3& radii, double leaf_area,
                        double leaf_length, double leaf_width, int leaf_material) {
  Plant plant;
  plant.name = "bush";
  plant.crown_centre = centre;
  plant.radii = radii;
  plant.leaf_area = leaf_area;
  plant.leaf_length = leaf_length, plant.leaf_width = leaf_width;
  plant.leaf_material = leaf_material;
  scene.plants.push_back(plant);
  return scene.plants.back();
}

}  // namespace boughlight::kit
