// The components of a spectrum as written in lamps and for the room.

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "scene/fixture_file.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

double read_weight(const Fields& keys) {
  return keys.has("weight") ? keys.number("weight").value_or(0) : 1;
}

void read_bands(const Fields& spectrum, std::vector<SpectrumComponent>& components) {
  for (const Field& item : spectrum.list("bands")) {
    const Fields keys(item, format::band);
    GaussianBand band;
    band.centre_nm = keys.number("at").value_or(0);
    band.fwhm_nm = keys.number("width").value_or(0);
    band.from_nm = keys.number("from").value_or(0);
    band.to_nm = keys.number("to").value_or(0);
    if (band.from_nm > 0 && band.to_nm > 0 && band.from_nm >= band.to_nm) {
      item.fail(fmt::format("nothing is left between 'from', {} nm, and 'to', {} nm",
                            print_number(band.from_nm, 5), print_number(band.to_nm, 5)));
    }
    components.push_back({band, read_weight(keys)});
  }
}

void read_lines(const Fields& spectrum, std::vector<SpectrumComponent>& components) {
  const Form& line = spectrum.key("lines").form(Form::Kind::list).of.front();
  for (const Field& item : spectrum.list("lines"))
    if (const auto pair = item.numbers(line)) components.push_back({SpectralLine{(*pair)[0]}, (*pair)[1]});
}

void read_blackbody(const Field& field, const Key& key, std::vector<SpectrumComponent>& components) {
  std::optional<Field> temperature = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, format::blackbody);
    temperature = keys.get("temperature");
    weight = read_weight(keys);
  }
  if (!temperature) return;
  const auto kelvin = temperature->number(key.form(Form::Kind::number));
  if (kelvin) components.push_back({Blackbody{*kelvin}, weight});
}

bool gives_power(const Table& table, const Field& field) {
  if (table.x().size() >= 2 &&
      std::any_of(table.y().begin(), table.y().end(), [](double y) { return y > 0; })) {
    return true;
  }
  field.fail("holds no power: at least two wavelengths are needed, and one value above 0");
  return false;
}

void read_table(const Field& field, const Key& key, std::vector<SpectrumComponent>& components) {
  std::optional<Field> entries = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, format::spectrum_table);
    entries = keys.get("points");
    weight = read_weight(keys);
  }
  if (!entries) return;
  auto points = read_points(*entries, key.form(Form::Kind::list));
  if (!points) return;
  Table table(std::move(points->x), std::move(points->y), Between::linear, Beyond::zero);
  if (gives_power(table, *entries)) components.push_back({TabulatedEmission{table}, weight});
}

void read_file(const Field& field, std::vector<SpectrumComponent>& components) {
  std::optional<Field> name = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, format::spectrum_file);
    name = keys.get("name");
    weight = read_weight(keys);
  }
  const auto table = name ? read_emission_file(*name) : std::nullopt;
  if (table && gives_power(*table, *name)) components.push_back({TabulatedEmission{*table}, weight});
}

}  // namespace

std::optional<SpectrumRead> integrate_at(const Field& field, std::vector<SpectrumComponent> components) {
  try {
    SpectrumPerWatt per_watt = integrate_spectrum(components);
    return SpectrumRead{std::move(components), per_watt};
  } catch (const std::invalid_argument& error) {
    field.fail(error.what());
    return std::nullopt;
  }
}

std::optional<SpectrumRead> read_spectrum(const Field& field) {
  const std::size_t before = field.document().problems->count();
  const Fields keys(field, format::spectrum);
  std::vector<SpectrumComponent> components;
  read_bands(keys, components);
  read_lines(keys, components);
  if (const auto blackbody = keys.get("blackbody"))
    read_blackbody(*blackbody, keys.key("blackbody"), components);
  if (const auto table = keys.get("table")) read_table(*table, keys.key("table"), components);
  if (const auto file = keys.get("file")) read_file(*file, components);
  if (field.document().problems->count() > before) return std::nullopt;
  double weights = 0;
  for (const SpectrumComponent& component : components) weights += component.weight;
  if (!(weights > 0)) {
    field.fail("holds no component with a weight above 0: give bands, lines, blackbody, table or file");
    return std::nullopt;
  }
  return integrate_at(field, std::move(components));
}

}  // namespace boughlight
