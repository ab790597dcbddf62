// The day as a picture: when each source is lit, and what the perches and plants get by the clock.
#pragma once

#include <optional>

#include "report/map.h"

namespace boughlight {

inline constexpr const char* kDayChartName = "day.png";

// A PNG of kDayChartName; nothing where a lamp has no hours. At most four perches (those with the greatest UV
// index, or most light where there is none) and three plants (the brightest, the darkest and the middle one);
// day.csv has all.
std::optional<MapFile> day_chart(const Survey& survey);

}  // namespace boughlight
