// Basking coverage and refuge: which places hold, by volume, by level, and along branches and boards.
#pragma once

#include "assess/field_cells.h"

namespace boughlight {

// Fills the survey's cells' brightest_uvi, its levels, zones and zone wants. Cells must be there already.
void judge_zones(Setting& setting, const GridLight& light, Survey& survey);

}  // namespace boughlight
