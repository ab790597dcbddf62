#include "spectrum/quantity.h"

#include <array>

namespace boughlight {

namespace {

using enum Quantity;

constexpr double kSecondsPerHour = 3600;
constexpr double kUmolPerMol = 1e6;
constexpr double kKilowattPerWatt = 1e-3;
// 1 UVI is 1/40 W/m2 of erythemal irradiance, 1 SED 100 J/m2 of it (ISO/CIE 17166:2019).
constexpr double kSedPerUviHour = kSecondsPerHour / 40 / 100;

constexpr std::array<QuantityInfo, kQuantities> kTable = {{
    {uvi, "uvi", "UV index", "", Dimension::number,
     "40 m2/W x erythemally weighted irradiance (ISO/CIE 17166:2019)", uvi, 0},
    {uvc, "uvc", "UV-C", "W/m2", Dimension::irradiance, "irradiance from 250 to 280 nm", uvc, 0},
    {uvb, "uvb", "UV-B", "W/m2", Dimension::irradiance, "irradiance from 280 to 315 nm", uvb, 0},
    {uva, "uva", "UV-A", "W/m2", Dimension::irradiance, "irradiance from 315 to 400 nm", uva, 0},
    {d3, "d3", "pre-vitamin D3", "W/m2", Dimension::irradiance,
     "irradiance weighted by the pre-vitamin D3 action spectrum of human skin (CIE 174:2006)", d3, 0},
    {actinic, "actinic", "actinic hazard", "W/m2", Dimension::irradiance,
     "irradiance weighted by the actinic UV hazard function (ICNIRP 2004; its limits are for people)",
     actinic, 0},
    {lux, "lux", "illuminance", "lx", Dimension::illuminance,
     "light as the human eye weighs it (V of CIE 1931, 2 deg)", lux, 0},
    {ppfd, "ppfd", "PPFD", "umol/(m2 s)", Dimension::photon_flux_density, "photons from 400 to 700 nm", ppfd,
     0},
    {irradiance, "irradiance", "irradiance", "W/m2", Dimension::irradiance, "all power from 250 nm to 25 um",
     irradiance, 0},
    {infrared, "infrared", "infrared", "W/m2", Dimension::irradiance, "irradiance from 700 nm to 25 um",
     infrared, 0},
    {dli, "dli", "daily light integral", "mol/(m2 d)", Dimension::photon_dose,
     "photons from 400 to 700 nm over the day", ppfd, kSecondsPerHour / kUmolPerMol},
    {uvi_hours, "uvi_hours", "UVI hours", "h", Dimension::duration, "UV index summed over the day's hours",
     uvi, 1},
    {sed, "sed", "erythemal dose", "SED", Dimension::number, "erythemal dose of the day in units of 100 J/m2",
     uvi, kSedPerUviHour},
    {infrared_hours, "infrared_hours", "infrared hours", "kWh/m2", Dimension::radiant_exposure,
     "infrared summed over the day's hours: 1 kWh/m2 is 1000 W/m2 for an hour", infrared, kKilowattPerWatt},
}};

constexpr bool in_order() {
  for (int i = 0; i < kQuantities; ++i)
    if (static_cast<int>(kTable[static_cast<std::size_t>(i)].quantity) != i) return false;
  return true;
}
static_assert(in_order(), "rows stand in the order of the enum");

}  // namespace

const QuantityInfo& info(Quantity quantity) {
  return kTable[static_cast<std::size_t>(quantity)];
}

std::span<const QuantityInfo> all_quantities() {
  return kTable;
}

std::optional<Quantity> quantity_named(std::string_view name) {
  for (const QuantityInfo& row : kTable)
    if (row.name == name) return row.quantity;
  return std::nullopt;
}

}  // namespace boughlight
