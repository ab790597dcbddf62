// When a growing crown gets to a mesh or to a perch.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scene/months_ahead.h"

namespace boughlight {

struct CrownTouch {
  std::string what;   // "mesh", "perch"
  std::string name;   // the mesh's material and face ("mesh-fine, left"), or the perch's name
  double month = 0;   // 0: already
  double growth = 1;  // of the crown then
};

// Every mesh of the enclosure, by material and side, and every perch (the animal's back on it as it is today)
// that the crown reaches within `months`, soonest first. The crown is taken as its ellipsoid: exact.
std::vector<CrownTouch> crown_touches(const Scene& scene, const Plant& plant, const GrowthCurve& curve,
                                      double months);

// The growth at which a crown reaches a place.
double growth_to_reach(const Plant& plant, const Vec3& place);

}  // namespace boughlight
