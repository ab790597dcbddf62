// The months ahead, for people, for programs and as a picture.
#pragma once

#include <string>

#include "plan/outlook.h"
#include "report/canvas.h"

namespace boughlight {

// At most 80 columns: what fails first, what to do and when, worst news first.
std::string outlook_text(const OutlookResult& outlook);
// Names and shape are a contract, as those of readings.json; no times, no folders.
std::string outlook_json(const OutlookResult& outlook);
// One row a month and figure.
std::string outlook_csv(const OutlookResult& outlook);
// Charts over the months, one below the other: figures with their limits and errors, crowns and lamps.
Canvas draw_outlook(const OutlookResult& outlook);
inline constexpr const char* kOutlookChartName = "outlook.png";

// "perch 'x'": what a watched figure is of, for sentences: "sun perch", "the most in reach".
std::string watched_name(const Watched& watched);

}  // namespace boughlight
