// The readings by the clock: what every reading shows at each moment of the day. No rays: dot products with
// what the readings were weighed from.
#pragma once

#include "assess/results.h"

namespace boughlight {

// Needs the survey's readings and responses. Nothing in it where a lamp has no hours. Room light without
// hours is in no reading by the clock, as in no quantity of the day.
ClockFindings follow_the_clock(const Survey& survey);

}  // namespace boughlight
