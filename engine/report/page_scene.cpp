// What stands in and around the enclosure, for the page's drawings.
#include <algorithm>
#include <cmath>

#include "assess/facts.h"
#include "geometry/foliage.h"
#include "report/json_parts.h"
#include "report/map_signs.h"
#include "report/packed.h"
#include "report/page.h"
#include "report/text.h"
#include "scene/enclosure.h"

namespace boughlight {
namespace {

std::string material_name(const Scene& scene, int material) {
  return material < 0 ? "open" : scene.materials[static_cast<std::size_t>(material)].name;
}

std::string material_kind(const Scene& scene, int material) {
  return material < 0
             ? "open"
             : std::string(surface_kind_name(scene.materials[static_cast<std::size_t>(material)].kind));
}

Json faces_json(const Scene& scene) {
  Json faces = Json::array();
  for (const FacePart& face : outer_faces(scene.boxes))
    faces.push_back({{"box", face.box},
                     {"side", side_name(face.side)},
                     {"material", material_name(scene, face.material)},
                     {"kind", material_kind(scene, face.material)},
                     {"corner", place_json(face.corner, "a place")},
                     {"edges", {place_json(face.edge_u, "a place"), place_json(face.edge_v, "a place")}}});
  return faces;
}

Json leaves_json(const Scene& scene, const Plant& plant) {
  // Leaf i depends on the seed and i alone, so the first ones are a fair picture of all.
  constexpr std::size_t kMostLeaves = 2500;
  std::vector<Leaf> leaves = grow_leaves(scene, plant);
  if (leaves.size() > kMostLeaves) leaves.resize(kMostLeaves);
  std::vector<float> corners;
  float low = 0, high = 0;
  for (const Leaf& leaf : leaves)
    for (const Vec3& v : {Vec3(leaf.centre - plant.crown_centre), leaf.half_length, leaf.half_width})
      for (const double c : v) {
        corners.push_back(static_cast<float>(c));
        low = std::min(low, corners.back()), high = std::max(high, corners.back());
      }
  return {
      {"count", leaves.size()}, {"low", low}, {"high", high}, {"shares", packed_shares(corners, low, high)}};
}

Json plants_json(const Scene& scene) {
  Json plants = Json::array();
  for (const Plant& plant : scene.plants)
    plants.push_back({{"name", plant.name},
                      {"at", place_json(plant.crown_centre, "a place")},
                      {"radii", place_json(plant.grown_radii(), "a place")},
                      {"leaves", leaves_json(scene, plant)}});
  return plants;
}

Json outline_json(const Lamp& lamp, View view) {
  Json outline = Json::array();
  for (const Spot& corner : lamp_outline(lamp, view))
    outline.push_back({six_digits(corner.x, lamp.name), six_digits(corner.y, lamp.name)});
  return outline;
}

Json drawn_lamp_json(const Scene& scene, const Lamp& lamp) {
  const Emitter& emitter = *lamp.fixture->emitter;
  const std::string emitter_text = emitter.describe();
  const auto gap = gap_above_enclosure(scene, lamp);
  return {{"name", lamp.name},
          {"title", lamp.fixture->title},
          {"fixture", lamp.fixture->name},
          {"emitter", emitter_text},
          {"shape", emitter_text.substr(0, emitter_text.find(','))},
          {"distribution", lamp.fixture->distribution},
          {"source", lamp.fixture->source},
          {"power_w", lamp.fixture->power_w ? Json(*lamp.fixture->power_w) : Json()},
          {"at", place_json(lamp.at, "a place")},
          {"aim", place_json(lamp.aim, "a place")},
          {"along", place_json(lamp.along, "a place")},
          {"half_size",
           {emitter.extent(Vec3::UnitX()), emitter.extent(Vec3::UnitY()), emitter.extent(Vec3::UnitZ())}},
          {"lowest_z", six_digits(lowest_point_z(lamp), lamp.name)},
          {"gap", gap ? Json(six_digits(*gap, lamp.name)) : Json()},
          {"dim", lamp.dim},
          {"burned_h", lamp.burned_h},
          {"outlines",
           {{"plan", outline_json(lamp, View::plan)},
            {"front", outline_json(lamp, View::front)},
            {"side", outline_json(lamp, View::side)}}}};
}

}  // namespace

Json page_scene_json(const Survey& survey) {
  const Scene& scene = survey.scene;
  Json json = {{"length_unit", scene.length_unit}, {"leaf_count", survey.leaf_count}};
  for (const char* list : {"boxes", "branches", "boards", "perches", "lamps"}) json[list] = Json::array();
  for (const Box& box : scene.boxes)
    json["boxes"].push_back({{"name", box.name},
                             {"corner", place_json(box.corner, "a place")},
                             {"size", place_json(box.size, "a place")}});
  json["faces"] = faces_json(scene);
  for (const Branch& branch : scene.branches) {
    Json path = Json::array();
    for (const Vec3& place : branch.path) path.push_back(place_json(place, "a place"));
    json["branches"].push_back(
        {{"name", branch.name}, {"path", std::move(path)}, {"diameter", branch.diameter}});
  }
  for (const Board& board : scene.boards)
    json["boards"].push_back(
        {{"name", board.name},
         {"corner", place_json(board.corner, "a place")},
         {"edges", {place_json(board.edge_u, "a place"), place_json(board.edge_v, "a place")}}});
  json["plants"] = plants_json(scene);
  for (const Perch& perch : scene.perches)
    json["perches"].push_back({{"name", perch.name}, {"at", place_json(perch.at, "a place")}});
  for (const Lamp& lamp : scene.lamps) json["lamps"].push_back(drawn_lamp_json(scene, lamp));
  if (scene.animal) {
    const Animal& animal = *scene.animal;
    Json& out = json["animal"] = {{"back", animal.back}, {"reach", animal.reach}};
    if (animal.body) out["body"] = {animal.body->first, animal.body->second};
    const auto put_wants = [&](const char* key, const std::vector<Want>& wants) {
      Json list = Json::array();
      for (const Want& want : wants) {
        Json one = {{"quantity", info(want.quantity).name}};
        if (want.limits.min) one["min"] = *want.limits.min;
        if (want.limits.max) one["max"] = *want.limits.max;
        list.push_back(std::move(one));
      }
      if (!list.empty()) out[key] = std::move(list);
    };
    put_wants("basking", animal.basking);
    put_wants("refuge", animal.refuge);
    put_wants("never", animal.never);
  }
  return json;
}

}  // namespace boughlight
