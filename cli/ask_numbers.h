// Numbers as people type them: "18 x 18 x 36", "18\"", "1/16", "45 CM", "4 at 30 cm".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "units/units.h"

namespace boughlight::cli {

// What one number of an answer may be.
struct Sought {
  Dimension dimension = Dimension::number;
  std::string unit;            // of a bare number; "" for plain ones
  double least = 0, most = 0;  // in the dimension's base unit
};

// As many as are sought, or from `needed` on, in base units. A unit that stands only behind the last of
// several numbers of one dimension holds for all of them. On failure nothing, and why in `why`, for people.
std::optional<std::vector<double>> numbers_of(const std::string& answer, const std::vector<Sought>& sought,
                                              std::size_t needed, std::string& why);

}  // namespace boughlight::cli
