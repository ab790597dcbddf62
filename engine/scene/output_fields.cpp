// What a lamp's part is scaled by: a reading on the axis, or a flux.

#include <fmt/format.h>

#include <cmath>

#include "scene/fixture_file.h"

namespace boughlight {

namespace {

// A part of more power than this comes of an anchor that its spectrum can hardly give.
constexpr double kMostWatts = 1e5;
constexpr double kLeastWatts = 1e-12;  // but for 0; far less than any meter shows

struct Anchor {
  std::string_view key;
  Quantity quantity;  // whose weighting it is measured by
  bool at_distance;   // a reading on the axis, else a flux in all directions
};
constexpr Anchor kAnchors[] = {
    {"uvi", Quantity::uvi, true},
    {"uvb", Quantity::uvb, true},
    {"uva", Quantity::uva, true},
    {"lux", Quantity::lux, true},
    {"ppfd", Quantity::ppfd, true},
    {"irradiance", Quantity::irradiance, true},
    {"luminous_flux", Quantity::lux, false},
    {"photon_flux", Quantity::ppfd, false},
    {"radiant_flux", Quantity::irradiance, false},
};

// Irradiance on the axis per watt, 1/m2; 0 after a mistake was reported. Sets the distance of the reading.
double axis_response(const Fields& keys, const Anchor& anchor, const Emitter* emitter,
                     std::optional<double>& distance) {
  const auto at = keys.get("at");
  if (!at) {
    keys.whole().fail(
        fmt::format("'at' is missing: the distance on the axis at which {} is read", anchor.key));
    return 0;
  }
  distance = keys.number("at");
  if (!distance || !emitter) return 0;
  const double reach = emitter->extent(Vec3::UnitZ());
  if (*distance <= reach) {
    at->fail(fmt::format("the sensor would be inside the lamp: its surface lies {} cm from its centre",
                         print_number(reach * 100)));
    return 0;
  }
  const double response = emitter->on_axis(*distance);
  if (!(response > 0)) {
    keys.whole().fail(fmt::format(
        "this distribution sends no light along the axis, so {} cannot be read there", anchor.key));
  }
  return response;
}

}  // namespace

std::optional<OutputRead> read_output(const Field& output, const SpectrumPerWatt* per_watt,
                                      const Emitter* emitter) {
  std::vector<std::string> names, read_on_axis;
  for (const Anchor& anchor : kAnchors) {
    names.emplace_back(anchor.key);
    if (anchor.at_distance) read_on_axis.emplace_back(anchor.key);
  }
  const std::size_t before = output.document().problems->count();
  const Fields keys(output, format::output);
  const Anchor* given = nullptr;
  int count = 0;
  for (const Anchor& anchor : kAnchors) {
    if (!keys.has(anchor.key)) continue;
    ++count;
    given = &anchor;
  }
  if (output.document().problems->count() > before) return std::nullopt;
  if (count != 1) {
    output.fail(fmt::format("holds {} of {}; exactly one scales the part",
                            count == 0 ? "none" : "more than one", one_of(names)));
    return std::nullopt;
  }
  const Field value_field = *keys.get(given->key);
  const auto value = keys.number(given->key);
  double response = 1;
  std::optional<double> distance;
  if (given->at_distance) {
    response = axis_response(keys, *given, emitter, distance);
  } else if (const auto at = keys.get("at")) {
    at->fail(fmt::format("goes with {} only, not with {}", one_of(read_on_axis), given->key));
  }
  if (!per_watt || !emitter) return std::nullopt;
  const double per_unit = per_watt->total(given->quantity);
  if (!(per_unit > 0)) {
    value_field.fail(fmt::format("the spectrum holds nothing that counts as {}, so it cannot be scaled by {}",
                                 info(given->quantity).label, given->key));
  }
  if (output.document().problems->count() > before) return std::nullopt;
  const double flux = *value / (per_unit * response);
  if (!std::isfinite(flux) || flux > kMostWatts) {
    value_field.fail(fmt::format("would take {} W of this spectrum; at most {} W are allowed",
                                 print_number(flux), print_number(kMostWatts)));
    return std::nullopt;
  }
  if (flux > 0 && flux < kLeastWatts) {
    value_field.fail(fmt::format("would take {} W of this spectrum; 0 or at least {} W are allowed",
                                 print_number(flux), print_number(kLeastWatts)));
    return std::nullopt;
  }
  return OutputRead{flux, distance};
}

}  // namespace boughlight
