#include "transport/grid.h"

#include <algorithm>

namespace boughlight {
namespace {

// Share of a cell outside all branches, from a lattice of midpoints; only cells that a branch may touch are
// looked into.
float free_share_of(const Scene& scene, const Vec3f& low, const Vec3f& extent) {
  const Vec3 centre = (low + 0.5f * extent).cast<double>();
  const double half_diagonal = 0.5 * extent.norm();
  std::vector<const Branch*> near;
  for (const Branch& branch : scene.branches)
    if (branch.signed_distance(centre) < half_diagonal) near.push_back(&branch);
  if (near.empty()) return 1;
  constexpr int kPoints = 16;
  int free = 0;
  for (int z = 0; z < kPoints; ++z)
    for (int y = 0; y < kPoints; ++y)
      for (int x = 0; x < kPoints; ++x) {
        const Vec3 share = (Vec3(x, y, z).array() + 0.5) / kPoints;
        const Vec3 place = low.cast<double>() + share.cwiseProduct(extent.cast<double>());
        if (std::none_of(near.begin(), near.end(),
                         [&](const Branch* branch) { return branch->signed_distance(place) < 0; }))
          ++free;
      }
  return static_cast<float>(free) / (kPoints * kPoints * kPoints);
}

}  // namespace

CellGrid::CellGrid(const Scene& scene, double spacing) {
  for (const Box& box : scene.boxes) {
    Block block;
    block.corner = box.corner.cast<float>();
    std::size_t cells = 1;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const double edge = box.size[static_cast<int>(axis)];
      block.count[axis] = std::max(1, static_cast<int>(std::lround(edge / spacing)));
      block.cell[static_cast<int>(axis)] = static_cast<float>(edge / block.count[axis]);
      cells *= static_cast<std::size_t>(block.count[axis]);
    }
    block.first = free_share_.size();
    blocks_.push_back(block);
    free_share_.resize(free_share_.size() + cells, 1.0f);
  }
  for (std::size_t cell = 0; cell < size(); ++cell)
    free_share_[cell] = free_share_of(scene, low_corner(cell), extent(cell));
}

std::size_t CellGrid::block_of(std::size_t cell) const {
  std::size_t block = blocks_.size() - 1;
  while (blocks_[block].first > cell) --block;
  return block;
}

std::array<int, 3> CellGrid::index_of(std::size_t cell) const {
  const Block& block = blocks_[block_of(cell)];
  const int within = static_cast<int>(cell - block.first);
  return {within % block.count[0], within / block.count[0] % block.count[1],
          within / (block.count[0] * block.count[1])};
}

Vec3f CellGrid::low_corner(std::size_t cell) const {
  const Block& block = blocks_[block_of(cell)];
  const auto index = index_of(cell);
  return block.corner +
         block.cell.cwiseProduct(
             Vec3f(static_cast<float>(index[0]), static_cast<float>(index[1]), static_cast<float>(index[2])));
}

std::size_t CellGrid::nearest_cell(const Vec3f& place) const {
  std::size_t cell = 0;
  float nearest = std::numeric_limits<float>::infinity();
  for (const Block& block : blocks_) {
    std::array<int, 3> index{};
    Vec3f centre;
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const int i = static_cast<int>(axis);
      const float inside = (place[i] - block.corner[i]) / block.cell[i];
      index[axis] = std::clamp(static_cast<int>(std::floor(inside)), 0, block.count[axis] - 1);
      centre[i] = block.corner[i] + (static_cast<float>(index[axis]) + 0.5f) * block.cell[i];
    }
    const float distance = (place - centre).squaredNorm();
    if (distance >= nearest) continue;
    nearest = distance;
    cell = block.first +
           static_cast<std::size_t>(index[0] + block.count[0] * (index[1] + block.count[1] * index[2]));
  }
  return cell;
}

}  // namespace boughlight
