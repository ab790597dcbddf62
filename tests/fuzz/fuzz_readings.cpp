// Any bytes as a log of meter readings: figures above 0 at finite places with a sensor that faces somewhere,
// of lamps that the scene has, or the mistakes are told.
#include <algorithm>
#include <cmath>
#include <string_view>

#include "memory_file.h"
#include "plan/meter_readings.h"
#include "scene/load.h"

namespace {

constexpr std::string_view kScene = R"(boughlight: 1
title: For readings
length_unit: cm
enclosure:
  - {box: shelf, size: [60, 30, 40], faces: {floor: sand, back: cork, left: cork, right: cork, front: open, top: mesh-fine}}
perches:
  - {name: twig perch, at: [24, 15, 18], along: [1, 0, 0], facing: brightest}
points:
  - {name: door sill, at: [30, 0, 20], facing: [0, -1, 0]}
animal: {back: 3, reach: 2}
lamps:
  - {name: mild tube, fixture: tube-uv-55-mild, at: [30, 15, 60], along: x}
  - {name: flood, fixture: halogen-flood-75, at: [10, 10, 60]}
)";

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  static const Scene scene = load_scene(
      fuzz::MemoryFile(reinterpret_cast<const std::uint8_t*>(kScene.data()), kScene.size()).path());
  const fuzz::MemoryFile file(bytes, size);
  try {
    const MeterReadings readings = read_meter_readings(file.path(), scene);
    if (readings.list.empty()) std::abort();
    for (const MeterReading& reading : readings.list) {
      if (!std::isfinite(reading.value) || !(reading.value > 0)) std::abort();
      if (!reading.at.allFinite() || !(std::abs(reading.facing.direction.norm() - 1) < 1e-6)) std::abort();
      if (reading.reading &&
          *reading.reading >= scene.perches.size() + scene.plants.size() + scene.points.size())
        std::abort();
      if (!std::is_sorted(reading.lamps.begin(), reading.lamps.end()) ||
          (!reading.lamps.empty() && reading.lamps.back() >= scene.lamps.size()))
        std::abort();
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
