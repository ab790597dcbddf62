#include "plan/moved_reading.h"

#include "assess/readings.h"
#include "plan/replicates.h"

namespace boughlight {
namespace {

// As a survey takes it: below this UV index a sensor is turned by the light that is seen.
constexpr float kLeastUvi = 0.01f;
// In each replicate; what stays is looked at once for all places of the lamp, so it may be known well.
constexpr GatherEffort kRestEffort{128, 256};

}  // namespace

MovedReading::MovedReading(const Standing& standing, const Reading& reading, const Plant* crown,
                           const Response* taken, std::vector<Quantity> quantities,
                           const std::vector<PlacedLamp>& range, const UptakeEffort& effort, std::uint64_t id,
                           RayCount& rays)
    : quantities_(std::move(quantities)), normal_(reading.direction.cast<float>().normalized()) {
  enum : std::uint64_t { kUptake = 1, kRest = 2 };
  const bool turns = reading.facing == "brightest";
  const Receiver receiver = receiver_of(standing.setting(), reading, mix64(id, kUptake));
  std::vector<Quantity> read = quantities_;
  if (turns) {
    read.insert(read.begin(), {Quantity::uvi, Quantity::lux});
    turned_.emplace(read, kLeastUvi);
    turned_->gather_rest(standing, receiver.place(0, 0), mix64(id, kRest), kRestEffort, rays);
    turned_->settle();
  } else if (taken) {
    for (const Quantity quantity : quantities_) {
      std::vector<SpectralD> weights = standing.setting().weights(quantity);
      weights[standing.lamp_index()].setZero();
      rest_.push_back(facing_replicates(*taken, weights));
    }
  } else {
    Receiver again = receiver;
    again.id = mix64(id, kRest);
    const Response response = gather(standing.rest_field(), {again}, {kRestEffort}).front();
    rays += response.rays;
    for (const Quantity quantity : quantities_)
      rest_.push_back(facing_replicates(response, standing.rest().weights(quantity)));
  }
  std::vector<Spectral> weights;
  for (const Quantity quantity : read) weights.push_back(standing.lamp_weights(quantity));
  uptake_ = std::make_unique<Uptake>(standing.field(), receiver, crown != nullptr, std::move(weights), range,
                                     effort, rays);
}

MovedReading::Read MovedReading::at(const PlacedLamp& lamp, std::uint32_t part, RayCount& rays,
                                    double output) const {
  if (turned_) {
    thread_local LampSamples samples;
    samples.clear();
    const std::size_t kinds = turned_->quantities().size();
    uptake_->read(lamp, part, rays, [&](int replicate, const Vec3f& direction, const float* values) {
      samples.replicates[static_cast<std::size_t>(replicate)].add(direction, values, kinds);
    });
    TurnedSensor::Read read = turned_->read(samples, output);
    return {std::vector<Split>(read.splits.begin() + 2, read.splits.end()), read.direction};
  }
  Read read{std::vector<Split>(quantities_.size()), normal_};
  for (std::size_t q = 0; q < quantities_.size(); ++q) read.splits[q].rest = rest_[q];
  uptake_->read(lamp, part, rays, [&](int replicate, const Vec3f& direction, const float* values) {
    const float cosine = direction.dot(normal_);
    if (cosine <= 0) return;
    for (std::size_t q = 0; q < quantities_.size(); ++q)
      read.splits[q].lamp[static_cast<std::size_t>(replicate)] += static_cast<double>(cosine * values[q]);
  });
  return read;
}

}  // namespace boughlight
