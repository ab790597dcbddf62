// Any bytes as a lamp's file: every part's light is finite and not negative, or the mistakes are told.
#include <cmath>

#include "memory_file.h"
#include "scene/load.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const fuzz::MemoryFile file(bytes, size);
  try {
    const auto fixture = load_fixture(file.path(), "/");
    for (const LampPart& part : fixture->parts) {
      if (!std::isfinite(part.radiant_flux_w) || part.radiant_flux_w < 0) std::abort();
      if (!(part.per_watt.power >= 0).all() || !part.per_watt.power.isFinite().all()) std::abort();
    }
    const double reading = fixture->emitter->on_axis(1);
    if (!std::isfinite(reading) || reading < 0) std::abort();
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
