// A plain weave of round wires as geometry: Embree curves with their crimp, traced ray by ray. Shares nothing
// with the formulas of MeshOptics but the wires' sizes.
#pragma once

#include <Eigen/Dense>
#include <vector>

#include "geometry/embree.h"

namespace boughlight {

class WovenWires {
 public:
  // Wires of both families have the same diameter; lengths in any unit. The mesh lies in the plane z = 0:
  // wires counted along x every `pitch_x` run along y, and the other way round. Each goes over and under in
  // turn, its centre line a cosine that lifts it half a diameter, so that wires touch where they cross.
  WovenWires(double diameter, double pitch_x, double pitch_y);
  ~WovenWires();
  WovenWires(const WovenWires&) = delete;
  WovenWires& operator=(const WovenWires&) = delete;

  // Of parallel light that falls along `direction` (unit, downwards), from `samples` rays spread over one
  // period.
  double straight(const Eigen::Vector3d& direction, int samples) const;

  // Where light goes that the wires scatter, each diffusely and with this reflectance, over and over until it
  // has left: shares of all that falls in.
  struct Scattered {
    static constexpr int kZones =
        6;  // equal steps of the squared sine from the normal: the cosine law fills them alike
    double back = 0, forward = 0;
    std::vector<double> back_zones = std::vector<double>(kZones, 0.0), forward_zones = back_zones;
  };
  Scattered scattered(const Eigen::Vector3d& direction, double reflectance, int samples) const;

 private:
  struct Strike;
  bool meets(const Eigen::Vector3d& origin, const Eigen::Vector3d& direction, Strike& strike) const;
  Eigen::Vector3d entry(int sample, int samples, const Eigen::Vector3d& direction) const;

  double pitch_x_, pitch_y_;  // in diameters
  RTCDevice device_;
  RTCScene scene_;
};

}  // namespace boughlight
