#include "scene/fixture_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "scene/library.h"
#include "scene/load.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

Table read_ageing(const Field& field) {
  auto points = read_points(field, {Dimension::duration, Range::between(0, 1e6), Dimension::ratio,
                                    Range::between(0, 2), "[hours, factor]"});
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
  const auto filament =
      Fields(field, {{"filament", true, "its colour temperature at 100 %, such as 2900 K"}}).get("filament");
  const auto kelvin =
      filament ? filament->number(Dimension::temperature, "", Range::between(1000, 3600)) : std::nullopt;
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
  static const Keys kKeys = {
      {"part", true, "its name, such as ultraviolet, visible or heat"},
      {"spectrum", true,
       "bands, lines, blackbody, table or file; where nobody declares one, a likely one with "
       "'spectrum_basis: "
       "guessed'"},
      {"spectrum_basis", false, "declared (by the maker; the default), measured or guessed"},
      {"output", true, "what it is scaled by, such as {uvi: 4.0, at: 30 cm}"},
      {"ageing", false, "entries [hours, factor]"},
      {"dimming", false, "even (the default), or {filament: 2900 K}: its light reddens"}};
  const Fields keys(field, kKeys);
  LampPart part;
  if (const auto name = keys.get("part")) part.name = name->name().value_or("");
  part.ageing = Table::constant(1);
  if (const auto ageing = keys.get("ageing")) part.ageing = read_ageing(*ageing);
  const auto spectrum_field = keys.get("spectrum"), output = keys.get("output");
  const auto spectrum = spectrum_field ? read_spectrum(*spectrum_field) : std::nullopt;
  if (spectrum) {
    part.components = spectrum->components;
    part.per_watt = spectrum->per_watt;
  }
  if (const auto basis = keys.get("spectrum_basis")) {
    part.guessed = basis->word({"declared", "measured", "guessed"}) == "guessed";
  }
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

}  // namespace

std::shared_ptr<const Fixture> read_fixture_file(const std::filesystem::path& file, const std::string& name,
                                                 bool of_library, Problems& problems) {
  const auto document = open_document(file, "", problems);
  if (!document) return nullptr;
  const Field top(*document);
  if (!check_version(top, "fixture", "a lamp")) return nullptr;
  const std::size_t before = problems.count();
  const Fields keys(top, {{"fixture", true, "the version of the format: 1"},
                          {"title", of_library, "what it is, for people"},
                          {"emitter", true, "the shape that radiates"},
                          {"distribution", false, "the directions in which it radiates"},
                          {"emission", true, "the parts of its light"},
                          {"body", false, "the housing behind the emitter, where it is to stop light"},
                          {"power", false, "electrical, such as 24 W"},
                          {"spread", false, "how much lamps of this type differ, one standard deviation"},
                          {"source", of_library, "where the figures come from"}});
  auto fixture = std::make_shared<Fixture>();
  fixture->name = name;
  fixture->file = file.string();
  if (const auto version = keys.get("fixture")) version->word({"1"});
  if (const auto title = keys.get("title")) fixture->title = title->name("a title", 200).value_or("");
  if (const auto source = keys.get("source")) fixture->source = source->text("a source").value_or("");
  if (const auto power = keys.get("power")) {
    fixture->power_w = power->number(Dimension::power, "", Range::between(0, 1e5));
  }
  if (const auto spread = keys.get("spread")) fixture->spread = spread->ratio();
  if (const auto shape = keys.get("emitter")) {
    if (auto read = read_emitter(*shape, keys.get("distribution"))) {
      fixture->emitter = std::move(read->emitter);
      fixture->distribution = std::move(read->distribution);
    }
  }
  if (const auto body = keys.get("body")) fixture->body = read_body(*body);
  if (const auto emission = keys.get("emission")) read_emission(*emission, *fixture);
  return problems.count() == before ? fixture : nullptr;
}

std::shared_ptr<const Fixture> find_fixture(const std::string& name, const std::filesystem::path& folder,
                                            Problems& problems,
                                            const std::function<void(std::string)>& fail_name) {
  const bool is_path =
      name.find('/') != std::string::npos || name.ends_with(".yaml") || name.ends_with(".yml");
  if (is_path) {
    const std::filesystem::path path = (folder / name).lexically_normal();
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
