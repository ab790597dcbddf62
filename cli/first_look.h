// What a pilot finds of the wants, for people who wait for the rest.
#pragma once

#include <string>
#include <vector>

#include "assess/first_look.h"

namespace boughlight::cli {

// A heading that says what it is, and an item a reading: "  sun perch         uvi 2.0 +- 0.3 (1.8 to 3.2)".
// What stands behind "+-" is twice the standard error, left out where the figure's two digits do not show it.
std::string first_look_text(const std::vector<FirstLook>& looks);

}  // namespace boughlight::cli
