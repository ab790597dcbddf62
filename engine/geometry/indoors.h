// The inside of the enclosure as rays see it, in single precision.
#pragma once

#include <algorithm>
#include <vector>

#include "geometry/panel.h"
#include "scene/model.h"

namespace boughlight {

// Where a ray that started inside ends close to an edge or corner, rounding may put its end beyond the other
// wall there, and light that goes on from it would be lost, or let in. Such ends are put back `skin` inside
// that wall; no surface moves, and no place that is further from a wall than that.
class Indoors {
 public:
  Indoors() = default;  // nothing is inside
  // `offset`: what a new ray keeps off the surface that it leaves, m; more than twice a place's rounding.
  Indoors(const std::vector<Box>& boxes, float offset) : offset_(offset) {
    const Vec3f skin = Vec3f::Constant(0.5f * offset);
    for (const Box& box : boxes) {
      const Eigen::AlignedBox3f exact(box.corner.cast<float>(), box.far_corner().cast<float>());
      wide_.emplace_back(exact.min() - skin, exact.max() + skin);
      narrow_.emplace_back(exact.min() + skin, exact.max() - skin);
    }
  }

  // The end of a ray on a surface whose normal, on the side that light goes on from, is this; along the
  // normal it stays where it is.
  Vec3f keep(const Vec3f& origin, Vec3f end, const Vec3f& normal) const {
    const std::size_t box = holding(end + offset_ * normal);
    if (box == wide_.size() || holding(origin) == wide_.size()) return end;
    constexpr float kAlong = 0.7f;
    for (int axis = 0; axis < 3; ++axis)
      if (std::abs(normal[axis]) < kAlong)
        end[axis] = std::clamp(end[axis], narrow_[box].min()[axis], narrow_[box].max()[axis]);
    return end;
  }

 private:
  std::size_t holding(const Vec3f& place) const {
    std::size_t box = 0;
    while (box < wide_.size() && !wide_[box].contains(place)) ++box;
    return box;
  }
  float offset_ = 0;
  std::vector<Eigen::AlignedBox3f> wide_, narrow_;
};

}  // namespace boughlight
