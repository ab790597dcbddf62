// Every quantity that the project can report, in one table: a new one is a row here (and its weighting
// function, if it has one of its own).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "spectrum/table.h"
#include "units/units.h"

namespace boughlight {

enum class Quantity {
  uvi,
  uvc,
  uvb,
  uva,
  d3,
  actinic,
  lux,
  ppfd,
  irradiance,
  infrared,
  dli,
  uvi_hours,
  sed,
  infrared_hours
};

inline constexpr int kQuantities = 14;
// The first ten are read at an instant; the others are summed over the day, each lamp by its own hours.
inline constexpr int kInstant = 10;

struct QuantityInfo {
  Quantity quantity;
  std::string_view name;   // as in scene files and results
  std::string_view label;  // for people: "UV index", "PPFD"
  std::string_view unit;   // as printed: "", "W/m2", "lx", "umol/(m2 s)", "mol/(m2 d)", "h", "SED", "kWh/m2"
  Dimension dimension;     // what units its limits may carry
  std::string_view meaning;  // one line
  Quantity of;               // itself, or for a day quantity the instant quantity that is summed
  double
      per_hour;  // a day quantity's share for one hour at 1 unit of `of` (dli: 3600e-6); 0 for instant ones
};

const QuantityInfo& info(Quantity quantity);
std::span<const QuantityInfo> all_quantities();
std::optional<Quantity> quantity_named(std::string_view name);
inline bool is_day_quantity(Quantity q) {
  return static_cast<int>(q) >= kInstant;
}

// The weighting function of an instant quantity over wavelength (nm): reading = integral of spectral
// irradiance (W/m2/nm) x weight. Includes every factor: uvi's holds 40 m2/W x s_er, lux's 683.002 lm/W x V,
// ppfd's wavelength/(h c N_A) in umol/J inside [400, 700) nm. Sources: erythema ISO/CIE 17166:2019
// (fixtures/standard/erythema.csv), d3 CIE 174:2006, actinic ICNIRP 2004 table log-linear, V CIE 1931 2 deg;
// the files name them.
class Weighting {
 public:
  double at(double wavelength_nm) const;  // an upper end (280, 315, 400, 700 nm) belongs to the range above
  // Points where the function or its slope jumps, nm, rising: integrate between them.
  const std::vector<double>& knots_nm() const { return knots_; }

 private:
  friend const Weighting& weighting(Quantity quantity);
  Table table_;
  double from_nm_ = 0, to_nm_ = 0;
  double factor_ = 1;
  bool photons_ = false;
  std::vector<double> knots_;
};
// Throws std::logic_error for a day quantity.
const Weighting& weighting(Quantity quantity);

// One value per instant quantity and bin.
using QuantityBins = Eigen::Array<double, kInstant, kBins>;

}  // namespace boughlight
