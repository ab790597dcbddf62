// What a lamp adds to one receiver's reading, for any place that the lamp may be put. Light paths are
// followed from the receiver outwards once; the places where they scatter are kept and joined to the lamp
// wherever it hangs, so that a further place costs a few hundred visibility queries and no new paths.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "transport/gather.h"
#include "transport/walk.h"

namespace boughlight {

// Joins to the lamp in each replicate, for one place of it: from the receiver itself, and from where its
// paths scatter.
struct UptakeEffort {
  std::uint32_t direct = 16;
  std::uint32_t indirect = 16;
  // Sets of joins, independent in which of them is which: a place of the lamp is read with one of them. With
  // several, errors at neighbouring places differ and can be averaged out between them.
  std::uint32_t parts = 1;
};

// Unbiased for every place of the lamp; kReplicates independent replicates. Within a part every place uses
// the same random numbers, so that readings at neighbouring places differ by what truly differs.
class Uptake {
 public:
  // `weights`: one set of bins for each quantity that is read, in the quantity's unit per unit of response
  // (see Response). `range`: lamps at a few places spread over all that will be asked for. They decide which
  // of the many sites are kept, in proportion to what they carry to those places: good ones make it
  // precise, any make it unbiased. `spread`: the receiver's place differs from sample to sample.
  // Throws std::runtime_error when a sample is negative or not finite.
  Uptake(const LightField& field, const Receiver& receiver, bool spread, std::vector<Spectral> weights,
         const std::vector<PlacedLamp>& range, const UptakeEffort& effort, RayCount& rays);

  std::size_t quantities() const { return weights_.size(); }

  // Calls add(replicate, direction, values) for every join that light takes: a sensor of normal n at the
  // receiver reads the sum of max(0, n . direction) x values[quantity] over a replicate's calls. `part` below
  // effort.parts.
  template <class Add>
  void read(const PlacedLamp& lamp, std::uint32_t part, RayCount& rays, Add&& add) const;
  // The same for one replicate, as add(direction, values).
  template <class Add>
  void read_replicate(int replicate, const PlacedLamp& lamp, std::uint32_t part, RayCount& rays,
                      Add&& add) const;

 private:
  struct Site {
    ScatterSite at;       // no surface and no mesh: the receiver itself, in free air
    Vec3f direction;      // in which the path left the receiver
    Spectral throughput;  // of the path, over the density of its first direction and the number of paths
  };
  struct Join {
    Site site;
    std::uint64_t stream = 0;  // its random numbers: sample `number` of `stream`
    std::uint32_t number = 0;
    float weight = 1;                // 1 / expected number of times that the site is kept
    std::vector<float> front, back;  // by quantity: throughput x reflectance or transmittance, weighted
  };
  static constexpr std::size_t kMostQuantities = kQuantities;
  using Values = std::array<float, kMostQuantities>;
  using Parts = std::vector<std::vector<Join>>;

  std::vector<Site> sites_around(const Receiver& receiver, std::uint64_t stream, std::uint32_t paths,
                                 RayCount& rays) const;
  std::vector<Site> sites_at(const Receiver& receiver, std::uint64_t stream, std::uint32_t places) const;
  std::vector<double> chances(const std::vector<Site>& sites, const Vec3f& normal,
                              const std::vector<PlacedLamp>& range, std::uint64_t stream,
                              RayCount& rays) const;
  void keep(const std::vector<Site>& sites, const Vec3f& normal, const std::vector<PlacedLamp>& range,
            std::uint32_t count, std::uint64_t stream, Parts& parts, RayCount& rays) const;
  Join join_of(const Site& site) const;
  template <class Add>
  void follow(const Join& join, const PlacedLamp& lamp, RayCount& rays, Add&& add) const;

  const LightField& field_;
  std::vector<Spectral> weights_;
  std::vector<float> whole_;  // sums of the weights
  std::array<Parts, kReplicates> joins_;
};

template <class Add>
void Uptake::follow(const Join& join, const PlacedLamp& lamp, RayCount& rays, Add&& add) const {
  const Site& site = join.site;
  const bool scatters = site.at.diffuse || site.at.mesh;
  PairSampler sampler(join.stream, join.number);
  field_.direct_from(lamp, 0, site.at.place, scatters ? &site.at.normal : nullptr, 1, sampler, rays,
                     [&](const Arrival& arrival) {
                       Values values;
                       const float scalar = join.weight * arrival.scalar;
                       if (!scatters) {
                         for (std::size_t q = 0; q < weights_.size(); ++q)
                           values[q] = scalar * (arrival.through.is_spectral
                                                     ? (weights_[q] * arrival.through.spectral).sum()
                                                     : whole_[q]);
                         add(arrival.direction, values.data());
                         return;
                       }
                       if (site.at.diffuse && !arrival.through.is_spectral) {
                         const float cosine = site.at.normal.dot(arrival.direction);
                         const float lambert = scalar * std::abs(cosine) * kInversePi;
                         const std::vector<float>& side = cosine > 0 ? join.front : join.back;
                         for (std::size_t q = 0; q < weights_.size(); ++q) values[q] = lambert * side[q];
                       } else {
                         Spectral arriving = scalar * site.throughput;
                         if (arrival.through.is_spectral) arriving *= arrival.through.spectral;
                         const auto kernel = site.at.kernel(field_.world(), arrival.direction);
                         if (kernel.scalar == 0) return;
                         for (std::size_t q = 0; q < weights_.size(); ++q)
                           values[q] = kernel.scalar * (weights_[q] * arriving * *kernel.colour).sum();
                       }
                       add(site.direction, values.data());
                     });
}

template <class Add>
void Uptake::read_replicate(int replicate, const PlacedLamp& lamp, std::uint32_t part, RayCount& rays,
                            Add&& add) const {
  for (const Join& join : joins_[static_cast<std::size_t>(replicate)][part]) follow(join, lamp, rays, add);
}

template <class Add>
void Uptake::read(const PlacedLamp& lamp, std::uint32_t part, RayCount& rays, Add&& add) const {
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    read_replicate(replicate, lamp, part, rays,
                   [&](const Vec3f& direction, const float* values) { add(replicate, direction, values); });
}

}  // namespace boughlight
