// The leaves of a plant: real rectangles, each hanging where the crown's own seed puts it.
#pragma once

#include <vector>

#include "scene/model.h"

namespace boughlight {

struct Leaf {
  Vec3 centre = Vec3::Zero();
  Vec3 half_length = Vec3::Zero(), half_width = Vec3::Zero();  // at right angles, m
};

// Leaves until the grown one-sided leaf area is reached. Normals uniform over the sphere, centres uniform in
// the part of the grown crown that lies inside the enclosure. Leaf i depends on the seed and i alone, so a
// crown that grows keeps its leaves and adds more.
std::vector<Leaf> grow_leaves(const Scene& scene, const Plant& plant);
std::size_t leaf_count(const Plant& plant);
Leaf grow_leaf(const Scene& scene, const Plant& plant, std::size_t i);

// A place uniform in the grown crown's part inside the enclosure, from a stream of its own (used to average
// over the crown's volume).
Vec3 place_in_crown(const Scene& scene, const Plant& plant, std::uint64_t stream);

// Part of a grown crown: of the ellipsoid with `share` (0..1) of its radii, what lies between two heights, -1
// at that ellipsoid's lowest point and 1 at its highest; inside the enclosure or not.
struct CrownSlab {
  double share = 1, from = -1, to = 1;
};
// The unit cube carried to it so that equal volumes stay in proportion.
Vec3 crown_place_of(const Plant& plant, const CrownSlab& slab, const Vec3& in_cube);

}  // namespace boughlight
