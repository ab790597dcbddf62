#include <fmt/format.h>

#include "scene/field.h"

namespace boughlight {

std::optional<Vec3> Field::three(std::string_view what, Dimension dimension, std::string_view bare_unit,
                                 const Range& range) const {
  const auto items = list_of(3, what);
  if (!items) return std::nullopt;
  Vec3 vector;
  bool good = true;
  for (std::size_t i = 0; i < 3; ++i) {
    const auto value = (*items)[i].number(dimension, bare_unit, range);
    good = good && value;
    vector[static_cast<Eigen::Index>(i)] = value.value_or(0);
  }
  return good ? std::optional(vector) : std::nullopt;
}

std::optional<Vec3> Field::position() const {
  return three("a place [x, y, z]", Dimension::length, document_->length_unit,
               Range::between(-kLongest, kLongest));
}

std::optional<Vec3> Field::sizes(const Range& range) const {
  return three("a list of three lengths", Dimension::length, document_->length_unit, range);
}

std::optional<Vec3> Field::direction(bool axis_names) const {
  if (axis_names && is_scalar()) {
    if (node_->text == "x") return Vec3(Vec3::UnitX());
    if (node_->text == "y") return Vec3(Vec3::UnitY());
    if (node_->text == "z") return Vec3(Vec3::UnitZ());
  }
  const auto vector = three(axis_names ? "x, y, z or a direction [x, y, z]" : "a direction [x, y, z]",
                            Dimension::number, "", Range::between(-1e6, 1e6));
  if (!vector) return std::nullopt;
  if (vector->norm() < 1e-6) {
    fail("is a direction of no length: at least one of the three numbers must not be 0");
    return std::nullopt;
  }
  return vector->normalized();
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
