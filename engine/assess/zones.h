// Basking coverage and refuge: which places hold, by volume, by level, and along branches and boards.
#pragma once

#include "assess/field_cells.h"
#include "assess/perched.h"

namespace boughlight {

// Fills the survey's cells' brightest_uvi, its levels, zones and zone wants. Cells must be there already.
// Looks at the perched light where a zone is asked for.
void judge_zones(Setting& setting, const GridLight& light, PerchedLight& perched, Survey& survey);

}  // namespace boughlight
