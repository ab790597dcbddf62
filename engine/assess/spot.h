// A place where a sensor is, with all that its doubts, losses and failures are computed from.
#pragma once

#include "assess/setting.h"
#include "transport/straight_light.h"

namespace boughlight {

struct SensorSpot {
  // Mean response by source: straight from the lamp, and everything else (reflected, scattered, mirrored, and
  // the room's). They add up to the reading's own.
  std::vector<SpectralD> straight, rest;
  // By lamp.
  std::vector<StraightLight> light;
  std::vector<HeightSlope> slopes;
  // By mesh_materials(), on the way of the room's light; empty where it gives none.
  std::vector<MeshCrossing> room;

  // A mesh on the way of any source's light.
  const MeshCrossing& way(std::size_t source, std::size_t mesh) const {
    if (source < light.size()) return light[source].meshes[mesh];
    return room[mesh];
  }
  double value(const std::vector<SpectralD>& weights) const;
  // One source's share of it.
  double straight_value(const std::vector<SpectralD>& weights, std::size_t source) const {
    return (straight[source] * weights[source]).sum();
  }
  double rest_value(const std::vector<SpectralD>& weights, std::size_t source) const {
    return (rest[source] * weights[source]).sum();
  }
};

// Traces the straight light at a receiver and takes the rest from its response. `step_m` > 0: for heights, by
// which the shadows stay or go along.
SensorSpot make_spot(const Setting& setting, const Receiver& receiver, const Response& response,
                     Shadows shadows, double step_m, RayCount& rays);

// A place where light comes straight from the lamps only, and the room's from everywhere: outside, looking
// away from the enclosure.
SensorSpot make_outside_spot(const Setting& setting, const Receiver& receiver, double step_m, RayCount& rays);

}  // namespace boughlight
