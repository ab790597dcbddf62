#include "first_look.h"

#include <fmt/format.h>

#include "terminal.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

std::string figure_text(const Figure& figure) {
  const double doubt = 2 * figure.se;
  std::string text = print_number(figure.value, 2);
  if (print_number(figure.value + doubt, 2) != text || print_number(figure.value - doubt, 2) != text)
    text += " +- " + print_number(doubt, 1);
  return text;
}

}  // namespace

std::string first_look_text(const std::vector<FirstLook>& looks) {
  std::string lines = "First look, still rough:\n";
  for (std::size_t i = 0; i < looks.size();) {
    const std::string& name = looks[i].reading;
    std::string text;
    for (; i < looks.size() && looks[i].reading == name; ++i) {
      const QuantityInfo& quantity = info(looks[i].want.quantity);
      if (!text.empty()) text += ", ";
      text += fmt::format("{} {}{}{} ({})", quantity.name, figure_text(looks[i].figure),
                          quantity.unit.empty() ? "" : " ", quantity.unit, limits_text(looks[i].want.limits));
    }
    lines += item(name, text);
  }
  return lines;
}

}  // namespace boughlight::cli
