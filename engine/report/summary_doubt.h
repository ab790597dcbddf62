// What the terminal says of doubt, losses, failures and where to measure.
#pragma once

#include <string>

#include "assess/results.h"

namespace boughlight {

// The words after a figure that meets its limits where its band does not: " may be 1.4 to 2.9, most of it
// because lamps like 'uv tube' differ". Empty where the band is not known.
std::string band_text(const Band& band);
std::string band_text(const Survey& survey, std::size_t reading, Quantity quantity);

// Sections of the summary, each beginning with an empty line; empty where there is nothing to say.
std::string doubt_sections(const Survey& survey);

}  // namespace boughlight
