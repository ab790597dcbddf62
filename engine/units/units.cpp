#include "units/units.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "units/ascii.h"
#include "units/problem.h"

namespace boughlight {

namespace {

// One spelling of a unit: value in base units = (value + shift) x times / over. Two factors, since dividing
// by 100 rounds "70 cm" to the nearest double and multiplying by 0.01 does not.
struct Unit {
  std::string_view name;
  double times = 1;
  double over = 1;
  double shift = 0;
};

struct Units {
  std::string_view noun;  // "lengths take m, cm, ..."
  std::vector<Unit> units;
};

// International inch, foot (exact by definition) and foot-candle (lumen per square foot).
constexpr double kInch = 0.0254, kFoot = 0.3048;

const Units& units_of(Dimension dimension) {
  static const Units number{"plain numbers", {}};
  static const Units ratio{"ratios", {{"%", 1, 100}}};
  static const Units length{"lengths",
                            {{"m"},
                             {"cm", 1, 100},
                             {"mm", 1, 1000},
                             {"um", 1, 1e6},
                             {"in", kInch},
                             {"inch", kInch},
                             {"ft", kFoot}}};
  static const Units area{
      "areas", {{"m2"}, {"cm2", 1, 1e4}, {"mm2", 1, 1e6}, {"in2", kInch * kInch}, {"ft2", kFoot * kFoot}}};
  static const Units wavelength{"wavelengths", {{"nm"}, {"um", 1000}}};
  static const Units angle{"angles", {{"rad"}, {"deg", std::numbers::pi, 180}}};
  static const Units duration{"durations", {{"h"}, {"min", 1, 60}, {"d", 24}, {"s", 1, 3600}}};
  // F: (f + 459.67) x 5 / 9.
  static const Units temperature{"temperatures", {{"K"}, {"C", 1, 1, 273.15}, {"F", 5, 9, 459.67}}};
  static const Units air_temperature{"air temperatures", {{"C"}, {"F", 5, 9, -32}}};
  static const Units power{"powers", {{"W"}, {"mW", 1, 1000}, {"uW", 1, 1e6}}};
  static const Units irradiance{
      "irradiances",
      {{"W/m2"}, {"mW/m2", 1, 1000}, {"uW/m2", 1, 1e6}, {"mW/cm2", 10}, {"uW/cm2", 1, 100}, {"W/cm2", 1e4}}};
  static const Units illuminance{"illuminances", {{"lx"}, {"lux"}, {"klx", 1000}, {"fc", 1, kFoot * kFoot}}};
  static const Units photon_flux_density{"photon flux densities",
                                         {{"umol/(m2 s)"}, {"umol/m2/s"}, {"umol m-2 s-1"}}};
  static const Units photon_dose{"photon doses", {{"mol/(m2 d)"}, {"mol/m2/d"}, {"mol m-2 d-1"}}};
  static const Units radiant_exposure{
      "radiant exposures",
      {{"kWh/m2"}, {"Wh/m2", 1, 1000}, {"MJ/m2", 10, 36}, {"kJ/m2", 1, 3600}, {"J/m2", 1, 3.6e6}}};
  static const Units luminous_flux{"luminous fluxes", {{"lm"}, {"klm", 1000}}};
  static const Units photon_flux{"photon fluxes", {{"umol/s"}}};
  static const Units speed{"speeds", {{"m/s"}}};
  switch (dimension) {
    case Dimension::number:
      return number;
    case Dimension::ratio:
      return ratio;
    case Dimension::length:
      return length;
    case Dimension::area:
      return area;
    case Dimension::wavelength:
      return wavelength;
    case Dimension::angle:
      return angle;
    case Dimension::duration:
      return duration;
    case Dimension::temperature:
      return temperature;
    case Dimension::air_temperature:
      return air_temperature;
    case Dimension::power:
      return power;
    case Dimension::irradiance:
      return irradiance;
    case Dimension::illuminance:
      return illuminance;
    case Dimension::photon_flux_density:
      return photon_flux_density;
    case Dimension::photon_dose:
      return photon_dose;
    case Dimension::radiant_exposure:
      return radiant_exposure;
    case Dimension::luminous_flux:
      return luminous_flux;
    case Dimension::photon_flux:
      return photon_flux;
    case Dimension::speed:
      return speed;
  }
  throw std::logic_error("units_of: no such dimension");
}

const Unit* find_unit(std::string_view name, Dimension dimension) {
  for (const Unit& unit : units_of(dimension).units) {
    if (unit.name == name) return &unit;
  }
  return nullptr;
}

// Ends cut off, runs of blanks made one, and the signs that keyboards and data sheets use for u, powers,
// factors and degrees turned into plain letters.
std::string tidy(std::string_view text) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 10> kSigns = {{
      {"\xC2\xB5", "u"},               // micro sign
      {"\xCE\xBC", "u"},               // Greek mu
      {"\xC2\xB2", "2"},               // superscript two
      {"\xE2\x81\xBB\xC2\xB9", "-1"},  // superscript minus one
      {"\xE2\x81\xBB", "-"},           // superscript minus, before a superscript two
      {"\xE2\x88\x92", "-"},           // minus sign
      {"\xC2\xB0", "deg"},             // degree sign
      {"\xC2\xA0", " "},               // no-break space
      {"\xC2\xB7", " "},               // middle dot, between the factors of a unit
      {"\xE2\x8B\x85", " "},           // the same as mathematicians write it
  }};
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto* sign = std::find_if(kSigns.begin(), kSigns.end(),
                                    [&](const auto& s) { return text.substr(i).starts_with(s.first); });
    std::string_view piece = sign != kSigns.end() ? sign->second : text.substr(i, 1);
    i += sign != kSigns.end() ? sign->first.size() : 1;
    const bool power = piece == "^" && !out.empty() && is_letter(out.back());  // "cm^2"; never "10^3"
    if (power) continue;
    if (piece.size() == 1 && is_space(piece[0])) {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else {
      out += piece;
    }
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  if (out.ends_with("degC") || out.ends_with("degF")) out.erase(out.size() - 4, 3);
  return out;
}

// Length of the number at the start: sign, digits with at most one point, exponent. 0 when there is none.
std::size_t number_length(std::string_view text) {
  std::size_t i = 0;
  if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
  std::size_t digits = 0;
  for (; i < text.size() && is_digit(text[i]); ++i) ++digits;
  if (i < text.size() && text[i] == '.') {
    ++i;
    for (; i < text.size() && is_digit(text[i]); ++i) ++digits;
  }
  if (digits == 0) return 0;
  if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
    std::size_t j = i + 1;
    if (j < text.size() && (text[j] == '+' || text[j] == '-')) ++j;
    if (j < text.size() && is_digit(text[j])) {
      while (j < text.size() && is_digit(text[j])) ++j;
      i = j;
    }
  }
  return i;
}

bool names_no_finite_number(std::string_view text) {
  std::string word;
  for (char c : text) {
    if (c != '+' && c != '-' && c != '.') word += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  }
  return word == "nan" || word == "inf" || word == "infinity";
}

// Long or unprintable input is shown shortened.
std::string quoted(std::string_view text) {
  constexpr std::size_t kShown = 60;
  std::string out = "'";
  for (char c : text.substr(0, kShown)) out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  return out + (text.size() > kShown ? "...'" : "'");
}

std::string units_taken(Dimension dimension) {
  return std::string(units_of(dimension).noun) + " take " + one_of(accepted_units(dimension));
}

// The number itself, or why it is none. `number` has passed number_length.
std::optional<double> read_number(std::string_view number, std::string_view whole, std::string& why) {
  const std::size_t sign = number[0] == '+' || number[0] == '-' ? 1 : 0;
  if (number.size() > sign + 1 && number[sign] == '0' && is_digit(number[sign + 1])) {
    why = quoted(whole) + " starts with a zero, which some programs read as octal: leave the zero out";
    return std::nullopt;
  }
  double value = 0;
  const std::string_view body = number.substr(number[0] == '+' ? 1 : 0);
  const auto result = std::from_chars(body.data(), body.data() + body.size(), value);
  if (result.ec != std::errc() || !std::isfinite(value)) {
    why = quoted(whole) + " is too large or too small a number";
    return std::nullopt;
  }
  return value;
}

}  // namespace

