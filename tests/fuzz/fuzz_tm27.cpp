// Any bytes as a spectrum in IES TM-27 XML: rising wavelengths with finite values that are not negative (and
// at most 1 as a ratio), or the mistakes are told.
#include <algorithm>
#include <cmath>

#include "memory_file.h"
#include "spectrum/tm27.h"
#include "units/problem.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const fuzz::MemoryFile file(bytes, size);
  for (const SpectrumUse use : {SpectrumUse::emission, SpectrumUse::ratio}) {
    try {
      const Table table = read_tm27_file(file.path(), use, Beyond::zero);
      if (table.x().size() < 2 || !std::is_sorted(table.x().begin(), table.x().end())) std::abort();
      for (const double y : table.y())
        if (!std::isfinite(y) || y < 0 || (use == SpectrumUse::ratio && y > 1)) std::abort();
      if (!table.bin_means().isFinite().all()) std::abort();
    } catch (const InputError& error) {
      if (error.problems().empty()) std::abort();
    }
  }
  return 0;
}
