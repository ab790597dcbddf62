// How many samples light the grid well enough, found from pilots that are no part of the result.
#pragma once

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// What maps show is known to so much, root mean square over the cells above a tenth of the mean.
inline constexpr double kAskedRms = 0.05;

struct GridPlan {
  std::vector<std::uint32_t> places;  // by cell; see add_direct
  std::uint32_t paths = 0;            // of each source
};

// Planned for new lamps at full power, so that one plan serves every dimmer and age. Only where what is asked
// would be missed by far with the lamps as they are declared, for those. Adds to setting.spent.
GridPlan plan_grid(Setting& setting, const CellGrid& grid);

}  // namespace boughlight
