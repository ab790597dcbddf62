// The shares of the enclosure that serve for basking and as refuge, while a lamp is moved.
#pragma once

#include <vector>

#include "plan/asks.h"
#include "plan/standing.h"
#include "plan/top.h"
#include "transport/directions.h"
#include "transport/uptake.h"

namespace boughlight {

// Judged as in a survey, on the greatest of 26 orientations, at a sample of places that is the same wherever
// the lamp is. What comes straight from the lamp is found anew for each of its places; what is reflected of
// it is found for a coarse lattice of them and taken between.
class MovedShares {
 public:
  // `keys`: those of kind share among them are given by at(), in their order. `range`: places of the lamp
  // that may be asked for.
  MovedShares(const Standing& standing, const Top& top, const std::vector<FigureKey>& keys,
              const Lattice3& range, RayCount& rays);

  // With the lamp hung there, at `output` times what it is declared to give. The error is that of the sample
  // of places, and of those that lie so near a limit that either may be true.
  std::vector<Figure> at(const Hang& hang, RayCount& rays, double output = 1) const;

  std::size_t places() const { return places_.size(); }

 private:
  struct Place {
    Vec3f at = Vec3f::Zero();
    double volume = 0;               // m3; 0 along a branch
    double length = 0;               // m along a branch; 0 in the volume
    int level = -1;                  // as in a survey, from the floor up
    std::vector<Orientations> rest;  // by quantity
    // By anchor and quantity: what is reflected of the lamp, hung there at what it is declared to give.
    std::vector<Orientations> reflected;
  };
  struct Zone {
    std::string name;
    std::vector<Want> wants;
    std::vector<std::size_t> quantity;  // of each want: position in quantities_
  };
  enum class Holds { no, yes, nearly_no, nearly_yes };

  void add_volume_places(bool by_level);
  void light(Place& place, std::uint64_t number, const std::vector<PlacedLamp>& anchors,
             RayCount& rays) const;
  void add_reflected(const Place& place, const Hang& hang, double output,
                     std::vector<Orientations>& light) const;
  void add_straight(const Place& place, const PlacedLamp& lamp, double output, std::uint64_t stream,
                    std::uint32_t first, std::vector<Orientations>& light, RayCount& rays) const;
  bool settled(const std::vector<float>& low, const std::vector<float>& high, float nearness) const;
  static Holds holds(const Zone& zone, const std::vector<float>& values);
  void judge(const Place& place, const PlacedLamp& lamp, const Hang& hang, double output,
             std::uint64_t number, std::vector<Holds>& result, RayCount& rays) const;
  Figure share_of(const FigureKey& key, const std::vector<std::vector<Holds>>& holds) const;

  const Standing& standing_;
  Top top_;
  std::vector<FigureKey> keys_;
  std::vector<Zone> zones_;
  std::vector<Quantity> quantities_;
  std::vector<Spectral> weights_;  // of the lamp, by quantity
  std::vector<float> whole_;       // their sums
  float most_intense_ = 0;         // of the lamp in any direction, 1/sr per watt
  Lattice3 anchors_;
  std::vector<Place> places_;
  std::vector<double> levels_;  // heights of their middles, m
};

}  // namespace boughlight
