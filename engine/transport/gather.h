// Light at single places: what a sensor there reads, for every source and bin, with replicates for its error;
// and the same light sorted by direction, for finding the brightest orientation.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "transport/light_field.h"

namespace boughlight {

struct Receiver {
  // Where the sensor is for sample `index` of the set `stream`: the same place always, or spread over a
  // plant's crown, best with low discrepancy over a set.
  std::function<Vec3f(std::uint64_t stream, std::uint32_t index)> place;
  Vec3f normal = Vec3f::UnitZ();  // the sensor's outward normal, unit
  std::uint64_t id = 0;           // fixes the random numbers; different for every receiver and pass
  // What `place` follows from besides the field. Nothing: the light is not kept for another time.
  std::optional<LightKey> where{};
  // How often a sample looks for light by way of panes, above 0 up to 1 (see LightField::direct). Where
  // something else is the greater noise by far, as the shadows of leaves are, kMirrorChance does.
  float mirror_chance = 1;
};
// Light by way of panes is a small part of what arrives at a place, and each look for it costs as much as one
// at a lamp.
inline constexpr float kMirrorChance = 0.25f;
Receiver fixed_receiver(const Vec3f& place, const Vec3f& normal, std::uint64_t id);
// A receiver that says `where`, as part of what light follows from.
void identify(CanonicalBytes& bytes, const Receiver& receiver);

// Samples of each replicate: direct connections to every lamp, and light paths. Powers of two stratify best.
struct GatherEffort {
  std::uint32_t direct = 64;
  std::uint32_t paths = 64;
};
// The same where some lamps matter more than others.
struct LampEfforts {
  std::vector<std::uint32_t> direct;  // by lamp
  std::uint32_t paths = 64;
};
LampEfforts for_each_lamp(const GatherEffort& effort, std::size_t lamps);

// All replicates of several receivers, in parallel. efforts[i] belongs to receivers[i]. Throws
// std::runtime_error when a sample is negative or not finite.
std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<LampEfforts>& efforts);
std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<GatherEffort>& efforts);

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
