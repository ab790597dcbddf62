// What one lamp does by itself, in free air with no screen: figures by closed form and quadrature, no rays
// traced.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "scene/model.h"

namespace boughlight {

// Instant quantities in the order of Quantity; each in its own unit.
using InstantReadings = std::array<double, kInstant>;

struct PartSheet {
  std::string name;
  double radiant_flux_w = 0;  // new, at 100 %, 250 nm to 25 um
  // Watts by band; they add up to radiant_flux_w.
  double uvc_w = 0, uvb_w = 0, uva_w = 0, visible_w = 0, infrared_w = 0;
  double luminous_flux_lm = 0;
  double photon_flux_umol_s = 0;  // 400 to 700 nm
};

// One stretch of wavelengths of the whole lamp, lines included.
struct SpectrumStretch {
  double from_nm = 0, to_nm = 0;
  double power_w = 0;
  double uvi_share = 0;  // of the lamp's UV index, 0..1; 0 where it has none
  double lux_share = 0;  // of its illuminance, 0..1; 0 where it has none
};

struct AxisReading {
  double distance_m = 0;      // from the emitter's centre along aim
  InstantReadings reading{};  // of a sensor that faces the lamp
};

struct LampSheet {
  std::vector<PartSheet> parts;
  PartSheet whole;                   // the parts' sum; its name is "all"
  std::vector<AxisReading> on_axis;  // nearest first; distances inside the emitter are left out
  // Angle from aim, rad, at which the far intensity first falls to half of that along aim, in the plane of
  // `along` and in the plane across it; nothing where there is no light along aim or it never falls so far.
  std::optional<double> half_angle_along, half_angle_across;
  std::vector<SpectrumStretch> spectrum;  // the bins in pairs in the ultraviolet, else one by one
  // Shortest wavelength at which the lamp radiates more than a millionth of its ultraviolet, nm, to the edge
  // of its bin below; nothing without ultraviolet.
  std::optional<double> shortest_ultraviolet_nm;
};

// `distances_m` rising, > 0.
LampSheet lamp_sheet(const Fixture& fixture, const std::vector<double>& distances_m);

}  // namespace boughlight
