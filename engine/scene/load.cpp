#include "scene/load.h"

#include <fmt/format.h>

#include "scene/extras.h"
#include "scene/fixture_file.h"
#include "scene/library.h"
#include "scene/materials.h"
#include "scene/months_ahead.h"
#include "scene/ranges.h"
#include "scene/scene_reader.h"
#include "units/sought_files.h"

namespace boughlight {

namespace {

// The unit of bare lengths must be known before the first length is read; mistakes in it are reported later.
std::string length_unit_of(const YamlNode& root) {
  for (const YamlEntry& entry : root.entries) {
    if (entry.key != "length_unit") continue;
    for (const char* unit : {"m", "cm", "mm", "in", "ft"}) {
      if (entry.value.text == unit) return unit;
    }
  }
  return "cm";
}

// All that a scene's file says.
struct WholeScene {
  Scene scene;
  MonthsAhead ahead;
  SceneExtras extras;
};

// `text`: what the file holds, where it is not to be read.
WholeScene read_whole(const std::filesystem::path& file, const std::string* text = nullptr) {
  const SoughtFiles sought;
  Problems problems;
  const auto document = open_document(file, "", problems, text);
  problems.throw_if_any();
  document->length_unit = length_unit_of(document->root);
  SceneReader reader(*document, problems);
  WholeScene whole;
  whole.scene = reader.read();
  whole.ahead = reader.ahead();
  whole.extras = reader.take_extras();
  whole.extras.mesh_factors.resize(whole.scene.materials.size(), 1);
  problems.throw_if_any();
  for (const SoughtFile& found : sought.files()) whole.scene.read_from.push_back(found.file);
  return whole;
}

}  // namespace

Scene load_scene(const std::filesystem::path& file) {
  return read_whole(file).scene;
}

Scene load_scene(const std::filesystem::path& file, const std::string& text) {
  return read_whole(file, &text).scene;
}

SceneAhead load_scene_ahead(const std::filesystem::path& file) {
  WholeScene whole = read_whole(file);
  return {std::move(whole.scene), std::move(whole.ahead)};
}

PlannedScene load_planned_scene(const std::filesystem::path& file) {
  WholeScene whole = read_whole(file);
  return {std::move(whole.scene), std::move(whole.extras)};
}

std::shared_ptr<const Fixture> load_fixture(const std::string& name_or_path,
                                            const std::filesystem::path& relative_to) {
  Problems problems;
  const auto fixture = find_fixture(name_or_path, relative_to, problems, [&](std::string text) {
    problems.add({{}, "", std::move(text)});
  });
  problems.throw_if_any();
  return fixture;
}

Material load_library_material(const std::string& name) {
  Problems problems;
  std::optional<Material> material;
  const std::vector<std::string> names = library_material_names();
  if (std::find(names.begin(), names.end(), name) == names.end()) {
    problems.add(
        {{}, "", fmt::format("there is no material '{}' in the library{}", name, did_you_mean(name, names))});
  } else {
    material = read_library_material(name, problems);
  }
  problems.throw_if_any();
  return *material;
}

std::vector<NamedRange> load_library_ranges() {
  Problems problems;
  std::vector<NamedRange> ranges = read_library_ranges(problems);
  problems.throw_if_any();
  return ranges;
}

std::vector<std::string> library_lamp_names() {
  return names_in_library("lamps");
}
std::vector<std::string> library_material_names() {
  return names_in_library("materials");
}

}  // namespace boughlight
