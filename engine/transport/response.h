// What light at a place comes to: a sensor's response to every source and bin, and what was spent on it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "spectrum/bins.h"

namespace boughlight {

// Each in a cache line of its own: threads count side by side.
struct alignas(64) RayCount {
  std::uint64_t shadow = 0;   // visibility queries
  std::uint64_t closest = 0;  // nearest-surface queries
  RayCount& operator+=(const RayCount& other) {
    shadow += other.shadow, closest += other.closest;
    return *this;
  }
};

// Independent randomised replicates behind every standard error. Quantiles are Student's t with one less.
inline constexpr int kReplicates = 16;

// Irradiance per unit of each source's emission: 1/m2 per watt of a lamp; 1 per W/m2 of room light.
struct Response {
  std::size_t sources = 0;
  // [replicate * sources + source]
  std::vector<Spectral> direct;    // straight from the lamps (and by way of panes), on the sensor
  std::vector<Spectral> indirect;  // everything else, on the sensor
  std::vector<Spectral> scalar;    // both, over the whole sphere, no cosine
  RayCount rays;

  std::size_t at(int replicate, std::size_t source) const {
    return static_cast<std::size_t>(replicate) * sources + source;
  }
  // Of a source, on the sensor, over the replicates.
  SpectralD mean(std::size_t source) const {
    SpectralD mean = SpectralD::Zero();
    for (int replicate = 0; replicate < kReplicates; ++replicate)
      mean += (direct[at(replicate, source)] + indirect[at(replicate, source)]).cast<double>() / kReplicates;
    return mean;
  }
};

// A weighted sum over the bins of one source's response, kept apart from the others': "UVI from the tube's
// ultraviolet part", say. The field value is weights . response.
struct Channel {
  int source = 0;
  Spectral weights = Spectral::Zero();
};

}  // namespace boughlight
