// The animal: its size and sizes to come, what it asks for, and how it gets about.

#include <fmt/format.h>

#include <set>

#include "scene/ranges.h"
#include "scene/scene_reader.h"

namespace boughlight {

namespace {

// Nothing after a mistake. A body that fits nowhere is a slip of the unit.
std::optional<std::pair<double, double>> read_body(const Field& field, const Scene& scene) {
  const Fields keys(field, format::body);
  const auto length = keys.number("length"), height = keys.number("height");
  if (!length || !height) return std::nullopt;
  Eigen::AlignedBox3d all;
  for (const Box& box : scene.boxes) all.extend(box.corner), all.extend(box.far_corner());
  if (!all.isEmpty() && *length > all.diagonal().norm()) {
    keys.get("length")->fail(
        fmt::format("a body of {} cm fits nowhere: the enclosure is {} cm from corner to corner",
                    print_number(*length * 100), print_number(all.diagonal().norm() * 100)));
    return std::nullopt;
  }
  return std::pair(*length, *height);
}

}  // namespace

void SceneReader::read_animal(const Field& field) {
  const Fields keys(field, format::animal);
  Animal animal;
  animal.back = keys.number("back").value_or(0);
  if (const auto body = keys.get("body")) animal.body = read_body(*body, scene_);
  for (const Field& item : keys.list("sizes")) read_size(item, animal);
  const auto wants = [&](std::string_view key, WantRules rules) {
    const auto limits = keys.get(key);
    return limits ? read_wants(*limits, rules, day_wants_) : std::vector<Want>();
  };
  animal.basking = wants("basking", WantRules::instant);
  animal.refuge = wants("refuge", WantRules::instant);
  animal.never = wants("never", WantRules::never);
  if (keys.has("reach")) {
    animal.reach = keys.number("reach").value_or(0);
    animal.reach_given = true;
  } else {
    scene_.notes.emplace_back(
        "animal.reach is not given, so places right up to the mesh and the lamps count as reachable");
  }
  animal.stride = keys.number("stride");
  scene_.animal = std::move(animal);
}

void SceneReader::read_size(const Field& item, Animal& animal) {
  const Fields keys(item, format::animal_size);
  AnimalSize size;
  size.name = item_name(keys, size_names_);
  const auto back = keys.number("back");
  size.back = back.value_or(0);
  if (const auto body = keys.get("body")) size.body = read_body(*body, scene_);
  if (back && size.back == animal.back && size.body == animal.body)
    item.fail(
        fmt::format("the size '{}' is the animal as it is declared: give it another 'back' or 'body', "
                    "or leave it out",
                    size.name));
  animal.sizes.push_back(std::move(size));
}

void SceneReader::check_sizes() {
  if (!scene_.animal) return;
  for (const AnimalSize& size : scene_.animal->sizes) {
    if (scene_.perches.empty())
      scene_.notes.push_back(
          fmt::format("the size '{}' is read at the perches, and the scene has none", size.name));
    for (const Perch& perch : scene_.perches)
      if (!scene_.boxes.empty() && scene_.inside(perch.at) &&
          !scene_.inside(perch.at + Vec3(0, 0, size.back)))
        scene_.notes.push_back(
            fmt::format("on perch '{}' the back of the size '{}', {} cm above it, is outside the enclosure",
                        perch.name, size.name, print_number(size.back * 100)));
  }
}

void SceneReader::note_ranges() {
  std::set<std::string> used;
  const auto collect = [&](const std::vector<Want>& wants) {
    for (const Want& want : wants)
      if (!want.range.empty()) used.insert(want.range);
  };
  for (const Perch& perch : scene_.perches) collect(perch.wants);
  for (const Plant& plant : scene_.plants) collect(plant.needs);
  for (const Point& point : scene_.points) collect(point.wants);
  if (scene_.animal)
    for (const auto* wants : {&scene_.animal->basking, &scene_.animal->refuge, &scene_.animal->never})
      collect(*wants);
  if (used.empty()) return;
  for (const NamedRange& range : read_library_ranges(problems_))
    if (used.contains(range.name)) scene_.notes.push_back(range_note(range));
}

}  // namespace boughlight
