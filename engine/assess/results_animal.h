// What the light means for the animal: its whole body, the closest reachable place by lamp, shade and the
// way to it. Plain data, no computation.
#pragma once

#include "assess/figure.h"

namespace boughlight {

struct AnimalFindings {};

}  // namespace boughlight
