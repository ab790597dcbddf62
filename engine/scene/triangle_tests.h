// Where a triangle in space lies to a place or a box.
#pragma once

#include <array>

#include "spectrum/emitter.h"

namespace boughlight {

using Corners = std::array<Vec3, 3>;

// Whether a place lies on the triangle, or at most `within` (m) off it: above or below it, or beside its
// edges in its own plane. Never on one without area.
bool lies_on(const Vec3& place, const Corners& triangle, double within);

// Whether any part of the triangle lies in the box from `low` to `high`, its faces counted in.
bool meets_box(const Corners& triangle, const Vec3& low, const Vec3& high);

}  // namespace boughlight
