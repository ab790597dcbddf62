// How many samples the grid's light needs, of each lamp and in each cell.
#pragma once

#include <vector>

#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// Samples of each replicate; powers of two.
struct GridEffort {
  std::vector<std::uint32_t> places;  // [cell * lamps + lamp]; see add_direct()
  std::vector<std::uint32_t> paths;   // by source; see add_indirect()
};

// The fewest rays with which the mapped quantities, each by itself, are known to 5 % RMS over the cells that
// are brighter than a tenth of the mean, from a pilot whose samples belong to no result. Stays within what is
// left of the setting's budget, of which a quarter is always there for the grid.
GridEffort plan_grid(Setting& setting, const CellGrid& grid);

}  // namespace boughlight
