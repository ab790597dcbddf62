// The sample survey with a day: made up without tracing a ray. Invented for the tests.
#pragma once

#include "sample_survey.h"

namespace boughlight {

// Three lamps lit by day (the flood in two spans with ramps), plants with and without steps, warmth at two
// airs, two workplaces.
Survey survey_with_day();

}  // namespace boughlight
