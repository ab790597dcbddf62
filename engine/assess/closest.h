// The closest reachable place to every lamp: what an animal gets that hangs from the mesh below it.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// One entry a lamp, in the scene's order; none without an animal or a reachable place.
//
// The closest place is the reachable one where this lamp's own direct light is strongest: in the open that is
// the nearest one within its beam. UV index and irradiance count together, UVI 8 as much as 1000 W/m2 (a
// reading that meter instructions call unsafe, and full sun); every dimmer at full, so that a lamp that is
// switched off has its place too. What is read there is the light of all lamps.
std::vector<ClosestPlace> find_closest(Setting& setting);

// How far straight up from a place inside the enclosure its outer face is, m, and that face's material
// ("open" where there is none).
struct TopAbove {
  double distance = 0;
  std::string material;
};
TopAbove top_above(const Scene& scene, const Vec3& place);

}  // namespace boughlight
