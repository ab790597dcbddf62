// The day, plants, warmth and people in the terminal summary. Private to this room.
#pragma once

#include <string>

#include "assess/results.h"

namespace boughlight {

// Adds a section for each of them where there is such a thing; at most 80 columns.
void put_day_summary(std::string& out, const Survey& survey);

}  // namespace boughlight
