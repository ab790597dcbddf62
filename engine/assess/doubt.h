// How far the figures may be off, why, what breaks, and where to measure: all from what is traced already and
// a little straight light.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// After readings and hottest places; fills survey.doubt and says of every met want and hottest place whether
// it is firm.
void find_doubt(Setting& setting, Survey& survey);

}  // namespace boughlight
