// Any bytes as a scene: it loads and its values are finite, or its mistakes are told.
#include "memory_file.h"
#include "scene/load.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const fuzz::MemoryFile file(bytes, size);
  try {
    const Scene scene = load_scene(file.path());
    for (const Box& box : scene.boxes)
      if (!box.corner.allFinite() || !(box.size.minCoeff() > 0)) std::abort();
    for (const Lamp& lamp : scene.lamps)
      if (!lamp.fixture || !lamp.at.allFinite() || !(lamp.aim.norm() > 0.99)) std::abort();
    for (const Material& material : scene.materials)
      if (!(material.reflectance >= 0).all() || !(material.reflectance <= 1).all()) std::abort();
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
