// Each lamp by itself, for the page's charts.
#include <cmath>
#include <map>

#include "assess/lamp_sheet.h"
#include "report/json_parts.h"
#include "report/page.h"
#include "report/text.h"

namespace boughlight {
namespace {

constexpr double kFrom_nm = 250, kTo_nm = 800, kStep_nm = 5;

// A lamp's power in each stretch of wavelengths, W, new and at 100 %.
std::vector<double> spectrum(const Fixture& fixture) {
  constexpr auto kCount = static_cast<std::size_t>((kTo_nm - kFrom_nm) / kStep_nm);
  std::vector<double> power(kCount, 0.0);
  for (const LampPart& part : fixture.parts) {
    const std::vector<double> shares = power_in_stretches(part.components, kFrom_nm, kStep_nm, kCount);
    for (std::size_t i = 0; i < kCount; ++i) power[i] += part.radiant_flux_w * shares[i];
  }
  return power;
}

// A weighting function against its own greatest value.
Json weighting_json(Quantity quantity) {
  const Weighting& function = weighting(quantity);
  constexpr double kFine_nm = 1;
  std::vector<double> values;
  double greatest = 0;
  for (double nm = kFrom_nm; nm <= kTo_nm; nm += kFine_nm) {
    values.push_back(function.at(nm));
    greatest = std::max(greatest, values.back());
  }
  for (double& value : values) value /= greatest;
  return {{"label", info(quantity).label}, {"relative", numbers_json(values, "a weighting function")}};
}

// Distances on the axis that are even on a logarithmic scale, m.
std::vector<double> distances() {
  std::vector<double> all;
  constexpr int kPlaces = 25;
  for (int i = 0; i < kPlaces; ++i) all.push_back(0.05 * std::pow(30.0, i / (kPlaces - 1.0)));
  return all;
}

Json on_axis_json(const LampSheet& sheet, const std::string& name) {
  Json list = Json::array();
  for (const AxisReading& at : sheet.on_axis) {
    Json values = Json::array();
    for (const double value : at.reading) values.push_back(six_digits(value, name));
    list.push_back({{"distance", six_digits(at.distance_m, name)}, {"values", std::move(values)}});
  }
  return list;
}

Json whole_json(const PartSheet& whole, const std::string& name) {
  return {{"radiant_w", six_digits(whole.radiant_flux_w, name)},
          {"uvb_w", six_digits(whole.uvb_w, name)},
          {"uva_w", six_digits(whole.uva_w, name)},
          {"visible_w", six_digits(whole.visible_w, name)},
          {"infrared_w", six_digits(whole.infrared_w, name)},
          {"lumens", six_digits(whole.luminous_flux_lm, name)}};
}

}  // namespace

Json page_lamps_json(const Survey& survey) {
  Json json = {{"from_nm", kFrom_nm}, {"step_nm", kStep_nm}, {"lamps", Json::array()}};
  for (const Quantity quantity :
       {Quantity::uvi, Quantity::d3, Quantity::actinic, Quantity::lux, Quantity::ppfd})
    json["weightings"][std::string(info(quantity).name)] = weighting_json(quantity);
  std::map<const Fixture*, LampSheet> sheets;  // lamps of one type share theirs
  for (const Lamp& lamp : survey.scene.lamps) {
    const auto [found, fresh] = sheets.try_emplace(lamp.fixture.get());
    if (fresh) found->second = lamp_sheet(*lamp.fixture, distances());
    const LampSheet& sheet = found->second;
    json["lamps"].push_back({{"spectrum_w", numbers_json(spectrum(*lamp.fixture), lamp.name)},
                             {"on_axis", on_axis_json(sheet, lamp.name)},
                             {"whole", whole_json(sheet.whole, lamp.name)}});
  }
  return json;
}

}  // namespace boughlight
