// Which parts of the boxes' sides are outer faces: a side's rectangle less what the neighbouring box covers.
#pragma once

#include <vector>

#include "scene/model.h"

namespace boughlight {

// An axis-aligned rectangle on an outer side of a box.
struct FacePart {
  int box = 0;
  Side side = Side::floor;
  int material = -1;  // -1: open
  Vec3 corner = Vec3::Zero();
  Vec3 edge_u = Vec3::Zero(),
       edge_v = Vec3::Zero();   // u, v = x, y on top and floor; x, z front, back; y, z left, right
  Vec3 outward = Vec3::Zero();  // unit normal, away from the box
};

// Every uncovered rectangle of every side, disjoint; areas add up to the outer surface of the stack.
std::vector<FacePart> outer_faces(const std::vector<Box>& boxes);

// Whether it lets no light through: neither open nor of mesh, pane or leaf.
bool is_opaque(const FacePart& face, const std::vector<Material>& materials);

// A side of which no more is uncovered counts as wholly covered: the rest is rounding.
inline constexpr double kCovered = 1e-9;

// The part (0..1) of a box's side that no neighbour covers.
double uncovered_share(const std::vector<Box>& boxes, int box, Side side);

}  // namespace boughlight
