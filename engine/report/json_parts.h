// Pieces of readings.json that several of its parts are made of. Private to this room.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "assess/results.h"

namespace boughlight {

using Json = nlohmann::ordered_json;

// `what` and `of` name the figure where it is not finite, which throws std::runtime_error.
Json place_json(const Vec3& at, const std::string& what);
Json numbers_json(const std::vector<double>& values, const std::string& what);
// Adds value, se and, where it is known, converged.
void put_figure(Json& json, const Figure& figure, const std::string& what);
// {quantity: {value, se}}
Json figures_json(const Figures& values, const std::string& of);
// Adds min and max where they are there.
void put_limits(Json& json, const Limits& limits);
Json reading_json(const Reading& reading);

// What was found for the animal.
Json animal_json(const Survey& survey);

}  // namespace boughlight
