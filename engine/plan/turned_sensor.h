// A sensor that is turned to where the ultraviolet is strongest (to where it is brightest where there is next
// to none), while a lamp moves: the light of the lamps that stay is kept by direction, that of the lamp that
// moves is added for each of its places.
#pragma once

#include <vector>

#include "plan/split.h"
#include "plan/standing.h"
#include "transport/patched_light.h"

namespace boughlight {

// What a moved lamp sends to a place, sample by sample, in each replicate.
struct LampSamples {
  struct Replicate {
    std::vector<Vec3f> directions;
    std::vector<float> values;  // quantities of one sample side by side
    void add(const Vec3f& direction, const float* sample, std::size_t quantities) {
      directions.push_back(direction);
      values.insert(values.end(), sample, sample + quantities);
    }
    void clear() { directions.clear(), values.clear(); }
  };
  std::array<Replicate, kReplicates> replicates;
  void clear() {
    for (Replicate& replicate : replicates) replicate.clear();
  }
};

class TurnedSensor {
 public:
  // Quantities to read, of which the sensor is turned by the first; by the second where the first is less
  // than `least`.
  TurnedSensor(std::vector<Quantity> quantities, float least)
      : quantities_(std::move(quantities)),
        least_(least),
        rest_(kReplicates, PatchedLight(quantities_.size())) {}

  const std::vector<Quantity>& quantities() const { return quantities_; }

  // The light of the lamps that stay, in one replicate.
  void add_rest(int replicate, const Vec3f& direction, const float* values) {
    rest_[static_cast<std::size_t>(replicate)].add(direction, values);
  }
  void add_rest_first(int replicate, const PatchedLight& light, std::size_t quantity) {
    rest_[static_cast<std::size_t>(replicate)].add_first(light, quantity);
  }
  // From samples of its own at a place: `effort` in each replicate.
  void gather_rest(const Standing& standing, const Vec3f& place, std::uint64_t id, const GatherEffort& effort,
                   RayCount& rays);
  // After the last add_rest().
  void settle();

  // Each half of the replicates is read in the direction that the other half finds, so that no sample has a
  // say in how itself is read. `direction` is the mean of the two.
  struct Read {
    std::vector<Split> splits;  // by quantity
    Vec3f direction = Vec3f::UnitZ();
  };
  Read read(const LampSamples& lamp, double output = 1) const;

 private:
  Vec3f turn(std::size_t half, const LampSamples& lamp, double output) const;

  std::vector<Quantity> quantities_;
  float least_;
  std::vector<PatchedLight> rest_;    // by replicate
  std::vector<PatchedLight> halves_;  // sums of every other replicate
};

}  // namespace boughlight
