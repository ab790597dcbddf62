// The light that arrives along one path, for every source. Private to this room.
#pragma once

#include "transport/gather.h"
#include "transport/walk.h"

namespace boughlight {

// Adds up the radiance that arrives along one path, for every source.
struct PathLight {
  const LightField& field;
  PairSampler& sampler;
  RayCount& rays;
  Spectral* radiance;  // one a source

  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, Met) {}
  void vertex(const ScatterSite& site, const Spectral& throughput) {
    field.direct(site.place, &site.normal, kMirrorChance, sampler, rays, [&](const Arrival& arrival) {
      const auto kernel = site.kernel(field.world(), arrival.direction);
      const float scalar = kernel.scalar * arrival.scalar;
      if (scalar == 0) return;
      if (arrival.through.is_spectral) {
        radiance[arrival.source] += scalar * throughput * *kernel.colour * arrival.through.spectral;
      } else {
        radiance[arrival.source] += scalar * throughput * *kernel.colour;
      }
    });
  }
  void escape(const Vec3f&, const Spectral& throughput) {
    if (field.has_room()) radiance[field.room_source()] += kInversePi * throughput;
  }
};

// Streams of random numbers for the two kinds of samples.
enum : std::uint64_t { kDirectStream = 1, kPathStream = 2 };

}  // namespace boughlight
