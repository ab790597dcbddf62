// What the figures that a scene asks for would be with its lamps hung, aimed and dimmed otherwise: quick and
// rough, the same random numbers every time, so that two layouts are compared far better than either is
// known.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assess/setting.h"
#include "plan/asks.h"
#include "transport/directions.h"

namespace boughlight {

// One layout, traced: dimmers are free from here on.
class Trial {
 public:
  // What every figure of the asks is at these settings of the dimmers (0..1, beside the lamps).
  std::vector<double> figures(const std::vector<double>& dims) const;

 private:
  friend class TrialRoom;
  // Light at one place, kept by direction: for each source and quantity.
  struct Place {
    DirectedLight light;
    bool brightest = false;
    Vec3f direction = Vec3f::UnitZ();
  };
  // A figure's places: their mean (readings), or their greatest (reach).
  struct Gauge {
    std::vector<Place> places;
    std::vector<std::size_t> figures;  // of the asks
    bool greatest = false;
  };
  struct ZonePlace {
    double volume = 0, length = 0;
    int level = -1;
    std::vector<Orientations> light;  // by channel
  };
  struct Common;  // what all trials of a room share
  Eigen::ArrayXf scales(const std::vector<double>& dims) const;
  void put_gauge(const Gauge& gauge, const Eigen::ArrayXf& scale, std::vector<double>& figures) const;
  void put_zones(const Eigen::ArrayXf& scale, std::vector<double>& figures) const;

  std::shared_ptr<const Common> common_;
  std::vector<Lamp> lamps_;
  std::vector<Gauge> gauges_;
  std::vector<ZonePlace> zones_;
};

class TrialRoom {
 public:
  TrialRoom(const Scene& scene, const Asks& asks);
  ~TrialRoom();

  // The scene's lamps in the same order, placed and made as given. Fixed by the scene's seed and the lamps.
  Trial trial(const std::vector<Lamp>& lamps) const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace boughlight
