// Gathering until every figure that matters is known well enough.
#pragma once

#include <functional>
#include <vector>

#include "assess/output.h"
#include "assess/results.h"
#include "transport/gather.h"

namespace boughlight {

// One figure that must reach the tolerance: standard error <= ease x tolerance x max(|value|, size), where
// `size` is the nearest limit, or for figures without one a value too small to matter.
struct Goal {
  std::vector<SpectralD> weights;  // one a source
  Limits limits;
  double floor = 0;  // a size below which nobody asks, in the quantity's unit
  double ease = 1;   // how many times the tolerance is near enough

  double allowed_error(double tolerance, double value) const;
};

// Fewest samples of each replicate. At one place, so many that a sliver of a lamp behind an edge is found; of
// a receiver that is spread over a crown each place sees the lamps past other leaves.
inline constexpr GatherEffort kLeastAtPlace{256, 64}, kLeastSpread{64, 32};

struct Task {
  Receiver receiver;  // id is the base; each pass draws fresh numbers
  std::vector<Goal> goals;
  GatherEffort least = kLeastAtPlace;  // of each kind, whatever the goals ask for
};

// A figure from all replicates of a response; `part` tells which light.
Figure weigh(const std::vector<Spectral>& part, const Response& response,
             const std::vector<SpectralD>& weights);
Figure weigh_facing(const Response& response, const std::vector<SpectralD>& weights);
// The weights of one source alone: those of all others are 0.
std::vector<SpectralD> alone(const std::vector<SpectralD>& weights, std::size_t source);

struct GatherBudget {
  double rays = 4e8;  // over the whole survey; what is not there by then is not converged
};

// The result of each task comes from samples independent of those that set its effort: a pilot first, then
// passes with fresh numbers until the goals hold or the budget is used. `spent` adds up all rays.
// `pilot` is shown the pilot's responses, in the tasks' order.
std::vector<Response> gather_to_tolerance(
    const LightField& field, const std::vector<Task>& tasks, double tolerance, const GatherBudget& budget,
    RayCount& spent, const std::function<void(const std::vector<Response>&)>& pilot = {});

}  // namespace boughlight
