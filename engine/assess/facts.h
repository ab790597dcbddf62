// Figures about a scene's parts that need no rays, for lists that people read.
#pragma once

#include <optional>
#include <string_view>

#include "scene/model.h"

namespace boughlight {

// Plain means over wavelength of a factor (0..1).
struct BandMeans {
  double uvb = 0;            // 280 to 315 nm
  double uva = 0;            // 315 to 400 nm
  double visible = 0;        // 400 to 700 nm
  double near_infrared = 0;  // 700 nm to 2.5 um
  double thermal = 0;        // 2.5 to 25 um
};
BandMeans band_means(const SpectralD& factor);

// Share of the light along a mesh's normal that goes straight through: all layers and soiling, or the
// measured flat figure in place of the wires. Nothing for what is not a mesh.
std::optional<double> open_share(const Material& material);

// Full sun, W/m2 (ASTM G173 global: 1000.4).
inline constexpr double kFullSun_w_m2 = 1000;

// Whether a unit of length goes with steps in inches.
bool is_of_inches(std::string_view length_unit);

// Height of the lowest point of a hung lamp's emitter, m: what a gap above the mesh is measured to.
double lowest_point_z(const Lamp& lamp);

// From there down to the top of the highest box below the lamp's centre, m; nothing where there is no box
// below it or the lamp reaches into it.
std::optional<double> gap_above_enclosure(const Scene& scene, const Lamp& lamp);

}  // namespace boughlight
