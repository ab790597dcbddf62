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
  static const Keys kKeys = {{"lamps", false, "factors on the output of lamps, by name"},
                             {"meshes", false, "factors on what meshes let through, by material"}};
  const Fields keys(field, kKeys);
  if (const auto lamps = keys.get("lamps"))
    for (const NamedField& entry : named_fields(*lamps, "a mapping of lamps to factors")) {
      const auto lamp = std::find_if(scene_.lamps.begin(), scene_.lamps.end(),
                                     [&](const Lamp& one) { return one.name == entry.name; });
      if (lamp != scene_.lamps.end()) {
        read_measured_lamp(entry.value, static_cast<std::size_t>(lamp - scene_.lamps.begin()));
        continue;
      }
      std::vector<std::string> names;
      for (const Lamp& one : scene_.lamps) names.push_back(one.name);
      entry.value.fail_at(entry.key_mark,
                          fmt::format("there is no lamp of this name{}", did_you_mean(entry.name, names)));
    }
  if (const auto meshes = keys.get("meshes"))
    for (const NamedField& entry : named_fields(*meshes, "a mapping of meshes to factors")) {
      const auto mesh = std::find_if(
          scene_.materials.begin(), scene_.materials.end(),
          [&](const Material& one) { return one.kind == SurfaceKind::mesh && one.name == entry.name; });
      if (mesh != scene_.materials.end()) {
        read_measured_mesh(entry.value, static_cast<std::size_t>(mesh - scene_.materials.begin()));
        continue;
      }
      std::vector<std::string> names;
      for (const Material& one : scene_.materials)
        if (one.kind == SurfaceKind::mesh) names.push_back(one.name);
      entry.value.fail_at(entry.key_mark, fmt::format("no mesh of this name is in the scene{}",
                                                      did_you_mean(entry.name, names)));
    }
}

void SceneReader::read_measured_lamp(const Field& field, std::size_t index) {
  Lamp& lamp = scene_.lamps[index];
  static const Keys kKeys = {{"factor", true, "times what its fixture gives, or one for each of its parts"},
                             {"spread", false, "the doubt left in it, one standard deviation"}};
  const Fields keys(field, kKeys);
  if (const auto spread = keys.get("spread")) {
    // It was found at the lamp's present age, which is in doubt no more; a survey counts that doubt by
    // itself.
    const double ageing = lamp.burned_h > 0 ? scene_.doubts.ageing : 0;
    if (const auto left = spread->ratio())
      lamp.spread = std::sqrt(std::max(0.0, *left * *left - ageing * ageing));
  }
  const auto factor = keys.get("factor");
  if (!factor || !lamp.fixture) return;
  const Range range = Range::between(kLeastMeasured, kMostMeasured);
  const std::vector<LampPart>& parts = lamp.fixture->parts;
  std::vector<double> factors(parts.size(), 1.0);
  if (factor->is_map()) {
    std::vector<std::string> names;
    for (const LampPart& part : parts) names.push_back(part.name);
    for (const NamedField& entry : named_fields(*factor, "a factor for each part")) {
      const auto at = std::find(names.begin(), names.end(), entry.name);
      if (at == names.end()) {
        entry.value.fail_at(entry.key_mark, fmt::format("'{}' has no part of this name; it has {}",
                                                        lamp.fixture->name, one_of(names)));
        continue;
      }
      factors[static_cast<std::size_t>(at - names.begin())] = entry.value.ratio(range).value_or(1);
    }
  } else {
    std::fill(factors.begin(), factors.end(), factor->ratio(range).value_or(1));
  }
  scale_lamp(lamp, factors);
  extras_.lamps[index].measured_factors = factors;
}

void SceneReader::read_measured_mesh(const Field& field, std::size_t index) {
  Material& mesh = scene_.materials[index];
  static const Keys kKeys = {{"factor", true, "times what one layer lets through"},
                             {"spread", false, "the doubt left in it, one standard deviation"}};
  const Fields keys(field, kKeys);
  if (const auto spread = keys.get("spread")) mesh.spread = spread->ratio();
  const auto factor_field = keys.get("factor");
  const auto factor =
      factor_field ? factor_field->ratio(Range::between(kLeastMeasured, kMostMeasured)) : std::nullopt;
  if (!factor) return;
  const double most = most_measured_factor(mesh);
  if (*factor > most * (1 + 1e-9)) {
    factor_field->fail(fmt::format("is {}; with more than {} more light would leave the mesh than meets it",
                                   factor_field->found(), print_number(std::floor(most * 1e3) / 1e3, 4)));
    return;
  }
  scale_mesh(mesh, *factor);
  extras_.mesh_factors.resize(scene_.materials.size(), 1);
  extras_.mesh_factors[index] = *factor;
}

}  // namespace boughlight
