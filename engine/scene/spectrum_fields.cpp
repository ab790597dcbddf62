// The components of a spectrum as written in lamps and for the room.

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "scene/fixture_file.h"
#include "scene/tables.h"

namespace boughlight {

namespace {

const Range kInBins = Range::between(kFirstNm, kLastNm);
const Range kWeight = Range::at_least(0);
const Key kWeightKey = {"weight", false, "its share of the part's power, 1 if not given"};

double read_weight(const Fields& keys) {
  const auto weight = keys.get("weight");
  return weight ? weight->number(Dimension::number, "", kWeight).value_or(0) : 1;
}

std::optional<double> read_wavelength(const Fields& keys, std::string_view key, const Range& range) {
  const auto field = keys.get(key);
  return field ? field->number(Dimension::wavelength, "", range) : std::nullopt;
}

void read_bands(const Field& field, std::vector<SpectrumComponent>& components) {
  static const Keys kKeys = {{"at", true, "the wavelength of the peak"},
                             {"width", true, "the full width at half the peak"},
                             {"from", false, "where it is cut off below"},
                             {"to", false, "where it is cut off above"},
                             kWeightKey};
  for (const Field& item : field.list("a list of bands").value_or(std::vector<Field>())) {
    const Fields keys(item, kKeys);
    GaussianBand band;
    band.centre_nm = read_wavelength(keys, "at", kInBins).value_or(0);
    band.fwhm_nm = read_wavelength(keys, "width", Range::between(0.1, kLastNm)).value_or(0);
    band.from_nm = read_wavelength(keys, "from", kInBins).value_or(0);
    band.to_nm = read_wavelength(keys, "to", kInBins).value_or(0);
    if (band.from_nm > 0 && band.to_nm > 0 && band.from_nm >= band.to_nm) {
      item.fail(fmt::format("nothing is left between 'from', {} nm, and 'to', {} nm",
                            print_number(band.from_nm, 5), print_number(band.to_nm, 5)));
    }
    components.push_back({band, read_weight(keys)});
  }
}

void read_lines(const Field& field, std::vector<SpectrumComponent>& components) {
  for (const Field& item :
       field.list("a list of lines [wavelength, weight]").value_or(std::vector<Field>())) {
    const auto pair = item.list_of(2, "a line [wavelength, weight]");
    if (!pair) continue;
    const auto at = (*pair)[0].number(Dimension::wavelength, "", kInBins);
    const auto weight = (*pair)[1].number(Dimension::number, "", kWeight);
    if (at && weight) components.push_back({SpectralLine{*at}, *weight});
  }
}

void read_blackbody(const Field& field, std::vector<SpectrumComponent>& components) {
  static const Keys kKeys = {{"temperature", true, "the body's temperature, such as 2900 K"}, kWeightKey};
  std::optional<Field> temperature = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, kKeys);
    temperature = keys.get("temperature");
    weight = read_weight(keys);
  }
  if (!temperature) return;
  const auto kelvin = temperature->number(Dimension::temperature, "", Range::between(200, 30'000));
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

void read_table(const Field& field, std::vector<SpectrumComponent>& components) {
  static const Keys kKeys = {{"points", true, "the entries [wavelength, relative power]"}, kWeightKey};
  std::optional<Field> entries = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, kKeys);
    entries = keys.get("points");
    weight = read_weight(keys);
  }
  if (!entries) return;
  auto points = read_points(*entries, {Dimension::wavelength, Range::above(0, 1e6), Dimension::number,
                                       Range::at_least(0), "[wavelength, relative power]", 2});
  if (!points) return;
  Table table(std::move(points->x), std::move(points->y), Between::linear, Beyond::zero);
  if (gives_power(table, *entries)) components.push_back({TabulatedEmission{table}, weight});
}

void read_file(const Field& field, std::vector<SpectrumComponent>& components) {
  static const Keys kKeys = {{"name", true, "the name of the CSV file"}, kWeightKey};
  std::optional<Field> name = field;
  double weight = 1;
  if (field.is_map()) {
    const Fields keys(field, kKeys);
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
  static const Keys kKeys = {{"bands", false, "Gaussian bands"},
                             {"lines", false, "lines of no width"},
                             {"blackbody", false, "a glowing body of one temperature"},
                             {"table", false, "relative power against wavelength"},
                             {"file", false, "the same in a CSV file"}};
  const std::size_t before = field.document().problems->count();
  const Fields keys(field, kKeys);
  std::vector<SpectrumComponent> components;
  if (const auto bands = keys.get("bands")) read_bands(*bands, components);
  if (const auto lines = keys.get("lines")) read_lines(*lines, components);
  if (const auto blackbody = keys.get("blackbody")) read_blackbody(*blackbody, components);
  if (const auto table = keys.get("table")) read_table(*table, components);
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
