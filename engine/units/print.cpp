#include <fmt/format.h>

#include <cmath>

#include "units/units.h"

namespace boughlight {

std::string print_number(double value, int significant) {
  if (value == 0 || !std::isfinite(value)) return value == 0 ? "0" : fmt::format("{}", value);
  // Rounded first, so that 9.996 counts as 10.0 when its digits are laid out.
  const std::string rounded = fmt::format("{:.{}e}", value, significant - 1);
  const int exponent = std::stoi(rounded.substr(rounded.find('e') + 1));
  if (exponent < -4 || exponent >= 9) return fmt::format("{:.{}g}", value, significant);

  const int decimals = significant - 1 - exponent;
  std::string text = fmt::format("{:.{}f}", std::stod(rounded), decimals > 0 ? decimals : 0);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
  }
  // Blanks between thousands from five digits on.
  const std::size_t first = text[0] == '-' ? 1 : 0;
  if (text.size() - first >= 5) {
    for (std::size_t i = text.size() - 3; i > first; i -= 3) {
      text.insert(i, 1, ' ');
      if (i < first + 3) break;
    }
  }
  return text;
}

}  // namespace boughlight
