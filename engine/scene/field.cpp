#include "scene/field.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <tuple>

#include "units/utf8.h"

namespace boughlight {

namespace {

// Beyond this many mistakes the file is something else altogether.
constexpr std::size_t kMostProblems = 500;

std::string shown(const std::string& text) {
  constexpr std::size_t kShown = 60;
  if (text.size() <= kShown) return fmt::format("'{}'", text);
  return fmt::format("'{}...'", letters_within(text, kShown));
}

std::string_view noun(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "a number";
    case Dimension::ratio:
      return "a ratio such as 0.3 or 30 %";
    case Dimension::length:
      return "a length such as 12 cm";
    case Dimension::area:
      return "an area such as 0.35 m2";
    case Dimension::wavelength:
      return "a wavelength such as 320 nm";
    case Dimension::angle:
      return "an angle such as 30 deg";
    case Dimension::duration:
      return "a duration such as 500 h";
    case Dimension::temperature:
      return "a temperature such as 2900 K";
    case Dimension::air_temperature:
      return "a temperature such as 24 C";
    case Dimension::power:
      return "a power such as 24 W";
    default:
      return "a number, with a unit or without";
  }
}

bool has_control_character(std::string_view text) {
  return std::any_of(text.begin(), text.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

}  // namespace

void Problems::add(Problem problem) {
  if (++count_ <= kMostProblems) list_.push_back(std::move(problem));
}

void Problems::add_all(const InputError& error) {
  for (const Problem& problem : error.problems()) add(problem);
}

void Problems::throw_if_any() {
  if (list_.empty()) return;
  std::vector<std::string> files;
  const auto file_order = [&](const Problem& problem) {
    const auto at = std::find(files.begin(), files.end(), problem.mark.file);
    if (at != files.end()) return at - files.begin();
    files.push_back(problem.mark.file);
    return static_cast<std::ptrdiff_t>(files.size() - 1);
  };
  for (const Problem& problem : list_) file_order(problem);
  std::stable_sort(list_.begin(), list_.end(), [&](const Problem& a, const Problem& b) {
    return std::tuple(file_order(a), a.mark.line, a.mark.column) <
           std::tuple(file_order(b), b.mark.line, b.mark.column);
  });
  if (count_ > kMostProblems) {
    list_.push_back({{}, "", fmt::format("{} more mistakes are not listed", count_ - kMostProblems)});
  }
  throw InputError(std::move(list_));
}

void Field::fail_at(const Mark& mark, std::string text) const {
  document_->problems->add({mark, path_, std::move(text)});
}

std::string Field::found() const {
  switch (node_->kind) {
    case YamlNode::Kind::null:
      return "empty";
    case YamlNode::Kind::list:
      return "a list";
    case YamlNode::Kind::map:
      return "a mapping";
    case YamlNode::Kind::scalar:
      break;
  }
  return node_->text.empty() ? "empty" : shown(node_->text);
}

std::optional<std::string> Field::text(std::string_view what) const {
  if (is_scalar() && node_->text.find_first_not_of(" \t\r\n") != std::string::npos) return node_->text;
  fail(fmt::format("is {}; {} is needed here", found(), what));
  return std::nullopt;
}

std::optional<std::string> Field::name(std::string_view what, std::size_t most) const {
  const auto given = text(what);
  if (!given) return std::nullopt;
  const auto letters =
      std::count_if(given->begin(), given->end(), [](char byte) { return !continues_letter(byte); });
  if (static_cast<std::size_t>(letters) > most) {
    fail(fmt::format("{} is too long: at most {} letters are allowed", shown(*given), most));
    return std::nullopt;
  }
  if (has_control_character(*given)) {
    fail("holds a line break or another control character: write it on one line");
    return std::nullopt;
  }
  return given;
}

std::optional<std::string> Field::word(const std::vector<std::string>& allowed) const {
  const auto given = text(one_of(allowed));
  if (!given) return std::nullopt;
  if (std::find(allowed.begin(), allowed.end(), *given) != allowed.end()) return given;
  fail(fmt::format("is {}{}; {} is allowed", shown(*given), did_you_mean(*given, allowed), one_of(allowed)));
  return std::nullopt;
}

std::optional<double> Field::number(Dimension dimension, std::string_view bare_unit,
                                    const Range& range) const {
  if (!is_scalar()) {
    fail(fmt::format("is {}; {} is needed here", found(), noun(dimension)));
    return std::nullopt;
  }
  std::string why;
  const auto parsed = parse_value(node_->text, dimension, bare_unit, why);
  if (!parsed) {
    fail(why);
    return std::nullopt;
  }
  if (range.holds(parsed->value)) return std::clamp(parsed->value, range.min, range.max);
  fail(fmt::format("{} is not allowed: it must be {}", shown(node_->text), range.describe(dimension)));
  return std::nullopt;
}

std::optional<double> Field::number(const Form& form) const {
  const bool length = form.dimension == Dimension::length;
  return number(form.dimension, length ? std::string_view(document_->length_unit) : form.bare_unit,
                form.range);
}

std::optional<std::uint64_t> Field::whole_number(std::uint64_t min, std::uint64_t max) const {
  const auto refuse = [&] {
    fail(fmt::format("is {}; a whole number from {} to {} is needed here", found(), min, max));
    return std::nullopt;
  };
  if (!is_scalar()) return refuse();
  const std::string& digits = node_->text;
  std::uint64_t value = 0;
  const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (result.ec != std::errc() || result.ptr != digits.data() + digits.size()) return refuse();
  if (digits.size() > 1 && digits[0] == '0') {
    fail(fmt::format("{} starts with a zero, which some programs read as octal: leave the zero out",
                     shown(digits)));
    return std::nullopt;
  }
  if (value < min || value > max) return refuse();
  return value;
}

std::optional<std::vector<Field>> Field::list(std::string_view what) const {
  if (!is_list()) {
    fail(fmt::format("is {}; {} is needed here", found(), what));
    return std::nullopt;
  }
  std::vector<Field> items;
  for (std::size_t i = 0; i < node_->items.size(); ++i) {
    items.emplace_back(*this, node_->items[i], fmt::format("{}[{}]", path_, i));
  }
  return items;
}

std::optional<std::vector<Field>> Field::list_of(std::size_t count, std::string_view what) const {
  if (is_list() && node_->items.size() == count) return list(what);
  fail(fmt::format("is {}; {} is needed here",
                   is_list() ? fmt::format("a list of {}", node_->items.size()) : found(), what));
  return std::nullopt;
}

}  // namespace boughlight
