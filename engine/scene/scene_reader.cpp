#include "scene/scene_reader.h"

#include <fmt/format.h>

#include "scene/library.h"

namespace boughlight {

void SceneReader::NameList::take(const Field& name_field, const std::string& name) {
  const auto [at, fresh] = taken_.emplace(name, name_field);
  if (fresh) return;
  name_field.fail(fmt::format("the name '{}' is used twice: first in line {} ({})", name,
                              at->second.node().line, at->second.path()));
}

std::string SceneReader::item_name(const Fields& keys, NameList& names) {
  const auto field = keys.get("name");
  const auto name = keys.name("name");
  if (name) names.take(*field, *name);
  return name.value_or("");
}

std::optional<Facing> SceneReader::read_facing(const Field& field) {
  if (field.is_scalar()) {
    if (field.node().text == "up") return Facing{};
    if (field.node().text == "brightest") return Facing{true, Vec3::UnitZ()};
    field.fail(fmt::format("is {}{}; {} is allowed", field.found(),
                           did_you_mean(field.node().text, {"brightest", "up"}),
                           one_of({"brightest", "up", "a direction [x, y, z]"})));
    return std::nullopt;
  }
  const auto direction = field.direction(false);
  return direction ? std::optional(Facing{false, *direction}) : std::nullopt;
}

Scene SceneReader::read() {
  const Field top(document_);
  if (!check_version(top, "boughlight", "a scene")) return {};
  const Fields keys(top, format::scene);
  scene_.file = document_.file;
  keys.word("boughlight");
  scene_.title = keys.name("title").value_or("");
  scene_.length_unit = keys.word("length_unit").value_or("cm");
  // Sections in the order in which they need each other.
  const auto section = [&](std::string_view key, void (SceneReader::*reader)(const Field&)) {
    if (const auto field = keys.get(key)) (this->*reader)(*field);
  };
  if (const auto own = keys.get("materials")) materials_.read_own(*own);
  section("enclosure", &SceneReader::read_enclosure);
  section("branches", &SceneReader::read_branches);
  section("boards", &SceneReader::read_boards);
  section("models", &SceneReader::read_models);
  section("animal", &SceneReader::read_animal);
  section("plants", &SceneReader::read_plants);
  section("perches", &SceneReader::read_perches);
  section("points", &SceneReader::read_points);
  section("zones", &SceneReader::read_zones);
  section("lamps", &SceneReader::read_lamps);
  section("room", &SceneReader::read_room);
  section("doubt", &SceneReader::read_doubt);
  section("measured", &SceneReader::read_measured);
  section("air", &SceneReader::read_air);
  section("workplaces", &SceneReader::read_workplaces);
  section("survey", &SceneReader::read_survey);
  section("outlook", &SceneReader::read_ahead);
  check_branches();
  check_perches();
  check_models();
  check_bodies();
  check_emitters();
  check_sensors();
  check_sizes();
  check_reach();
  check_light_ends();
  check_never();
  check_day_wants();
  check_grid(keys.get("survey").value_or(keys.get("enclosure").value_or(top)));
  note_ranges();
  if (scene_.lamps.empty()) scene_.notes.emplace_back("the scene has no lamps");
  return std::move(scene_);
}

}  // namespace boughlight
