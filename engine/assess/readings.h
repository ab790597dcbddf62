// What a meter would read at perches, in plants' crowns and at named points.
#pragma once

#include "assess/first_look.h"
#include "assess/setting.h"

namespace boughlight {

// In the scene's order: perches, plants, points. Wants are judged. Fills survey.readings and
// survey.responses. `first_look` is told what a pilot finds of the wants, where there are any.
void take_readings(Setting& setting, Survey& survey, const FirstLookTeller& first_look = {});

// The sensor of a reading that has been taken, with random numbers of its own.
Receiver receiver_of(const Setting& setting, const Reading& reading, std::uint64_t id);
// The orientation of greatest UV index at a place, all lamps as declared; of greatest illuminance where that
// index is below 0.01; or another that reads less by a thousandth at the most. From samples of its own, fixed
// by `id`.
Vec3f find_brightest(const Setting& setting, const Vec3& at, std::uint64_t id, RayCount& rays);

}  // namespace boughlight
