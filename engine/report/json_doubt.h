// What readings.json says of doubt, losses, failures and where to measure.
#pragma once

#include <nlohmann/json.hpp>

#include "assess/results.h"

namespace boughlight {

// Adds to `json`, which holds the readings and the hottest places already: "doubt" and "chains" to each
// reading, "firm" to each want, "doubt" and "firm" to the hottest places, and "doubt", "failures" and
// "meter_sheet" of its own. What was not found is left out.
void put_doubt(nlohmann::ordered_json& json, const Survey& survey);

}  // namespace boughlight
