#include "scene/fixture_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "scene/library_cache.h"
#include "scene/load.h"
#include "scene/tables.h"
#include "units/sought_files.h"

namespace boughlight {

namespace {

Table read_ageing(const Field& field, const Key& key) {
  auto points = read_points(field, key.form(Form::Kind::list));
  if (!points) return Table::constant(1);
  return Table(std::move(points->x), std::move(points->y), Between::linear, Beyond::hold);
}

// The colour temperature of a filament; nothing where the part dims evenly, or after a mistake was reported.
std::optional<double> read_dimming(const Field& field, const LampPart& part) {
  if (!field.is_map()) {
    if (const auto word = field.text("even or {filament: 2900 K}"); word && *word != "even")
      field.fail(fmt::format("is '{}'; even or {{filament: 2900 K}} is allowed", *word));
    return std::nullopt;
  }
  const auto kelvin = Fields(field, format::filament).number("filament");
  const auto cools = [](const SpectrumComponent& component) {
    return std::holds_alternative<Blackbody>(component.shape) ||
           std::holds_alternative<TabulatedEmission>(component.shape);
  };
  if (kelvin && !part.components.empty() &&
      !(part.components.size() == 1 && cools(part.components.front()))) {
    field.fail("a filament's light is one blackbody, table or file");
    return std::nullopt;
  }
  return kelvin;
}

// One part of the light. Its output needs the emitter, which is null after a mistake.
LampPart read_part(const Field& field, const Emitter* emitter) {
  const Fields keys(field, format::part);
  LampPart part;
  part.name = keys.name("part").value_or("");
  part.ageing = Table::constant(1);
  if (const auto ageing = keys.get("ageing")) part.ageing = read_ageing(*ageing, keys.key("ageing"));
  const auto spectrum_field = keys.get("spectrum"), output = keys.get("output");
  const auto spectrum = spectrum_field ? read_spectrum(*spectrum_field) : std::nullopt;
  if (spectrum) {
    part.components = spectrum->components;
    part.per_watt = spectrum->per_watt;
  }
  part.guessed = keys.word("spectrum_basis") == "guessed";
  if (const auto dimming = keys.get("dimming")) part.filament_k = read_dimming(*dimming, part);
  if (output) {
    const auto read = read_output(*output, spectrum ? &part.per_watt : nullptr, emitter);
    part.radiant_flux_w = read ? read->radiant_flux_w : 0;
    part.anchor_m = read ? read->anchor_m : std::nullopt;
  }
  return part;
}

void read_emission(const Field& field, Fixture& fixture) {
  const auto parts = field.list("a list of parts");
  if (!parts) return;
  if (parts->empty()) field.fail("holds no part: at least one is needed");
  std::map<std::string, int> lines;
  for (const Field& item : *parts) {
    LampPart part = read_part(item, fixture.emitter.get());
    const auto [at, fresh] = lines.emplace(part.name, item.node().line);
    if (!fresh && !part.name.empty()) {
      item.fail(fmt::format("the name '{}' is used twice: first in line {}", part.name, at->second));
    }
    fixture.parts.push_back(std::move(part));
  }
}

// Null after a mistake was reported.
std::shared_ptr<const Fixture> read_fixture(const Document& document, const std::string& name,
                                            bool of_library) {
  const Field top(document);
  if (!check_version(top, "fixture", "a lamp")) return nullptr;
  const std::size_t before = document.problems->count();
  const Fields keys(
      top, format::fixture,
      of_library ? std::vector<std::string_view>{"title", "source"} : std::vector<std::string_view>{});
  auto fixture = std::make_shared<Fixture>();
  fixture->name = name;
  fixture->file = document.file;
  keys.word("fixture");
  fixture->title = keys.name("title").value_or("");
  fixture->source = keys.text("source").value_or("");
  fixture->power_w = keys.number("power");
  fixture->spread = keys.number("spread");
  if (const auto shape = keys.get("emitter")) {
    if (auto read = read_emitter(*shape, keys.get("distribution"))) {
      fixture->emitter = std::move(read->emitter);
      fixture->distribution = std::move(read->distribution);
    }
  }
  if (const auto body = keys.get("body")) fixture->body = read_body(*body);
  if (const auto emission = keys.get("emission")) read_emission(*emission, *fixture);
  return document.problems->count() == before ? fixture : nullptr;
}

}  // namespace

std::shared_ptr<const Fixture> read_fixture_file(const std::filesystem::path& file, const std::string& name,
                                                 bool of_library, Problems& problems) {
  if (!of_library) {
    const auto document = open_document(file, "", problems);
    return document ? read_fixture(*document, name, of_library) : nullptr;
  }
  using FixtureRead = std::shared_ptr<const Fixture>;
  static LibraryCache<FixtureRead> known;
  return known
      .get(file, problems,
           [&](const Document& document) -> std::optional<FixtureRead> {
             const FixtureRead fixture = read_fixture(document, name, of_library);
             return fixture ? std::optional(fixture) : std::nullopt;
           })
      .value_or(nullptr);
}

std::shared_ptr<const Fixture> find_fixture(const std::string& name, const std::filesystem::path& folder,
                                            Problems& problems,
                                            const std::function<void(std::string)>& fail_name) {
  const bool is_path =
      name.find('/') != std::string::npos || name.ends_with(".yaml") || name.ends_with(".yml");
  if (is_path) {
    const std::filesystem::path path = (folder / name).lexically_normal();
    SoughtFiles::note(path);
    std::error_code error;
    if (!std::filesystem::exists(path, error)) {
      fail_name(fmt::format("there is no file '{}'", path.string()));
      return nullptr;
    }
    return read_fixture_file(path, name, false, problems);
  }
  const std::vector<std::string> names = library_lamp_names();
  if (std::find(names.begin(), names.end(), name) == names.end()) {
    fail_name(
        fmt::format("there is no lamp '{}' in the library{}; 'boughlight library' lists them, and a file of "
                    "your own is named with its .yaml ending",
                    name, did_you_mean(name, names)));
    return nullptr;
  }
  return read_fixture_file(library_file("lamps", name), name, true, problems);
}

}  // namespace boughlight
