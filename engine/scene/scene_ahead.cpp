// The months ahead: how plants and the animal grow and meshes foul.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scene/scene_reader.h"

namespace boughlight {

namespace {

constexpr double kMostMonths = 120, kMostSteps = 120, kMostRate = 5, kMostGrowth = 10;
constexpr double kTallest = 5;       // m, as of the animal itself
constexpr double kMostLeaves = 5e6;  // as of the plants themselves

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

// A share lost each month; all of it would leave nothing to lose.
std::optional<double> fouling_rate(const Field& field) {
  return field.ratio({0, 1, false, true});
}

}  // namespace

void SceneReader::read_ahead(const Field& field) {
  static const Keys kKeys = {{"months", false, "how far to look ahead, 12 if not given"},
                             {"step", false, "months between two looks, 1 if not given"},
                             {"fouling", false, "the share of its light that a mesh loses each month"},
                             {"growing", false, "by plant: how it grows"},
                             {"animal", false, "by month: how large it has grown"}};
  const Fields keys(field, kKeys);
  if (const auto months = keys.get("months"))
    ahead_.months = months->number(Dimension::number, "", Range::above(0, kMostMonths)).value_or(12);
  if (const auto step = keys.get("step")) {
    ahead_.step = step->number(Dimension::number, "", Range::above(0, kMostMonths)).value_or(1);
    if (ahead_.step > ahead_.months) {
      step->fail(fmt::format("is longer than the {} months to look ahead", print_number(ahead_.months)));
    } else if (ahead_.months / ahead_.step > kMostSteps) {
      step->fail(fmt::format("makes {} steps of {} months; at most {} are allowed",
                             print_number(std::ceil(ahead_.months / ahead_.step)),
                             print_number(ahead_.months), print_number(kMostSteps)));
    }
  }
  if (const auto fouling = keys.get("fouling")) read_fouling(*fouling);
  if (const auto growing = keys.get("growing")) read_growing(*growing);
  if (const auto animal = keys.get("animal")) read_animal_ahead(*animal);
}

void SceneReader::read_fouling(const Field& field) {
  ahead_.fouling_given = true;
  if (!field.is_map()) {
    ahead_.fouling = fouling_rate(field).value_or(kUsualFouling);
    return;
  }
  const std::vector<std::string> meshes = meshes_of(scene_);
  for (const NamedField& item : named_fields(field, "a mesh")) {
    if (std::find(meshes.begin(), meshes.end(), item.name) == meshes.end()) {
      item.value.fail_at(item.key_mark, unknown("mesh in use", item.name, meshes));
    } else if (const auto rate = fouling_rate(item.value)) {
      ahead_.fouling_of[item.name] = *rate;
    }
  }
  ahead_.fouling_given = std::all_of(meshes.begin(), meshes.end(), [&](const std::string& mesh) {
    return ahead_.fouling_of.contains(mesh);
  });
}

void SceneReader::read_growing(const Field& field) {
  static const Keys kKeys = {{"form", false, "logistic, gompertz or monomolecular; logistic if not given"},
                             {"rate", true, "how fast it grows, such as 10 % a month"},
                             {"largest", true, "the growth at which the crown stops, 2: twice its radii"}};
  std::vector<std::string> forms;
  for (const GrowthForm form : growth_forms()) forms.emplace_back(growth_form_name(form));
  const std::vector<std::string> plants = names_of(scene_.plants);
  double leaves = leaves_;
  for (const NamedField& item : named_fields(field, "a plant")) {
    const auto plant = std::find_if(scene_.plants.begin(), scene_.plants.end(),
                                    [&](const Plant& p) { return p.name == item.name; });
    if (plant == scene_.plants.end()) {
      item.value.fail_at(item.key_mark, unknown("plant", item.name, plants));
      continue;
    }
    const Fields keys(item.value, kKeys);
    GrowthCurve curve;
    if (const auto form = keys.get("form")) {
      const auto word = form->word(forms);
      if (word)
        curve.form = growth_forms()[static_cast<std::size_t>(std::find(forms.begin(), forms.end(), *word) -
                                                             forms.begin())];
    }
    if (const auto rate = keys.get("rate"))
      curve.rate = rate->ratio(Range::above(0, kMostRate)).value_or(curve.rate);
    if (const auto largest = keys.get("largest")) {
      const auto size = largest->number(Dimension::number, "", Range::above(0, kMostGrowth));
      curve.largest = size.value_or(plant->growth);
      if (size && *size < plant->growth) {
        largest->fail(fmt::format("'{}' has grown further already: its 'growth' is {}", plant->name,
                                  print_number(plant->growth)));
      }
      const double ratio = std::max(1.0, curve.largest / plant->growth);
      const double one = plant->leaf_length * plant->leaf_width;
      if (one > 0) leaves += plant->grown_leaf_area() * (ratio * ratio - 1) / one;
      if (leaves > kMostLeaves) {
        largest->fail(fmt::format("grown so far, all plants together have {} leaves; at most {} are allowed",
                                  print_number(leaves), print_number(kMostLeaves)));
        leaves = leaves_;
      }
    }
    ahead_.growing[item.name] = curve;
  }
}

void SceneReader::read_animal_ahead(const Field& field) {
  static const Keys kKeys = {{"month", true, "from today"},
                             {"back", true, "the height of its back above what it sits on then"},
                             {"body", false, "its length and height then"}};
  if (!scene_.animal) {
    field.fail("says how the animal grows, but the scene has no 'animal'");
    return;
  }
  double last = 0;
  auto body_before = scene_.animal->body;
  for (const Field& item : field.list("a list of sizes by month").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    AnimalAhead size;
    if (const auto month = keys.get("month")) {
      const auto number = month->number(Dimension::number, "", Range::above(0, kMostMonths));
      if (number && *number <= last)
        month->fail(fmt::format("must be later than the one before, {}", print_number(last)));
      size.month = last = std::max(number.value_or(last), last);
    }
    if (const auto back = keys.get("back")) size.back = back->length(Range::between(0, kTallest)).value_or(0);
    size.body = body_before;
    if (const auto body = keys.get("body")) size.body = read_body_size(*body);
    body_before = size.body;
    ahead_.animal.push_back(size);
  }
}

}  // namespace boughlight
