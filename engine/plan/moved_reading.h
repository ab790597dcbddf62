// One reading while a lamp is moved.
#pragma once

#include <memory>
#include <optional>

#include "assess/results.h"
#include "plan/split.h"
#include "plan/turned_sensor.h"
#include "transport/uptake.h"

namespace boughlight {

class MovedReading {
 public:
  // `reading` as taken in the standing scene: where and which way. `crown`: a plant's, else null. `taken`:
  // its response, from which what stays is known; without it that is gathered here. `range`, `effort`: see
  // Uptake.
  MovedReading(const Standing& standing, const Reading& reading, const Plant* crown, const Response* taken,
               std::vector<Quantity> quantities, const std::vector<PlacedLamp>& range,
               const UptakeEffort& effort, std::uint64_t id, RayCount& rays);

  const std::vector<Quantity>& quantities() const { return quantities_; }

  struct Read {
    std::vector<Split> splits;  // by quantity
    Vec3f direction;            // of the sensor
  };
  // With the lamp there; a sensor that looks for the brightest is turned for the lamp at `output` times what
  // it is declared to give, and the splits are as seen by that sensor, for an output of 1.
  Read at(const PlacedLamp& lamp, std::uint32_t part, RayCount& rays, double output = 1) const;

 private:
  std::vector<Quantity> quantities_;
  Vec3f normal_;
  std::unique_ptr<Uptake> uptake_;
  std::vector<Replicates> rest_;        // by quantity; of a sensor that keeps its direction
  std::optional<TurnedSensor> turned_;  // of one that does not
};

}  // namespace boughlight