std::string_view base_unit(Dimension dimension) {
  if (dimension == Dimension::number || dimension == Dimension::ratio) return "";
  return units_of(dimension).units.front().name;
}

std::vector<std::string> accepted_units(Dimension dimension) {
  std::vector<std::string> names;
  for (const Unit& unit : units_of(dimension).units) names.emplace_back(unit.name);
  return names;
}

double size_of_unit(std::string_view unit, Dimension dimension) {
  if (unit.empty() && base_unit(dimension).empty()) return 1;
  const Unit* found = find_unit(unit, dimension);
  if (!found || found->shift != 0) {
    throw std::logic_error("size_of_unit: '" + std::string(unit) + "' is no plain factor here");
  }
  return found->times / found->over;
}

std::optional<ParsedValue> parse_value(std::string_view text, Dimension dimension, std::string_view bare_unit,
                                       std::string& why) {
  const std::string tidied = tidy(text);
  const std::string_view all = tidied;
  const std::size_t length = number_length(all);
  if (all.empty()) {
    why = "there is nothing here: a number is needed";
    return std::nullopt;
  }
  if (length == 0) {
    why = quoted(all) + (names_no_finite_number(all) ? " is not a finite number" : " is not a number");
    return std::nullopt;
  }
  std::string_view unit_name = all.substr(length);
  if (unit_name.starts_with(' ')) unit_name.remove_prefix(1);
  if (unit_name.starts_with("x") || unit_name.starts_with("X")) {
    why = quoted(all) + " looks hexadecimal: write a decimal number";
    return std::nullopt;
  }
  if (unit_name.size() > 1 && unit_name[0] == ',' && is_digit(unit_name[1])) {
    why = quoted(all) + " has a comma: write a decimal point, and nothing between thousands";
    return std::nullopt;
  }
  const std::optional<double> number = read_number(all.substr(0, length), all, why);
  if (!number) return std::nullopt;

  ParsedValue parsed{*number, !unit_name.empty()};
  // Sums and products of greater ones need not be finite.
  constexpr double kMost = 1e30;
  const auto checked = [&]() -> std::optional<ParsedValue> {
    if (std::abs(*number) <= kMost && std::isfinite(parsed.value)) return parsed;
    why = quoted(all) + " is too large or too small a number";
    return std::nullopt;
  };
  if (unit_name.empty()) unit_name = bare_unit;
  if (unit_name.empty()) {
    if (base_unit(dimension).empty()) return checked();
    why = quoted(all) + " needs a unit: " + units_taken(dimension);
    return std::nullopt;
  }
  const Unit* unit = find_unit(unit_name, dimension);
  if (!unit && dimension == Dimension::number) {
    why = quoted(all) + " must be a plain number, without a unit";
    return std::nullopt;
  }
  if (!unit) {
    const std::string other = dimension == Dimension::ratio ? " or no unit" : "";
    why = quoted(all) + " has an unknown unit; " + units_taken(dimension) + other;
    return std::nullopt;
  }
  parsed.value = (*number + unit->shift) * unit->times / unit->over;
  return checked();
}

}  // namespace boughlight
