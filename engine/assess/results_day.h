// The day by the clock, plants, warmth and the people at work. Plain data, no computation.
#pragma once

#include "assess/figure.h"

namespace boughlight {

struct DayFindings {};

}  // namespace boughlight
