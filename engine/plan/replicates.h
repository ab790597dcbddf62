// A figure replicate by replicate, so that differences of figures keep what their errors have in common.
#pragma once

#include <vector>

#include "plan/split.h"

namespace boughlight {

// What a response gives on its sensor, weighed by one row of bins a source (quantity_weights()).
Replicates facing_replicates(const Response& response, const std::vector<SpectralD>& weights);

Figure figure_of(const Replicates& replicates);

}  // namespace boughlight
