// The cells that the enclosure is divided into, their free volume, and the ways of a ray through them.
#pragma once

#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "geometry/panel.h"
#include "scene/model.h"

namespace boughlight {

class CellGrid {
 public:
  struct Block {         // the cells of one box
    Vec3f corner, cell;  // m
    std::array<int, 3> count{};
    std::size_t first = 0;  // index of its first cell; x runs fastest, then y, then z
  };

  // Each edge of each box is divided into round(edge / spacing) equal cells, at least one.
  CellGrid(const Scene& scene, double spacing);

  std::size_t size() const { return free_share_.size(); }
  const std::vector<Block>& blocks() const { return blocks_; }
  std::size_t block_of(std::size_t cell) const;
  std::array<int, 3> index_of(std::size_t cell) const;
  Vec3f low_corner(std::size_t cell) const;
  // The cell that holds a place, or the one whose centre is nearest to it among those closest in every block.
  std::size_t nearest_cell(const Vec3f& place) const;
  Vec3f extent(std::size_t cell) const { return blocks_[block_of(cell)].cell; }
  // Volume outside branches, closed models and bodies of lamps, as a share of the cell (0..1) and in m3.
  float free_share(std::size_t cell) const { return free_share_[cell]; }
  float free_volume(std::size_t cell) const { return free_share_[cell] * extent(cell).prod(); }

  // Calls visit(cell, length) for every cell that a straight piece passes through, lengths in m.
  template <class Visit>
  void traverse(const Vec3f& origin, const Vec3f& direction, float distance, Visit&& visit) const;

 private:
  std::vector<Block> blocks_;
  std::vector<float> free_share_;
};

template <class Visit>
void CellGrid::traverse(const Vec3f& origin, const Vec3f& direction, float distance, Visit&& visit) const {
  constexpr float kInfinity = std::numeric_limits<float>::infinity();
  for (const Block& block : blocks_) {
    float enter = 0, leave = distance;
    for (int axis = 0; axis < 3; ++axis) {
      const float low = block.corner[axis] - origin[axis];
      const float high =
          low + block.cell[axis] * static_cast<float>(block.count[static_cast<std::size_t>(axis)]);
      if (direction[axis] == 0) {
        if (low > 0 || high < 0) leave = -1;
        continue;
      }
      const float a = low / direction[axis], b = high / direction[axis];
      enter = std::max(enter, std::min(a, b));
      leave = std::min(leave, std::max(a, b));
    }
    if (!(enter < leave)) continue;
    std::array<int, 3> index{}, step{};
    std::array<float, 3> next{}, stride{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const int i = static_cast<int>(axis);
      const float inside = (origin[i] + enter * direction[i] - block.corner[i]) / block.cell[i];
      index[axis] = std::clamp(static_cast<int>(std::floor(inside)), 0, block.count[axis] - 1);
      step[axis] = direction[i] > 0 ? 1 : -1;
      if (direction[i] == 0) {
        next[axis] = stride[axis] = kInfinity;
        continue;
      }
      const float edge =
          block.corner[i] + block.cell[i] * static_cast<float>(index[axis] + (step[axis] > 0 ? 1 : 0));
      next[axis] = (edge - origin[i]) / direction[i];
      stride[axis] = block.cell[i] / std::abs(direction[i]);
    }
    float from = enter;
    for (;;) {
      std::size_t axis = next[0] < next[1] ? 0 : 1;
      if (next[2] < next[axis]) axis = 2;
      const float until = std::min(next[axis], leave);
      if (until > from) {
        const std::size_t cell =
            block.first +
            static_cast<std::size_t>(index[0] + block.count[0] * (index[1] + block.count[1] * index[2]));
        visit(cell, until - from);
        from = until;
      }
      if (!(next[axis] < leave)) break;
      index[axis] += step[axis];
      if (index[axis] < 0 || index[axis] >= block.count[axis]) break;
      next[axis] += stride[axis];
    }
  }
}

}  // namespace boughlight
