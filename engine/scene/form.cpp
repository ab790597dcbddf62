#include "scene/form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace boughlight {

namespace {

using Kind = Form::Kind;

std::string print_in_unit(double value, Dimension dimension) {
  const double size = std::abs(value);
  if (dimension == Dimension::angle) return print_number(value * 180 / std::numbers::pi, 5) + " deg";
  if (dimension == Dimension::wavelength && size >= 10'000) return print_number(value / 1000, 5) + " um";
  if (dimension == Dimension::length && size > 0 && size < 1) {
    const bool cm = size >= 0.01, mm = size >= 0.0001;
    return print_number(value * (cm ? 100 : mm ? 1000 : 1e6), 5) + (cm ? " cm" : mm ? " mm" : " um");
  }
  const std::string_view unit = base_unit(dimension);
  return fmt::format("{}{}{}", print_number(value, 5), unit.empty() ? "" : " ", unit);
}

}  // namespace

bool Range::holds(double value) const {
  // Angles and inches come out of a conversion: an end may be missed by its rounding.
  const double slack = 1e-12 * std::abs(value);
  return (above_min ? value > min : value >= min - slack) && (below_max ? value < max : value <= max + slack);
}

std::string Range::describe(Dimension dimension) const {
  const bool low = std::isfinite(min), high = std::isfinite(max);
  // The unit is said once where both ends carry the same, and 0 needs none.
  std::string from = low ? print_in_unit(min, dimension) : "";
  const std::string to = high ? print_in_unit(max, dimension) : "";
  if (low && min == 0) from = "0";
  const std::string note = dimension == Dimension::ratio ? " (1 is 100 %)" : "";
  if (low && high && !above_min && !below_max) return fmt::format("from {} to {}{}", from, to, note);
  const std::string lower = !low ? "" : above_min ? "more than " + from : from + " or more";
  const std::string upper = !high ? "" : below_max ? "less than " + to : "at most " + to;
  return fmt::format("{}{}{}{}", lower, low && high ? " and " : "", upper, note);
}

Form text_form(std::string_view what) {
  return {.kind = Kind::text, .what = what};
}

Form name_form(std::string_view what, std::size_t most) {
  return {.kind = Kind::name, .what = what, .most = most};
}

Form word_form(std::vector<std::string_view> words) {
  return {.kind = Kind::word, .words = std::move(words)};
}

Form whole_form(std::uint64_t least, std::uint64_t greatest) {
  return {.kind = Kind::whole, .least = least, .greatest = greatest};
}

Form number_form(Dimension dimension, const Range& range, std::string_view bare_unit) {
  return {.kind = Kind::number, .dimension = dimension, .bare_unit = bare_unit, .range = range};
}

Form length_form(const Range& range) {
  return number_form(Dimension::length, range);
}

Form ratio_form(const Range& range) {
  return number_form(Dimension::ratio, range);
}

Form place_form() {
  const Form one = length_form(Range::between(-kLongest, kLongest));
  return tuple_form("a place [x, y, z]", {one, one, one});
}

Form sizes_form(const Range& range) {
  const Form one = length_form(range);
  return tuple_form("a list of three lengths", {one, one, one});
}

Form direction_form() {
  const Form one = number_form(Dimension::number, Range::between(-1e6, 1e6));
  return tuple_form("a direction [x, y, z]", {one, one, one});
}

Form clock_spans_form() {
  return {.kind = Kind::clock_spans, .what = "a range of clock times such as \"08:00-18:00\""};
}

Form clock_time_form() {
  return {.kind = Kind::clock_time, .what = "a time of day such as \"09:30\""};
}

Form file_form(std::string_view what) {
  return {.kind = Kind::file, .what = what};
}

Form material_form(std::vector<std::string_view> kinds) {
  return {.kind = Kind::material, .what = "the name of a material", .words = std::move(kinds)};
}

Form tuple_form(std::string_view what, Forms of) {
  return {.kind = Kind::tuple, .what = what, .of = std::move(of)};
}

Form list_form(std::string_view what, Forms of, std::size_t fewest) {
  return {.kind = Kind::list, .what = what, .fewest = fewest, .of = std::move(of)};
}

Form named_form(std::string_view what, Forms of) {
  return {.kind = Kind::named, .what = what, .of = std::move(of)};
}

Form mapping_form(const Mapping& mapping) {
  return {.kind = Kind::mapping, .mapping = &mapping};
}

const Form& Key::form(Form::Kind kind) const {
  for (const Form& form : forms)
    if (form.kind == kind) return form;
  throw std::logic_error(fmt::format("the format has no such form of '{}'", name));
}

const MappingKind* Mapping::kind(std::string_view word, const std::vector<std::string_view>& given) const {
  for (const MappingKind& kind : kinds) {
    if (kind.word != word) continue;
    if (kind.given.empty() || std::find(given.begin(), given.end(), kind.given) != given.end()) return &kind;
  }
  return nullptr;
}

std::vector<const Key*> Mapping::keys_of(const MappingKind* kind) const {
  std::vector<const Key*> all;
  const auto add = [&](const Keys& more) {
    for (const Key& key : more)
      if (std::none_of(all.begin(), all.end(), [&](const Key* known) { return known->name == key.name; }))
        all.push_back(&key);
  };
  add(keys);
  for (const MappingKind& one : kinds)
    if (!kind || kind == &one) add(one.keys);
  return all;
}

}  // namespace boughlight
