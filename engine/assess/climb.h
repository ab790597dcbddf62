// The way from a place to where something is more. Private to the searches for places.
#pragma once

#include "assess/reachable.h"
#include "transport/directions.h"

namespace boughlight {

// From `best` in steps of `step` and less, down to `least` (m), along a cube's axes and diagonals, as long
// as worth(place) rises; only places within reach. look(Vec3) makes a place; the same random numbers must
// stand behind all, or chance would be climbed. The way that led up is tried again first: most of a climb
// goes straight on.
template <class Place, class Look, class Worth>
Place climbed(Place best, const Reachable& reachable, double step, double least, Look&& look, Worth&& worth) {
  std::size_t lead = 0;
  while (step >= least) {
    bool rose = false;
    for (std::size_t k = 0; k < orientations().size() && !rose; ++k) {
      const std::size_t way = (lead + k) % orientations().size();
      const Vec3 at = best.at + step * orientations()[way].template cast<double>();
      if (!reachable.contains(at)) continue;
      Place place = look(at);
      if (!(worth(place) > worth(best))) continue;
      best = std::move(place);
      lead = way;
      rose = true;
    }
    if (!rose) step /= 2;
  }
  return best;
}

}  // namespace boughlight
