// The panels' planes side by side, so that one ray is held against several of them at once.
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <vector>

#include "geometry/panel.h"

namespace boughlight {

class PanelPlanes {
 public:
  void add(const Panel& panel) {
    const std::size_t lane = count_++ % kLanes;
    if (lane == 0) blocks_.emplace_back();
    Block& block = blocks_.back();
    for (std::size_t axis = 0; axis < 3; ++axis) {
      block.normal[axis][static_cast<Eigen::Index>(lane)] = panel.normal[static_cast<Eigen::Index>(axis)];
      block.corner[axis][static_cast<Eigen::Index>(lane)] = panel.corner[static_cast<Eigen::Index>(axis)];
    }
  }

  // Calls visit(index, distance) for every panel, in the order they were added, whose plane the ray crosses
  // in (from, before), distances along it in m. Whether it crosses within the panel's edges is left to the
  // caller.
  template <class Visit>
  void crossed(const Vec3f& origin, const Vec3f& direction, float from, float before, Visit&& visit) const {
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      const Block& block = blocks_[b];
      const Lanes slope =
          block.normal[0] * direction.x() + block.normal[1] * direction.y() + block.normal[2] * direction.z();
      const Lanes height = block.normal[0] * (block.corner[0] - origin.x()) +
                           block.normal[1] * (block.corner[1] - origin.y()) +
                           block.normal[2] * (block.corner[2] - origin.z());
      // A ray along the plane: infinite or not a number, which no comparison lets in. Empty lanes are such.
      const Lanes distance = height / slope;
      std::uint32_t hits = 0;
      for (Eigen::Index lane = 0; lane < kLanes; ++lane)
        hits |= static_cast<std::uint32_t>(distance[lane] > from && distance[lane] < before) << lane;
      for (; hits != 0; hits &= hits - 1) {
        const int lane = std::countr_zero(hits);
        visit(b * kLanes + static_cast<std::size_t>(lane), distance[lane]);
      }
    }
  }

 private:
  static constexpr int kLanes = 8;
  using Lanes = Eigen::Array<float, kLanes, 1>;
  struct Block {
    std::array<Lanes, 3> normal{Lanes::Zero(), Lanes::Zero(), Lanes::Zero()};
    std::array<Lanes, 3> corner{Lanes::Zero(), Lanes::Zero(), Lanes::Zero()};
  };
  std::vector<Block> blocks_;
  std::size_t count_ = 0;
};

}  // namespace boughlight
