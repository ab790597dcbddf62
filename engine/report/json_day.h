// The day, plants, warmth and people in readings.json. Private to this room.
#pragma once

#include <nlohmann/json.hpp>

#include "assess/results.h"

namespace boughlight {

// Adds "day", "plants", "floor", "warmth" and "people" to the whole, each where there is such a thing.
void put_day(nlohmann::ordered_json& json, const Survey& survey);

}  // namespace boughlight
