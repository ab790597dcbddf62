// Stands in for oneTBB: see parallel_for.h.
#pragma once

#include "global_control.h"

namespace tbb::this_task_arena {

inline int max_concurrency() {
  return static_cast<int>(global_control::most());
}

}  // namespace tbb::this_task_arena
