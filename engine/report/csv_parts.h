// Rows of readings.csv. Private to this room.
#pragma once

#include <string>
#include <string_view>

#include "assess/results.h"

namespace boughlight {

// One row a quantity of a reading's values, each with its line end, under this name and kind.
std::string reading_rows(const Reading& reading, std::string_view name, std::string_view kind);

// What was read for the animal beside the scene's own readings: kinds "size", "body" and "closest".
std::string animal_rows(const Survey& survey);

}  // namespace boughlight
