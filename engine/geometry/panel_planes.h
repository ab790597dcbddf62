// The panels side by side, so that one ray is held against several of them at once.
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
    const auto put = [lane](std::array<Lanes, 3>& to, const Vec3f& from) {
      for (std::size_t axis = 0; axis < 3; ++axis) to[axis][lane] = from[static_cast<Eigen::Index>(axis)];
    };
    put(block.normal, panel.normal);
    put(block.corner, panel.corner);
    put(block.u, panel.u);
    put(block.v, panel.v);
    block.length_u[lane] = panel.length_u;
    block.length_v[lane] = panel.length_v;
  }

  // Calls visit(index, distance) for every panel, in the order they were added, that the ray crosses in
  // (from, before), distances along it in m.
  template <class Visit>
  void crossed(const Vec3f& origin, const Vec3f& direction, float from, float before, Visit&& visit) const {
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      const Block& block = blocks_[b];
      std::array<Lanes, 3> offset;
      Lanes slope{}, height{};
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto i = static_cast<Eigen::Index>(axis);
        offset[axis] = origin[i] - block.corner[axis];
        slope += block.normal[axis] * direction[i];
        height -= block.normal[axis] * offset[axis];
      }
      // A ray along the plane: infinite or not a number, which no comparison lets in. Empty lanes are such.
      const Lanes distance = height / slope;
      Lanes along_u{}, along_v{};
      for (std::size_t axis = 0; axis < 3; ++axis) {
        const Lanes place = offset[axis] + distance * direction[static_cast<Eigen::Index>(axis)];
        along_u += place * block.u[axis];
        along_v += place * block.v[axis];
      }
      const LaneMask met = (distance > from) & (distance < before) & (along_u >= 0.0f) &
                           (along_u < block.length_u) & (along_v >= 0.0f) & (along_v < block.length_v);
      for (std::uint32_t hits = bits_of(met); hits != 0; hits &= hits - 1) {
        const int lane = std::countr_zero(hits);
        visit(b * kLanes + static_cast<std::size_t>(lane), distance[lane]);
      }
    }
  }

 private:
  // The compiler's own vectors: what they are compared to stays a vector too.
  static constexpr int kLanes = 8;
  using Lanes = float __attribute__((vector_size(kLanes * sizeof(float))));
  using LaneMask = int __attribute__((vector_size(kLanes * sizeof(int))));

  static std::uint32_t bits_of(const LaneMask& mask) {
#ifdef __AVX__
    return static_cast<std::uint32_t>(__builtin_ia32_movmskps256(std::bit_cast<Lanes>(mask)));
#else
    std::uint32_t bits = 0;
    for (int lane = 0; lane < kLanes; ++lane) bits |= static_cast<std::uint32_t>(mask[lane] & 1) << lane;
    return bits;
#endif
  }

  struct Block {
    std::array<Lanes, 3> normal{}, corner{}, u{}, v{};
    Lanes length_u{}, length_v{};
  };
  std::vector<Block> blocks_;
  std::size_t count_ = 0;
};

}  // namespace boughlight
