// Forms that several parts of the format share. Private to this room.
#pragma once

#include <numbers>

#include "scene/format.h"
#include "spectrum/bins.h"

namespace boughlight::format {

inline constexpr double kPi = std::numbers::pi;

// [least, most] or {min:, max:} of shares of the enclosure.
Forms share_limits_forms();
// A ratio, a table [[300 nm, 0.05], ...] or {file: x.csv}.
Forms spectral_ratio_forms();
// A list of [x, y] pairs.
Form entries_form(std::string_view entry, const Form& x, const Form& y, std::size_t fewest = 1);

}  // namespace boughlight::format
