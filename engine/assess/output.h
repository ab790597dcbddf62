// What every light source gives, as weights on the bins of its response: a reading is weights . response.
#pragma once

#include <optional>
#include <vector>

#include "scene/model.h"
#include "transport/gather.h"

namespace boughlight {

enum class Power { as_declared, full };  // full: every dimmer at 100 %, ages as declared

// One entry a source (lamps in order, then the room's light): instant quantities x bins, in the quantity's
// unit per unit of response.
std::vector<QuantityBins> source_outputs(const Scene& scene, Power power);

// Hours a day that each source is lit; nothing where it is not said.
std::vector<std::optional<double>> source_hours(const Scene& scene);
// Whether every lamp has hours, so that day quantities exist. The room's light counts in them only where it
// has hours too.
bool has_day_quantities(const Scene& scene);

// What matters to the eye, the skin and the thermometer, from the lamps at full power. See Importance.
Importance importance_of(const Scene& scene);

// Weights for any quantity, day quantities included (their hours are part of the weights): [source] a row of
// bins.
std::vector<SpectralD> quantity_weights(Quantity quantity, const std::vector<QuantityBins>& outputs,
                                        const std::vector<std::optional<double>>& hours);

// The same as channels for the solver.
std::vector<Channel> channels_of(Quantity quantity, const std::vector<QuantityBins>& outputs);

}  // namespace boughlight
