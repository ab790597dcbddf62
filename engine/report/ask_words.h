// Asked figures and their limits in words, for people.
#pragma once

#include <string>

#include "plan/asks.h"

namespace boughlight {

// "sun perch: UV index", "most in reach: irradiance", "refuge zone: share of the volume"
std::string figure_name(const Scene& scene, const FigureKey& key);
// "3.1", "151 W/m2", "31 %"
std::string figure_text(const FigureKey& key, double value);
// "at least 1.8", "at most 450 W/m2"
std::string limit_text(const FigureKey& key, bool at_least, double limit);
// "1.8 to 3.2", "at most 30 %"; "" where nothing is asked of the figure.
std::string wanted_text(const Asks& asks, std::size_t figure);
// "sun perch: UV index at least 1.8", "refuge zone: at least 30 % of the volume"
std::string ask_text(const Scene& scene, const Asks& asks, const Ask& ask);
// The same with another limit.
std::string ask_text(const Scene& scene, const Asks& asks, const Ask& ask, double limit);

// "met", "too low", "too high", "too close to call", by every limit on the figure; "" where there is none.
std::string standing_text(const Asks& asks, std::size_t figure, const Figure& value);

}  // namespace boughlight
