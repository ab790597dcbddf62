// How much a reading depends on which leaf hangs where: the crowns drawn anew, the straight light traced
// again.
#pragma once

#include "assess/results_doubt.h"
#include "assess/spot.h"

namespace boughlight {

inline constexpr int kLeafDrawings = 8;  // the scene's own and seven others

// [reading] by quantity; empty where the scene has no leaves. Light that has been reflected is taken as it is
// in the scene's own drawing. `receivers` and `spots` are those of the readings.
std::vector<std::map<Quantity, LeafSpread>> leaf_spreads(const Setting& setting,
                                                         const std::vector<Receiver>& receivers,
                                                         const std::vector<SensorSpot>& spots,
                                                         RayCount& spent);

}  // namespace boughlight
