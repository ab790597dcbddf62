// What one survey says otherwise than the one before it, in few lines.
#pragma once

#include <string>

#include "report/index.h"

namespace boughlight {

// At most 80 columns: verdicts that changed, the worse first, with figures before and after; what is not as
// wanted still; other figures that carry a limit and moved by more than the doubt of both (twice the standard
// error of the difference); what is asked for anew or no longer; and how all stands now. Things are matched
// by name and quantity.
std::string changes_since(const IndexRow& before, const IndexRow& now);

}  // namespace boughlight
