#include "report/summary_parts.h"

#include <fmt/format.h>

#include <cmath>

#include "report/text.h"

namespace boughlight {

std::string percent(double share) {
  return print_number(100 * share) + " %";
}

std::string quoted(const std::string& name) {
  return "'" + shortened(name, kNameColumns) + "'";
}

std::string with_name(Quantity quantity, const std::string& figure) {
  switch (quantity) {
    case Quantity::uvi:
      return unbroken("UVI " + figure);
    case Quantity::irradiance:
      return unbroken(figure);
    default:
      return std::string(info(quantity).label) + " " + unbroken(figure);
  }
}

std::string limits_text(const Limits& limits, double size, const std::string& unit) {
  const auto text = [&](double limit) { return unbroken(print_number(limit * size)); };
  const std::string tail = unit.empty() ? "" : unbroken(" " + unit);
  const bool from = limits.min && *limits.min > 0;
  if (from && limits.max) return text(*limits.min) + " to " + text(*limits.max) + tail;
  if (from) return "at least " + text(*limits.min) + tail;
  if (limits.max) return "at most " + text(*limits.max) + tail;
  return "anything";
}

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return "as wanted";
    case Verdict::below:
      return "too low";
    case Verdict::above:
      return "too high";
    default:
      return "too close to call";
  }
}

std::string judged(Verdict verdict, const std::string& wanted) {
  switch (verdict) {
    case Verdict::below:
      return "too low: wanted " + wanted;
    case Verdict::above:
      return "too high: wanted " + wanted;
    case Verdict::unsure:
      return "too close to call: wanted " + wanted;
    default:
      return "within " + wanted;
  }
}

std::string place_text(const LengthUnit& unit, const Vec3& at) {
  return fmt::format("{}, {}, {}", unbroken("x " + unit.number(at.x())), unbroken("y " + unit.number(at.y())),
                     unbroken("z " + unit.text(at.z())));
}

void put_wrapped(std::string& out, const std::string& text, std::string_view first, std::string_view rest) {
  for (const std::string& line : wrapped(text, kColumns, first, rest)) out += line + "\n";
}

std::string stepped(double value, double step) {
  if (value > 0 && value < step / 2) return "<" + print_number(step);
  return print_number(std::round(value / step) * step);
}

}  // namespace boughlight
