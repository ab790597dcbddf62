#include "geometry/foliage.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "geometry/stream.h"

namespace boughlight {
namespace {

Vec3 uniform_direction(Stream& stream) {
  const double z = 2 * stream.next() - 1, azimuth = 2 * std::numbers::pi * stream.next();
  const double radius = std::sqrt(std::max(0.0, 1 - z * z));
  return {radius * std::cos(azimuth), radius * std::sin(azimuth), z};
}

// Uniform in the crown's part inside the enclosure by trying the boxes' shares of the crown's bounding box,
// for crowns of which little is inside.
Vec3 place_in_cut_crown(const Scene& scene, const Plant& plant, Stream& stream) {
  const Vec3 radii = plant.grown_radii();
  std::vector<Eigen::AlignedBox3d> parts;
  double volume = 0;
  for (const Box& box : scene.boxes) {
    const Eigen::AlignedBox3d part =
        Eigen::AlignedBox3d(box.corner, box.far_corner())
            .intersection(Eigen::AlignedBox3d(plant.crown_centre - radii, plant.crown_centre + radii));
    if (part.isEmpty()) continue;
    parts.push_back(part);
    volume += part.volume();
  }
  // The loader has made sure that part of the crown is inside; the bound only ends a hopeless search.
  for (int attempt = 0; attempt < 1'000'000 && volume > 0; ++attempt) {
    double left = stream.next() * volume;
    std::size_t i = 0;
    while (i + 1 < parts.size() && left >= parts[i].volume()) left -= parts[i++].volume();
    const double x = stream.next(), y = stream.next(), z = stream.next();
    const Vec3 place = parts[i].min() + Vec3(x, y, z).cwiseProduct(parts[i].sizes());
    if ((place - plant.crown_centre).cwiseQuotient(radii).squaredNorm() <= 1) return place;
  }
  throw std::runtime_error("the crown of '" + plant.name + "' has almost no part inside the enclosure");
}

Vec3 place_in_crown(const Scene& scene, const Plant& plant, Stream& stream) {
  // A leaf of a whole crown keeps its place relative to the crown when that grows.
  constexpr int kTries = 64;
  for (int attempt = 0; attempt < kTries; ++attempt) {
    const double x = 2 * stream.next() - 1, y = 2 * stream.next() - 1, z = 2 * stream.next() - 1;
    const Vec3 in_ball(x, y, z);
    if (in_ball.squaredNorm() > 1) continue;
    const Vec3 place = plant.crown_centre + plant.grown_radii().cwiseProduct(in_ball);
    if (scene.inside(place)) return place;
  }
  return place_in_cut_crown(scene, plant, stream);
}

}  // namespace

std::size_t leaf_count(const Plant& plant) {
  return static_cast<std::size_t>(
      std::ceil(plant.grown_leaf_area() / (plant.leaf_length * plant.leaf_width) - 1e-9));
}

Leaf grow_leaf(const Scene& scene, const Plant& plant, std::size_t i) {
  Stream stream(plant.seed, i);
  const Vec3 centre = place_in_crown(scene, plant, stream);
  const Vec3 normal = uniform_direction(stream);
  const Vec3 side = normal.unitOrthogonal(), other = normal.cross(side);
  const double turn = 2 * std::numbers::pi * stream.next();
  const Vec3 along = std::cos(turn) * side + std::sin(turn) * other;
  return {centre, 0.5 * plant.leaf_length * along, 0.5 * plant.leaf_width * normal.cross(along)};
}

std::vector<Leaf> grow_leaves(const Scene& scene, const Plant& plant) {
  std::vector<Leaf> leaves(leaf_count(plant));
  tbb::parallel_for(std::size_t{0}, leaves.size(),
                    [&](std::size_t i) { leaves[i] = grow_leaf(scene, plant, i); });
  return leaves;
}

Vec3 place_in_crown(const Scene& scene, const Plant& plant, std::uint64_t stream_number) {
  Stream stream(plant.seed ^ 0x9d1ce5a7u, stream_number);
  return place_in_crown(scene, plant, stream);
}

Vec3 crown_place_of(const Plant& plant, const CrownSlab& slab, const Vec3& in_cube) {
  // Of the unit ball the volume below a height h is pi (h - h^3 / 3) and a constant; and h = 2 sin(a) where
  // h - h^3 / 3 = 2/3 sin(3 a).
  const auto below = [](double h) { return h - h * h * h / 3; };
  const double volume = below(slab.from) + in_cube.z() * (below(slab.to) - below(slab.from));
  const double height = 2 * std::sin(std::asin(std::clamp(1.5 * volume, -1.0, 1.0)) / 3);
  const double radius = std::sqrt(std::max(0.0, in_cube.y() * (1 - height * height)));
  const double azimuth = 2 * std::numbers::pi * in_cube.x();
  const Vec3 in_ball(radius * std::cos(azimuth), radius * std::sin(azimuth), height);
  return plant.crown_centre + slab.share * plant.grown_radii().cwiseProduct(in_ball);
}

}  // namespace boughlight
