#include <fmt/format.h>

#include "scene/field.h"

namespace boughlight {

std::optional<std::vector<double>> Field::numbers(const Form& form) const {
  const auto items = list_of(form.of.size(), form.what);
  if (!items) return std::nullopt;
  std::vector<double> values;
  bool good = true;
  for (std::size_t i = 0; i < items->size(); ++i) {
    const auto value = (*items)[i].number(form.of[i]);
    good = good && value;
    values.push_back(value.value_or(0));
  }
  return good ? std::optional(std::move(values)) : std::nullopt;
}

std::optional<Vec3> Field::vector(const Form& form) const {
  const auto values = numbers(form);
  return values ? std::optional(Vec3((*values)[0], (*values)[1], (*values)[2])) : std::nullopt;
}

std::optional<Vec3> Field::direction(bool axis_names) const {
  if (axis_names && is_scalar()) {
    if (node_->text == "x") return Vec3(Vec3::UnitX());
    if (node_->text == "y") return Vec3(Vec3::UnitY());
    if (node_->text == "z") return Vec3(Vec3::UnitZ());
  }
  Form form = direction_form();
  if (axis_names) form.what = "x, y, z or a direction [x, y, z]";
  const auto found = vector(form);
  if (!found) return std::nullopt;
  if (found->norm() < 1e-6) {
    fail("is a direction of no length: at least one of the three numbers must not be 0");
    return std::nullopt;
  }
  return found->normalized();
}

std::optional<std::vector<ClockSpan>> Field::clock_spans() const {
  const auto given = text("a range of clock times such as \"08:00-18:00\"");
  if (!given) return std::nullopt;
  std::string why;
  auto spans = parse_clock_spans(*given, why);
  if (!spans) fail(why);
  return spans;
}

}  // namespace boughlight
