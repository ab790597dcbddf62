// How many samples light the grid well enough, found from pilots that are no part of the result.
#pragma once

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// What maps show is known to so much, root mean square over the cells above a tenth of the mean.
inline constexpr double kAskedRms = 0.05;

// Samples of each replicate.
struct GridPlan {
  std::vector<std::uint32_t> places;  // [cell * lamps + lamp]; see add_direct()
  std::vector<std::uint32_t> paths;   // by source; see add_indirect()
  std::vector<float> told;            // [cell * lamps + lamp]: by the paths, of what comes straight; 0..1
};

// The fewest rays with which each of the mapped quantities is known to kAskedRms. Planned for new lamps at
// full power, so that one plan serves every dimmer and age; only where what is asked would be missed by far
// with the lamps as they are declared, for those. Adds to setting.spent.
GridPlan plan_grid(Setting& setting, const CellGrid& grid);

}  // namespace boughlight
