#include "assess/sensor_tracer.h"

#include <fmt/format.h>

#include <stdexcept>
#include <utility>

#include "assess/setting.h"
#include "assess/stages.h"

namespace boughlight {

SensorTracer::SensorTracer(Scene scene)
    : scene_(std::move(scene)), field_(std::make_unique<const LightField>(scene_, importance_of(scene_))) {}

SensorTracer::~SensorTracer() = default;

Response SensorTracer::trace(const Sensor& sensor) const {
  const double length = sensor.facing.norm();
  if (!(length > 0) || !sensor.facing.allFinite() || !sensor.at.allFinite())
    throw std::invalid_argument("a sensor needs a place and a direction to face");
  Setting setting = setting_of(scene_, *field_);
  const Vec3f normal = (sensor.facing / length).cast<float>();
  const Vec3f place = reading_place(scene_, *field_, sensor.at, normal);
  const Task task{fixed_receiver(place, normal, setting.stream(kSensorStage, sensor.number)),
                  common_goals(setting)};
  return std::move(
      gather_to_tolerance(*field_, {task}, setting.tolerance(), setting.budget, setting.spent).front());
}

Figures SensorTracer::figures(const Response& response) const {
  return facing_figures(setting_of(scene_, *field_), response);
}

Figures SensorTracer::figures(const Response& response, const std::vector<double>& dims) const {
  if (dims.size() != scene_.lamps.size())
    throw std::invalid_argument(
        fmt::format("{} dimmers were given for {} lamps", dims.size(), scene_.lamps.size()));
  Scene dimmed = scene_;
  for (std::size_t i = 0; i < dims.size(); ++i) {
    if (!(dims[i] >= 0 && dims[i] <= 1))
      throw std::invalid_argument(fmt::format("a dimmer is at {}; it goes from 0 to 1", dims[i]));
    dimmed.lamps[i].dim = dims[i];
  }
  return facing_figures(setting_of(dimmed, *field_), response);
}

}  // namespace boughlight
