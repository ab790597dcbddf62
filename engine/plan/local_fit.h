// Averaging out the error between neighbouring places of a lattice, where what is estimated changes smoothly
// and the errors are independent.
#pragma once

#include "plan/split.h"
#include "plan/top.h"

namespace boughlight {

// Each place's value, replicate by replicate, from a quadratic fitted by least squares to the places around
// it: at most 7 x 7 x 3 of them and no more than 6.5 cm away, the nearest ones at a rim. A figure that is
// quadratic over so few places is given exactly; fewer than three places along an axis are fitted by a line,
// one by itself.
std::vector<Replicates> local_fit(const Lattice3& lattice, const std::vector<Replicates>& values);

}  // namespace boughlight
