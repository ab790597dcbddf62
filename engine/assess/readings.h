// What a meter would read at perches, in plants' crowns and at named points.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// In the scene's order: perches, plants, points. Wants are judged. Fills survey.readings and
// survey.responses.
void take_readings(Setting& setting, Survey& survey);

// The sensor of a reading that was taken, with random numbers of its own; `crown` is a plant's, null for what
// is read at one place.
Receiver receiver_for(const Setting& setting, const Reading& reading, const Plant* crown, std::uint64_t id);

}  // namespace boughlight
