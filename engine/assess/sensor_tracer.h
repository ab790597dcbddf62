// Single places of a scene, for programs with questions of their own: traced once, weighed for any dimmers
// after.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "assess/figure.h"
#include "scene/model.h"
#include "transport/response.h"

namespace boughlight {

class LightField;

// A small flat cosine-corrected sensor, as a meter has it.
struct Sensor {
  Vec3 at = Vec3::Zero();       // m, in the scene's frame; inside or outside
  Vec3 facing = Vec3::UnitZ();  // its outward normal, any length above 0
  std::uint64_t number = 0;     // sensors with different numbers draw different random numbers
};

class SensorTracer {
 public:
  // Keeps a copy of the scene. Its seed and tolerance hold for everything traced here.
  explicit SensorTracer(Scene scene);
  ~SensorTracer();
  SensorTracer(const SensorTracer&) = delete;
  SensorTracer& operator=(const SensorTracer&) = delete;

  // What reaches the sensor from each source, for each bin, per unit of emission: independent of dimmers,
  // ages and hours. More samples are drawn until UV index, lux, PPFD and irradiance, all lamps as declared,
  // have a standard error within the tolerance. Same scene and sensor: same bits. Throws
  // std::invalid_argument where `facing` has no direction, std::runtime_error when a sample is negative or
  // not finite.
  Response trace(const Sensor& sensor) const;

  // All quantities on the sensor, in the unit of info(quantity), lamps as declared; those of the day only
  // where every lamp has hours.
  Figures figures(const Response& response) const;
  // The same with other dimmers, one a lamp in the scene's order, 0 to 1; no ray is traced. Throws
  // std::invalid_argument where their number or a value does not fit.
  Figures figures(const Response& response, const std::vector<double>& dims) const;

 private:
  Scene scene_;
  std::unique_ptr<const LightField> field_;
};

}  // namespace boughlight
