#include "transport/grid.h"

#include <tbb/parallel_for.h>

#include <algorithm>

namespace boughlight {
namespace {

// Where branches, closed models and the bodies of lamps are.
class Solids {
 public:
  explicit Solids(const Scene& scene) : scene_(scene) {
    for (const Lamp& lamp : scene.lamps)
      if (const auto body = lamp.body()) bodies_.push_back(*body);
  }

  // Share of a cell outside all solids, from a lattice of midpoints; only cells that a solid may touch are
  // looked into.
  float free_share(const Vec3& low, const Vec3& extent) const {
    const Vec3 centre = low + 0.5 * extent, high = low + extent;
    const double half_diagonal = 0.5 * extent.norm();
    std::vector<const Branch*> branches;
    for (const Branch& branch : scene_.branches)
      if (branch.signed_distance(centre) < half_diagonal) branches.push_back(&branch);
    std::vector<const Shell*> shells;
    for (const Model& model : scene_.models) {
      if (!model.shell->closed()) continue;
      if (model.shell->may_touch(low, high)) {
        shells.push_back(model.shell.get());
      } else if (model.shell->contains(centre)) {
        return 0;
      }
    }
    std::vector<const OrientedBox*> bodies;
    for (const OrientedBox& body : bodies_)
      if ((body.centre - centre).norm() < half_diagonal + body.half.norm()) bodies.push_back(&body);
    if (branches.empty() && shells.empty() && bodies.empty()) return 1;
    int free = 0;
    std::vector<Shell::Stretch> stretches, all;
    for (int y = 0; y < kPoints; ++y)
      for (int x = 0; x < kPoints; ++x) {
        Vec3 place = lattice_point(low, extent, x, y, 0);
        all.clear();
        for (const Shell* shell : shells) {
          shell->stretches(place.x(), place.y(), stretches);
          all.insert(all.end(), stretches.begin(), stretches.end());
        }
        for (int z = 0; z < kPoints; ++z) {
          place = lattice_point(low, extent, x, y, z);
          const bool taken =
              std::any_of(branches.begin(), branches.end(),
                          [&](const Branch* branch) { return branch->signed_distance(place) < 0; }) ||
              std::any_of(
                  all.begin(), all.end(),
                  [&](const auto& inside) { return inside[0] < place.z() && place.z() < inside[1]; }) ||
              std::any_of(bodies.begin(), bodies.end(),
                          [&](const OrientedBox* body) { return body->contains(place); });
          if (!taken) ++free;
        }
      }
    return static_cast<float>(free) / (kPoints * kPoints * kPoints);
  }

 private:
  static constexpr int kPoints = 16;
  static Vec3 lattice_point(const Vec3& low, const Vec3& extent, int x, int y, int z) {
    const Vec3 share = (Vec3(x, y, z).array() + 0.5) / kPoints;
    return low + share.cwiseProduct(extent);
  }

  const Scene& scene_;
  std::vector<OrientedBox> bodies_;
};

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
  const Solids solids(scene);
  tbb::parallel_for(std::size_t{0}, size(), [&](std::size_t cell) {
    free_share_[cell] = solids.free_share(low_corner(cell).cast<double>(), extent(cell).cast<double>());
  });
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
