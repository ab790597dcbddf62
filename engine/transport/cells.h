// Light averaged over the grid's cells: direct light by connections from places all over each cell,
// everything else by following light from the lamps and counting the lengths of its ways through the cells,
// which tells of direct light as well. Both are unbiased for the mean over a cell's free volume.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "transport/directions.h"
#include "transport/gather.h"
#include "transport/grid.h"

namespace boughlight {

// Told, by cell, what a lamp's light paths say in one replicate of the light that comes straight from it and
// through no pane: irradiance facing up per unit of emission, the same in every bin. Called from several
// threads.
using StraightTeller =
    std::function<void(int replicate, std::size_t lamp, const std::vector<float>& straight)>;

// The same by connections, in one cell: by lamp.
using GreyTeller = std::function<void(int replicate, std::size_t cell, const std::vector<float>& grey)>;

// Independent randomised replicates behind the standard errors of cells. Fewer than of readings: most cells
// are known to a few percent, and more samples together are spread out more evenly.
inline constexpr int kCellReplicates = 8;

class CellLight {
 public:
  CellLight(std::size_t cells, std::size_t sources, std::size_t channels);

  // Irradiance per unit of emission on a sensor facing up, mean over the cell (as in Response).
  using Bins = Eigen::Map<Spectral>;
  using ConstBins = Eigen::Map<const Spectral>;
  Bins up(int replicate, std::size_t source, std::size_t cell) {
    return Bins(up_.get() + kBins * position(replicate, source, cell));
  }
  ConstBins up(int replicate, std::size_t source, std::size_t cell) const {
    return ConstBins(up_.get() + kBins * position(replicate, source, cell));
  }
  // Each channel's value on sensors in the 26 orientations, all replicates together. Holds the indirect light
  // only.
  Eigen::Map<Orientations> oriented(std::size_t channel, std::size_t cell) {
    return Eigen::Map<Orientations>(oriented_.get() + kOrientations * (channel * cells_ + cell));
  }
  Eigen::Map<const Orientations> oriented(std::size_t channel, std::size_t cell) const {
    return Eigen::Map<const Orientations>(oriented_.get() + kOrientations * (channel * cells_ + cell));
  }
  std::size_t cells() const { return cells_; }
  std::size_t sources() const { return sources_; }
  RayCount rays;

  // All numbers as they lie in memory, for keeping them.
  std::span<float> all_up() { return {up_.get(), up_size_}; }
  std::span<float> all_oriented() { return {oriented_.get(), oriented_size_}; }
  void clear();  // no light

  // Bytes that an object of this size takes.
  static double bytes(std::size_t cells, std::size_t sources, std::size_t channels);

 private:
  std::size_t position(int replicate, std::size_t source, std::size_t cell) const {
    return (static_cast<std::size_t>(replicate) * sources_ + source) * cells_ + cell;
  }
  std::size_t cells_, sources_, up_size_, oriented_size_;
  struct Freed {
    void operator()(float* numbers) const { std::free(numbers); }
  };
  // From the start of a cache line, so that no set of bins lies across more of them than it must.
  using Numbers = std::unique_ptr<float[], Freed>;
  static Numbers numbers(std::size_t size);
  Numbers up_, oriented_;
};

// Adds the direct light (not by way of mirrors): places[cell * lamps + lamp] places in each replicate. Of
// what comes through no pane, the share told[cell * lamps + lamp] is left out; empty: nothing is. `tell` may
// be empty.
void add_direct(const LightField& field, const Scene& scene, const CellGrid& grid,
                const std::vector<std::uint32_t>& places, const std::vector<float>& told,
                const GreyTeller& tell, std::uint64_t seed, CellLight& light);

// Adds all light that has left a surface, a mesh or a mirror, and the room's: paths[source] light paths a
// source in each replicate; channels as those of `light`. `tell` may be empty.
void add_indirect(const LightField& field, const CellGrid& grid, const std::vector<Channel>& channels,
                  const std::vector<std::uint32_t>& paths, const StraightTeller& tell, std::uint64_t seed,
                  CellLight& light);

// Direct light (not by way of mirrors) of a lamp at a place in the 26 orientations, the mean of samples
// `first` up to, not with, `first` + `samples`. Adds to `grey` what is the same in every bin, irradiance per
// unit of emission, and to tinted[channel] what crossed panes, which it is filled up for when there is any.
// True where surfaces stand in the way of some of the lamp and not of all.
bool add_direct_orientations(const LightField& field, const std::vector<Channel>& channels, std::size_t lamp,
                             const Vec3f& place, std::uint64_t id, std::uint32_t first, std::uint32_t samples,
                             Orientations& grey, std::vector<Orientations>& tinted, RayCount& rays);

// Places uniform in a cell's free volume; the pairs stratify them over a set of samples.
class CellPlaces {
 public:
  CellPlaces(const Scene& scene, const CellGrid& grid, std::size_t cell)
      : scene_(scene),
        low_(grid.low_corner(cell)),
        extent_(grid.extent(cell)),
        has_solid_(grid.free_share(cell) < 1) {}
  Vec3f at(PairSampler& sampler) const;
  // The places of at most World::kSegments samples, each as at() has it.
  void place_all(std::span<DirectSample> samples) const;

 private:
  Vec3f place_of(const Pair& across, const Pair& up) const {
    return low_ + extent_.cwiseProduct(Vec3f(across.u, across.v, up.u));
  }

  const Scene& scene_;
  Vec3f low_, extent_;
  bool has_solid_;
};

}  // namespace boughlight
