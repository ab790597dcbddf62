// What a meter would read at perches, in plants' crowns and at named points.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// In the scene's order: perches, plants, points. Wants are judged.
std::vector<Reading> take_readings(Setting& setting);

}  // namespace boughlight
