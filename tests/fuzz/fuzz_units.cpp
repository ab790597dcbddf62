// Any bytes as a value with a unit and as hours of the day: finite values and ordered spans, or a reason.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "units/units.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace boughlight;
  const std::string text(reinterpret_cast<const char*>(bytes), size);
  for (int i = 0; i <= static_cast<int>(Dimension::speed); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    for (const std::string_view bare : {std::string_view(), base_unit(dimension)}) {
      std::string why;
      const auto value = parse_value(text, dimension, bare, why);
      if (value ? !std::isfinite(value->value) : why.empty()) std::abort();
      if (value) print_number(value->value);
    }
  }
  std::string why;
  if (const auto spans = parse_clock_spans(text, why)) {
    double last = 0;
    for (const ClockSpan& span : *spans) {
      if (!(span.from_h >= last && span.to_h > span.from_h && span.to_h <= 24)) std::abort();
      last = span.to_h;
    }
  } else if (why.empty()) {
    std::abort();
  }
  return 0;
}
