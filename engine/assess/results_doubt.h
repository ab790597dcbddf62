// How far a figure may be off for what was declared, what was lost on the way, what breaks in a failure,
// and where to measure. Plain data, no computation.
#pragma once

#include "assess/figure.h"

namespace boughlight {

struct DoubtFindings {};

}  // namespace boughlight
