// The closest reachable place, where an animal would get most.
#pragma once

#include "assess/field_cells.h"

namespace boughlight {

// Nothing where the scene has no animal or no reachable place.
std::optional<Hottest> find_hottest(Setting& setting, const GridLight& light);

}  // namespace boughlight
