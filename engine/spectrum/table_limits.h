// What files of tables may hold. Private to this room.
#pragma once

namespace boughlight {

// A greater number is a mistake, and sums over it need not be finite: counts of photons reach some 1e21.
inline constexpr double kMostInTable = 1e30;

}  // namespace boughlight
