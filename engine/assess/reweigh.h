// Light that was traced once, weighed anew: other outputs of the lamps, meshes that let through less, or with
// a layer taken off. No rays.
#pragma once

#include "assess/spot.h"

namespace boughlight {

// A place to judge, with the response that its figures are weighed from.
struct TracedSpot {
  const Response* response = nullptr;
  // For what meshes do; null: nothing is changed about them.
  const SensorSpot* spot = nullptr;
};

struct Reweighing {
  std::vector<QuantityBins> outputs;  // by source
  DayOutputs day_outputs;
  std::optional<std::size_t> mesh_off;  // index in mesh_materials(): one layer less, the nearest to the lamp
  // By mesh_materials(): what every layer still lets through, as a share of what it did. Empty: all of it.
  std::vector<double> mesh_factors;
};

// The straight light by mesh to the power of the layers that it crosses, the rest by the layers on its lamp's
// way in; what the meshes scatter stays in proportion.
std::vector<double> reweighed_replicates(const Reweighing& how, const TracedSpot& at, Quantity quantity);
Figure reweighed(const Reweighing& how, const TracedSpot& at, Quantity quantity);
// Mean irradiance by source, W/m2; the spot must be there.
std::vector<double> reweighed_irradiance(const Reweighing& how, const SensorSpot& spot);

}  // namespace boughlight
