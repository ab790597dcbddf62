// A first, short look at the light of the grid, by which the long one is planned. Private to that plan.
#pragma once

#include "assess/mapped.h"
#include "assess/setting.h"
#include "transport/cells.h"

namespace boughlight {

// Samples of each replicate.
inline constexpr std::uint32_t kPilotPlaces = 2, kPilotPaths = 1024;

// One quantity of one source's light in a cell, and the squared standard error that a single sample of each
// replicate would have, for new lamps at full power.
struct PilotFigure {
  float direct = 0, direct_square = 0, indirect = 0, indirect_square = 0;
};

struct GridPilot {
  std::vector<PilotFigure> figures;  // [(quantity * cells + cell) * sources + source]
  // [cell * lamps + lamp] such squares of a lamp's straight light that comes through no pane, per unit of
  // emission: by one connection, and by one of the lamp's paths.
  std::vector<double> by_connection, by_path;
  std::vector<char> through_panes;  // [cell * lamps + lamp]: whether other straight light came
  RayCount rays;                    // shadow: for direct light; closest: for reflected light
};

GridPilot recall_pilot(const Setting& setting, const CellGrid& grid);

}  // namespace boughlight
