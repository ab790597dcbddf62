// How much to gather for a tolerance, where the same samples are wanted again and again in changing scenes.
#pragma once

#include "assess/precision.h"

namespace boughlight {

// From a pilot for each task, whose samples belong to no result. At most `most` of any kind.
std::vector<LampEfforts> efforts_for(const LightField& field, const std::vector<Task>& tasks,
                                     double tolerance, std::uint32_t most, RayCount& spent);

}  // namespace boughlight
