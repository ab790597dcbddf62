// What the animal's findings warn of.
#pragma once

#include "assess/results.h"

namespace boughlight {

// Adds cautions of the kinds "hot-cone", "peak-to-edge", "nested-beams", "size", "shade", "refuge-path",
// "uv-without-heat" and "no-reach".
void add_animal_cautions(const Survey& survey, std::vector<Caution>& cautions);

}  // namespace boughlight
