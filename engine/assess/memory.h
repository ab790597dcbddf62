// Memory is estimated before it is asked for: what would not fit is refused with the size that would.
#pragma once

#include "scene/model.h"

namespace boughlight {

// Bytes. Estimates, a little high: what the program was seen to take on top of its own size.
struct MemoryNeed {
  double solids = 0;    // leaves and models
  double readings = 0;  // perches, plants and points, each under every source
  double grid = 0;      // its cells, each under every source
};
MemoryNeed memory_need(const Scene& scene);

// Three quarters of the memory that this process may use: that of the machine, of its container (Linux
// control groups), or of its own limit (RLIMIT_AS), whichever is least.
double memory_budget();

enum class WithGrid { no, yes };

// Throws InputError where the scene asks for more than `most_bytes`, located at what asks for most: how much
// it would take, how much there is, and the size that would fit.
void require_memory(const Scene& scene, WithGrid with_grid, double most_bytes = memory_budget());

}  // namespace boughlight
