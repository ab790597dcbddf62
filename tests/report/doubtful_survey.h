// The survey made by hand, with doubts, losses, failures and a meter sheet made by hand as well.
#pragma once

#include "sample_survey.h"

namespace boughlight {

// On the sun perch: UVI 2.0 of 2 to 4, met but not firm, with a chain; two failure cases, one of which breaks
// something; three rows to measure. Invented for the tests.
Survey doubtful_survey();

}  // namespace boughlight
