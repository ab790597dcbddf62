// Light at single places: what a sensor there reads, for every source and bin, with replicates for its error;
// and the same light sorted by direction, for finding the brightest orientation.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "transport/light_field.h"

namespace boughlight {

// Independent randomised replicates behind every standard error. Quantiles are Student's t with one less.
inline constexpr int kReplicates = 16;

struct Receiver {
  // Where the sensor is for sample `index` of the set `stream`: the same place always, or spread over a
  // plant's crown, best with low discrepancy over a set.
  std::function<Vec3f(std::uint64_t stream, std::uint32_t index)> place;
  Vec3f normal = Vec3f::UnitZ();  // the sensor's outward normal, unit
  std::uint64_t id = 0;           // fixes the random numbers; different for every receiver and pass
  // What `place` follows from besides the field. Nothing: the light is not kept for another time.
  std::optional<LightKey> where{};
};
Receiver fixed_receiver(const Vec3f& place, const Vec3f& normal, std::uint64_t id);
// A receiver that says `where`, as part of what light follows from.
void identify(CanonicalBytes& bytes, const Receiver& receiver);

// Samples of each replicate: direct connections to every lamp, and light paths. Powers of two stratify best.
struct GatherEffort {
  std::uint32_t direct = 64;
  std::uint32_t paths = 64;
};

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
};

// All replicates of several receivers, in parallel. effort[i] belongs to receivers[i]. Throws
// std::runtime_error when a sample is negative or not finite.
std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<GatherEffort>& effort);

// A weighted sum over the bins of one source's response, kept apart from the others': "UVI from the tube's
// ultraviolet part", say. The field value is weights . response.
struct Channel {
  int source = 0;
  Spectral weights = Spectral::Zero();
};

// Light sorted by where it comes from: irradiance on a sensor with normal n is the sum of
// values(channel, i) x max(0, n . directions(i)).
struct DirectedLight {
  Eigen::Array3Xf directions;  // unit, towards the source
  Eigen::ArrayXXf values;      // channels x samples
  RayCount rays;
};
template <class Bytes, SameAs<DirectedLight> Light>
void carry(Bytes& bytes, Light& light) {
  carry_array(bytes, light.directions);
  carry_array(bytes, light.values);
  carry(bytes, light.rays);
}
DirectedLight collect_light(const LightField& field, const std::vector<Channel>& channels, const Vec3f& place,
                            std::uint64_t id, const GatherEffort& effort);
// The same, and kept for another time.
DirectedLight recall_light(const LightField& field, const std::vector<Channel>& channels, const Vec3f& place,
                           std::uint64_t id, const GatherEffort& effort);
// Bytes that tell channels apart.
void identify(CanonicalBytes& bytes, const std::vector<Channel>& channels);

}  // namespace boughlight
