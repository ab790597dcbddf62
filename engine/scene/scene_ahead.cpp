// The months ahead: how plants and the animal grow and meshes foul.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scene/scene_reader.h"

namespace boughlight {

namespace {

constexpr double kMostSteps = 120;

std::vector<std::string> names_of(const std::vector<Plant>& plants) {
  std::vector<std::string> names;
  for (const Plant& plant : plants)
    if (!plant.name.empty()) names.push_back(plant.name);
  return names;
}

// The mesh materials that the scene uses.
std::vector<std::string> meshes_of(const Scene& scene) {
  std::vector<std::string> names;
  for (const Material& material : scene.materials)
    if (material.kind == SurfaceKind::mesh) names.push_back(material.name);
  return names;
}

std::string unknown(const char* kind, const std::string& name, const std::vector<std::string>& names) {
  if (names.empty()) return fmt::format("'{}' is no {}: the scene has none", name, kind);
  return fmt::format("there is no {} '{}'{}; there are {}", kind, name, did_you_mean(name, names),
                     one_of(names));
}

}  // namespace

void SceneReader::read_ahead(const Field& field) {
  const Fields keys(field, format::outlook);
  ahead_.months = keys.number("months").value_or(12);
  ahead_.step = keys.number("step").value_or(std::min(1.0, ahead_.months));
  if (const auto step = keys.get("step")) {
    if (ahead_.step > ahead_.months) {
      step->fail(fmt::format("is longer than the {} months to look ahead", print_number(ahead_.months)));
    } else if (ahead_.months / ahead_.step > kMostSteps) {
      step->fail(fmt::format("makes {} steps of {} months; at most {} are allowed",
                             print_number(std::ceil(ahead_.months / ahead_.step)),
                             print_number(ahead_.months), print_number(kMostSteps)));
    }
  }
  if (keys.has("fouling")) read_fouling(keys);
  if (const auto growing = keys.get("growing")) read_growing(*growing);
  const std::vector<Field> sizes = keys.list("animal");
  if (!scene_.animal && keys.has("animal"))
    keys.get("animal")->fail("says how the animal grows, but the scene has no 'animal'");
  for (const Field& size : sizes) read_animal_ahead(size);
}

void SceneReader::read_fouling(const Fields& keys) {
  const Field field = *keys.get("fouling");
  ahead_.fouling_given = true;
  if (!field.is_map()) {
    ahead_.fouling = keys.number("fouling").value_or(kUsualFouling);
    return;
  }
  const Form& by_mesh = keys.key("fouling").form(Form::Kind::named);
  const std::vector<std::string> meshes = meshes_of(scene_);
  for (const NamedField& item : named_fields(field, by_mesh.what)) {
    if (std::find(meshes.begin(), meshes.end(), item.name) == meshes.end())
      item.value.fail_at(item.key_mark, unknown("mesh in use", item.name, meshes));
    if (const auto rate = item.value.number(by_mesh.of.front())) ahead_.fouling_of[item.name] = *rate;
  }
  ahead_.fouling_given = std::all_of(meshes.begin(), meshes.end(), [&](const std::string& mesh) {
    return ahead_.fouling_of.contains(mesh);
  });
}

void SceneReader::read_growing(const Field& field) {
  const std::vector<std::string> plants = names_of(scene_.plants);
  double leaves = leaves_;
  for (const NamedField& item : named_fields(field, "a mapping of plants to how they grow")) {
    const auto plant = std::find_if(scene_.plants.begin(), scene_.plants.end(),
                                    [&](const Plant& p) { return p.name == item.name; });
    const Fields keys(item.value, format::growing);
    GrowthCurve curve;
    if (const auto word = keys.word("form"))
      for (const GrowthForm form : growth_forms())
        if (growth_form_name(form) == *word) curve.form = form;
    curve.rate = keys.number("rate").value_or(curve.rate);
    const auto largest = keys.number("largest");
    if (plant == scene_.plants.end()) {
      item.value.fail_at(item.key_mark, unknown("plant", item.name, plants));
      continue;
    }
    curve.largest = largest.value_or(plant->growth);
    if (curve.largest < plant->growth)
      keys.get("largest")->fail(fmt::format("'{}' has grown further already: its 'growth' is {}", plant->name,
                                            print_number(plant->growth)));
    const double ratio = std::max(1.0, curve.largest / plant->growth);
    const double one = plant->leaf_length * plant->leaf_width;
    if (one > 0) leaves += plant->grown_leaf_area() * (ratio * ratio - 1) / one;
    if (leaves > kMostLeaves && leaves_ <= kMostLeaves) {
      item.value.fail(fmt::format("grown so far, all plants together have {} leaves; at most {} are allowed",
                                  print_number(leaves), print_number(kMostLeaves)));
      leaves = leaves_;
    }
    ahead_.growing[item.name] = curve;
  }
}

void SceneReader::read_animal_ahead(const Field& item) {
  const Fields keys(item, format::animal_ahead);
  const double last = ahead_.animal.empty() ? 0 : ahead_.animal.back().month;
  AnimalAhead size;
  const auto month = keys.number("month");
  if (month && *month <= last)
    keys.get("month")->fail(fmt::format("must be later than the one before, {}", print_number(last)));
  size.month = std::max(month.value_or(last), last);
  size.back = keys.number("back").value_or(0);
  if (const auto body = keys.get("body")) {
    size.body = read_body_size(*body);
  } else if (!ahead_.animal.empty()) {
    size.body = ahead_.animal.back().body;
  } else if (scene_.animal) {
    size.body = scene_.animal->body;
  }
  ahead_.animal.push_back(size);
}

}  // namespace boughlight
