// Numbers with units, as keepers write them ("18 in", "2.5 mm", "70 deg", "30 %", "50 uW/cm2"), read into SI
// and printed again. A bare number takes the unit given by the caller, or is refused when there is none.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace boughlight {

enum class Dimension {
  number,               // no unit allowed
  ratio,                // 1; "30 %" is 0.3, a bare 0.3 is 0.3
  length,               // m: m, cm, mm, um, in (or inch), ft
  area,                 // m2: m2, cm2, mm2, in2, ft2
  wavelength,           // nm: nm, um, mm is refused
  angle,                // rad: deg, rad
  duration,             // h: h, min, d, s
  temperature,          // K: K, C, F
  air_temperature,      // C: C, F
  power,                // W: W, mW, uW
  irradiance,           // W/m2: W/m2, mW/m2, uW/m2, mW/cm2, uW/cm2, W/cm2
  illuminance,          // lx: lx, lux, klx, fc
  photon_flux_density,  // umol/(m2 s): umol/m2/s, umol/(m2 s), umol m-2 s-1
  photon_dose,          // mol/(m2 d): mol/m2/d, mol/(m2 d), mol m-2 d-1
  radiant_exposure,     // kWh/m2: kWh/m2, Wh/m2, MJ/m2, kJ/m2, J/m2
  luminous_flux,        // lm: lm, klm
  photon_flux,          // umol/s
  speed,                // m/s
};

// The unit that values of a dimension are held in ("m", "nm", "W/m2", ...); "" for number and ratio.
std::string_view base_unit(Dimension dimension);
// Every spelling accepted for a dimension, the base unit first.
std::vector<std::string> accepted_units(Dimension dimension);

struct ParsedValue {
  double value = 0;  // in the base unit; finite
  bool had_unit = false;
};

// Reads "12.5 cm", "12.5cm", "12.5". A bare number is multiplied by the size of `bare_unit` (one of the
// accepted spellings; for ratio and number it may be ""); if `bare_unit` is empty for a dimension that has
// units, a bare number is an error. Decimal points only, whatever the locale; no hexadecimal, no octal, no
// nan or inf. On failure returns nothing and says why in `why` ("'12 parsecs' has an unknown unit; lengths
// take m, cm, ...").
std::optional<ParsedValue> parse_value(std::string_view text, Dimension dimension, std::string_view bare_unit,
                                       std::string& why);

// How many base units one `unit` is: size_of_unit("cm", Dimension::length) is 0.01. The unit must be accepted
// and be a plain factor (not C or F).
double size_of_unit(std::string_view unit, Dimension dimension);

// A duration of clock times within a day, hours from midnight; `to` may be up to 24, `from` < `to`.
struct ClockSpan {
  double from_h = 0;
  double to_h = 0;
};
// "08:00-12:00, 14:00-17:00": spans are unioned, one may pass midnight ("20:00-06:00" gives two), sorted,
// disjoint. 24:00 is allowed as an end. Empty spans and bad times are errors, told in `why`.
std::optional<std::vector<ClockSpan>> parse_clock_spans(std::string_view text, std::string& why);
double total_hours(const std::vector<ClockSpan>& spans);
// The same spans, one that runs through midnight in one piece: {0, 6} and {20, 24} become {20, 30}, so `to`
// may be up to 48. Lit all day is {0, 24}.
std::vector<ClockSpan> joined_over_midnight(std::vector<ClockSpan> spans);

// One time of day, "9:30" or "09:30", in hours from midnight, below 24. On failure nothing, and why in `why`.
std::optional<double> parse_clock_time(std::string_view text, std::string& why);
// Hours from midnight (any size, taken round the clock) as "09:30", to the minute; 24 is "24:00".
std::string print_clock_time(double hours);

// Three or so significant digits without a needless exponent: "0.0123", "4.57", "151", "12 300".
std::string print_number(double value, int significant = 3);

}  // namespace boughlight
