// Any bytes as an LM-63 file: a law whose intensities are finite and not negative, or the mistakes are told.
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "spectrum/lm63.h"
#include "units/problem.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  try {
    const Photometry photometry = parse_lm63({reinterpret_cast<const char*>(bytes), size}, "input.ies");
    const auto form = make_photometric_form(photometry);
    for (int i = 0; i < 8; ++i) {
      const auto sample = form->sample((i + 0.5) / 8, (7.5 - i) / 8);
      const double intensity = form->intensity(sample.direction);
      if (!std::isfinite(intensity) || intensity < 0 || !sample.direction.allFinite()) std::abort();
    }
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
