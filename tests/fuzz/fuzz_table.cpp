// Any bytes as a two-column CSV, as of a spectrum: a table that is finite and not negative wherever it is
// asked, or the mistakes are told.
#include <cmath>

#include "memory_file.h"
#include "spectrum/table.h"
#include "units/problem.h"

namespace {

void check(const boughlight::Table& table) {
  for (std::size_t i = 1; i < table.x().size(); ++i)
    if (!(table.x()[i] > table.x()[i - 1])) std::abort();
  for (const double x : {-1.0, 250.0, table.x().front(), 315.5, table.x().back(), 3e4}) {
    const double y = table.at(x);
    if (!std::isfinite(y) || y < 0) std::abort();
  }
  const boughlight::SpectralD means = table.bin_means();
  if (!means.isFinite().all() || !(means >= 0).all()) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const fuzz::MemoryFile file(bytes, size);
  try {
    check(read_plain_table_file(file.path(), Between::log_linear, Beyond::hold));
    check(read_table_file(file.path()).table);
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
