// Of which quantities there are maps: the grid's cells are lit until these are known.
#pragma once

#include <array>

#include "spectrum/quantity.h"

namespace boughlight {

inline constexpr std::array kMappedQuantities = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};

}  // namespace boughlight
