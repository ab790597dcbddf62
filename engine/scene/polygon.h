// Cutting a polygon in space into triangles.
#pragma once

#include <optional>
#include <vector>

#include "scene/shell.h"

namespace boughlight {

// The polygon with these corners (indices into `vertices`, three or more) as triangles that turn the same way
// round, by clipping ears in the plane that it lies nearest to; it may be concave and need not be quite flat.
// Triangles without area may be among them, so that the edges are those of the polygon. Nothing where its
// outline crosses itself.
std::optional<std::vector<Triangle>> cut_into_triangles(const std::vector<Vec3>& vertices,
                                                        const std::vector<std::uint32_t>& corners);

}  // namespace boughlight
