// A box that may be turned any way.
#pragma once

#include <array>

#include "spectrum/emitter.h"

namespace boughlight {

struct OrientedBox {
  Vec3 centre = Vec3::Zero();
  Vec3 half = Vec3::Zero();                            // half its size along its own axes, m; 0 is a sheet
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  // its axes as columns, unit, right-handed

  bool contains(const Vec3& place) const;  // inside, not on its faces
  std::array<Vec3, 8> corners() const;     // bit k of the index: at the far end of axis k
  // How far it reaches from its centre in a direction (unit), m.
  double extent(const Vec3& direction) const;
  // Whether the two share a space deeper than `slack` (m) in every direction.
  bool overlaps(const OrientedBox& other, double slack) const;
};

}  // namespace boughlight
