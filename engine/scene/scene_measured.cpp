// What a meter found of lamps and meshes.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scene/measured.h"
#include "scene/scene_reader.h"

namespace boughlight {

double most_measured_factor(const Material& mesh) {
  const double straight = mesh.flat.value_or(std::max(0.0, 1 - mesh.wire / mesh.pitch[0]) *
                                             std::max(0.0, 1 - mesh.wire / mesh.pitch[1]));
  if (!(straight > 0)) return kMostMeasured;
  const double scattered = mesh.flat ? 0 : (1 - straight) * mesh.reflectance.maxCoeff();
  return std::pow((1 - scattered) / (straight * mesh.soiling), 1.0 / mesh.layers);
}

void scale_mesh(Material& mesh, double factor) {
  // Dirt counts once, whatever the layers.
  mesh.soiling *= std::pow(factor, mesh.layers);
}

void scale_lamp(Lamp& lamp, const std::vector<double>& factors) {
  auto fixture = std::make_shared<Fixture>(*lamp.fixture);
  for (std::size_t i = 0; i < fixture->parts.size(); ++i) fixture->parts[i].radiant_flux_w *= factors[i];
  lamp.fixture = fixture;
}

void SceneReader::read_measured(const Field& field) {
  const Fields keys(field, format::measured);
  if (const auto lamps = keys.get("lamps"))
    for (const NamedField& entry : named_fields(*lamps, "a mapping of lamps to factors"))
      read_measured_lamp(entry);
  if (const auto meshes = keys.get("meshes"))
    for (const NamedField& entry : named_fields(*meshes, "a mapping of meshes to factors"))
      read_measured_mesh(entry);
}

void SceneReader::read_measured_lamp(const NamedField& entry) {
  // All is read, also of a lamp that is not there, so that all mistakes are told.
  const Fields keys(entry.value, format::measured_lamp);
  const std::optional<double> spread = keys.number("spread");
  const auto factor = keys.get("factor");
  std::optional<double> whole;
  std::vector<std::pair<const NamedField*, std::optional<double>>> by_part;
  std::vector<NamedField> parts;
  if (factor && factor->is_map()) {
    parts = named_fields(*factor, "a factor for each part");
    const Form& form = keys.key("factor").form(Form::Kind::named).of.front();
    for (const NamedField& part : parts) by_part.emplace_back(&part, part.value.number(form));
  } else if (factor) {
    whole = keys.number("factor");
  }

  const auto lamp = std::find_if(scene_.lamps.begin(), scene_.lamps.end(),
                                 [&](const Lamp& one) { return one.name == entry.name; });
  if (lamp == scene_.lamps.end()) {
    std::vector<std::string> names;
    for (const Lamp& one : scene_.lamps) names.push_back(one.name);
    entry.value.fail_at(entry.key_mark,
                        fmt::format("there is no lamp of this name{}", did_you_mean(entry.name, names)));
    return;
  }
  // It was found at the lamp's present age, which is in doubt no more; a survey counts that doubt by itself.
  const double ageing = lamp->burned_h > 0 ? scene_.doubts.ageing : 0;
  if (spread) lamp->spread = std::sqrt(std::max(0.0, *spread * *spread - ageing * ageing));
  if (!factor || !lamp->fixture) return;
  std::vector<std::string> names;
  for (const LampPart& part : lamp->fixture->parts) names.push_back(part.name);
  std::vector<double> factors(names.size(), whole.value_or(1));
  for (const auto& [part, value] : by_part) {
    const auto at = std::find(names.begin(), names.end(), part->name);
    if (at == names.end()) {
      part->value.fail_at(part->key_mark, fmt::format("'{}' has no part of this name; it has {}",
                                                      lamp->fixture->name, one_of(names)));
    } else {
      factors[static_cast<std::size_t>(at - names.begin())] = value.value_or(1);
    }
  }
  scale_lamp(*lamp, factors);
  extras_.lamps[static_cast<std::size_t>(lamp - scene_.lamps.begin())].measured_factors = factors;
}

void SceneReader::read_measured_mesh(const NamedField& entry) {
  const Fields keys(entry.value, format::measured_mesh);
  const std::optional<double> spread = keys.number("spread"), factor = keys.number("factor");
  const auto mesh = std::find_if(scene_.materials.begin(), scene_.materials.end(), [&](const Material& one) {
    return one.kind == SurfaceKind::mesh && one.name == entry.name;
  });
  if (mesh == scene_.materials.end()) {
    std::vector<std::string> names;
    for (const Material& one : scene_.materials)
      if (one.kind == SurfaceKind::mesh) names.push_back(one.name);
    entry.value.fail_at(entry.key_mark, fmt::format("no mesh of this name is in the scene{}",
                                                    did_you_mean(entry.name, names)));
    return;
  }
  if (spread) mesh->spread = *spread;
  if (!factor) return;
  const double most = most_measured_factor(*mesh);
  if (*factor > most * (1 + 1e-9)) {
    const Field field = *keys.get("factor");
    field.fail(fmt::format("is {}; with more than {} more light would leave the mesh than meets it",
                           field.found(), print_number(std::floor(most * 1e3) / 1e3, 4)));
    return;
  }
  scale_mesh(*mesh, *factor);
  extras_.mesh_factors.resize(scene_.materials.size(), 1);
  extras_.mesh_factors[static_cast<std::size_t>(mesh - scene_.materials.begin())] = *factor;
}

}  // namespace boughlight
