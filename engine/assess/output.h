// What every light source gives, as weights on the bins of its response: a reading is weights . response.
#pragma once

#include <optional>
#include <vector>

#include "scene/model.h"
#include "transport/response.h"

namespace boughlight {

struct Importance;  // transport/light_field.h

enum class Power { as_declared, full };  // full: every dimmer at 100 %, ages as declared

// One entry a source (lamps in order, then the room's light): instant quantities x bins, in the quantity's
// unit per unit of response.
std::vector<QuantityBins> source_outputs(const Scene& scene, Power power);

// The same of lamps that are new, every dimmer at 100 %: what tracing goes by, so that it is the same
// whatever the dimmers and the ages are.
std::vector<QuantityBins> fresh_outputs(const Scene& scene);

// What one lamp gives at a setting of its dimmer (0..1), its age as declared.
QuantityBins lamp_output(const Lamp& lamp, double setting);

// How much of its setting a lamp gives at a clock hour (0..24): 0 outside its hours, 1 inside, and in between
// during its ramp, which rises from 0 over the first `ramp_h` of each lit span and falls to 0 over the last.
// A span that passes midnight is one span. From the start of a span up to, not with, its end.
double lit_share(const std::vector<ClockSpan>& lit, double ramp_h, double clock_h);

// What one lamp gives over the day at a setting of its dimmer (0..1), its age as declared, in the unit of
// source_outputs() times hours; nothing where its hours are not said. Ramps are exact for lamps that dim
// evenly: each span counts for its length less one ramp. A filament lamp's spectrum shifts while it ramps, so
// its ramp is integrated over the dimmer's settings.
std::optional<QuantityBins> lamp_day_output(const Lamp& lamp, double setting);

// The same of every source.
using DayOutputs = std::vector<std::optional<QuantityBins>>;
DayOutputs day_outputs(const Scene& scene, Power power);
// Whether every lamp has hours, so that day quantities exist. The room's light counts in them only where it
// has hours too.
bool has_day_quantities(const Scene& scene);

// What matters to the eye, the skin and the thermometer, from fresh_outputs(). See Importance.
Importance importance_of(const Scene& scene);

// Weights for any quantity, day quantities included (those come from `day`): [source] a row of bins.
std::vector<SpectralD> quantity_weights(Quantity quantity, const std::vector<QuantityBins>& outputs,
                                        const DayOutputs& day);

// The same as channels for the solver.
std::vector<Channel> channels_of(Quantity quantity, const std::vector<QuantityBins>& outputs);

// By source: how many times as much of a quantity `outputs` give as `reference`, before any light is lost; 0
// where the reference gives none.
Eigen::ArrayXd output_ratios(Quantity quantity, const std::vector<QuantityBins>& outputs,
                             const std::vector<QuantityBins>& reference);

}  // namespace boughlight
