// What `boughlight window` shows: text, JSON and a picture.
#pragma once

#include <string>

#include "plan/window.h"
#include "report/canvas.h"

namespace boughlight {

// Whether there is a gap, depth and output at which every want holds, those that these do not change
// included.
WholeVerdict verdict_of(const Window& window);

// At most 80 columns; the range of readings that a lamp of this kind may have first.
std::string window_summary(const Window& window);
// Figures keep 6 significant digits; lengths in metres. No times, dates or thread counts.
std::string window_json(const Window& window);
// Gap across, depth downwards, once an output, coloured by the slack.
Canvas draw_window(const Window& window);

}  // namespace boughlight
