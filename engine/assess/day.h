// The day, plants, warmth and people: everything in DayFindings.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// Needs the survey's readings, responses, cells and levels. Traces the crowns' parts and the workplaces, each
// of these with its own doors open; everything else is dot products.
DayFindings find_day(Setting& setting, const Survey& survey);

// Each perch's back at the room temperatures of the scene, as declared and with every dimmer at full; nothing
// where the scene gives no air. `length_m`: plate_length() of the animal's back.
std::vector<PerchWarmth> estimate_warmth(const Setting& setting, const Survey& survey, double length_m);

// One entry a workplace. Doors that are open together are traced together.
std::vector<WorkplaceFindings> read_workplaces(Setting& setting);

}  // namespace boughlight
