// The day as a picture: when each source is lit, and what the perches and plants get by the clock.
#pragma once

#include <optional>

#include "report/map.h"

namespace boughlight {

inline constexpr const char* kDayChartName = "day.png";

// At most four perches (those with the greatest UV index, or most light where there is none) and three plants
// (the brightest, the darkest and the middle one); day.csv has all. Nothing where a lamp has no hours.
std::optional<Canvas> draw_day(const Survey& survey);
// The same as a PNG of kDayChartName.
std::optional<MapFile> day_chart(const Survey& survey);

}  // namespace boughlight
