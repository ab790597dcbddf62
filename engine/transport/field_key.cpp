#include "transport/field_key.h"

namespace boughlight {
namespace {

void add_material(CanonicalBytes& bytes, const Scene& scene, int index) {
  if (index < 0) {
    bytes.add("open");
    return;
  }
  const Material& material = scene.materials[static_cast<std::size_t>(index)];
  bytes.add(material.kind, material.reflectance, material.transmittance, material.index, material.wire,
            material.pitch[0], material.pitch[1], material.flat.has_value(), material.flat.value_or(0),
            material.layers, material.soiling);
}

void add_surfaces(CanonicalBytes& bytes, const Scene& scene) {
  bytes.add("boxes", scene.boxes.size());
  for (const Box& box : scene.boxes) {
    bytes.add(box.corner, box.size);
    for (const int material : box.face) add_material(bytes, scene, material);
  }
  bytes.add("branches", scene.branches.size());
  for (const Branch& branch : scene.branches) {
    bytes.add(branch.path, branch.diameter);
    add_material(bytes, scene, branch.material);
  }
  bytes.add("boards", scene.boards.size());
  for (const Board& board : scene.boards) {
    bytes.add(board.corner, board.edge_u, board.edge_v);
    add_material(bytes, scene, board.material);
  }
  bytes.add("models", scene.models.size());
  for (const Model& model : scene.models) {
    bytes.add(model.shell->vertices());
    bytes.add(model.shell->triangles().size());
    for (const Triangle& triangle : model.shell->triangles())
      bytes.add(triangle[0], triangle[1], triangle[2]);
    add_material(bytes, scene, model.material);
  }
  bytes.add("plants", scene.plants.size());
  for (const Plant& plant : scene.plants) {
    bytes.add(plant.crown_centre, plant.radii, plant.leaf_area, plant.growth, plant.seed, plant.leaf_length,
              plant.leaf_width);
    add_material(bytes, scene, plant.leaf_material);
  }
}

void add_lamps(CanonicalBytes& bytes, const Scene& scene) {
  bytes.add("lamps", scene.lamps.size());
  for (const Lamp& lamp : scene.lamps) {
    bytes.add(lamp.at, lamp.aim, lamp.along);
    lamp.fixture->emitter->identify(bytes);
    const std::optional<LampBody>& body = lamp.fixture->body;
    bytes.add(body.has_value());
    if (body) bytes.add(body->length, body->width, body->height, body->reflectance);
  }
  bytes.add("room", scene.has_room_light());
}

}  // namespace

LightKey field_key(const Scene& scene, const Importance& importance) {
  CanonicalBytes bytes;
  add_surfaces(bytes, scene);
  add_lamps(bytes, scene);
  bytes.add("importance", importance.purposes);
  return key_of(bytes);
}

void share_memory(const LightField& of, const Scene& scene, LightField& field) {
  if (of.memory()) field.remember(of.memory().of(field_key(scene, field.importance())));
}

}  // namespace boughlight
