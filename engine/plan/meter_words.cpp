#include "plan/meter_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "units/ascii.h"
#include "units/problem.h"

namespace boughlight {
namespace {

// "UV index" and "uv_index" are one word.
std::string one_word(const std::string& text) {
  std::string word = plain_words(text);
  word.erase(std::remove(word.begin(), word.end(), ' '), word.end());
  return word;
}

// The longest number at the start of a text, and what stands behind it.
struct NumberAndUnit {
  std::string number, unit;
};
NumberAndUnit split(const std::string& text) {
  constexpr std::size_t kLongestNumber = 40;
  std::string why;
  for (std::size_t length = std::min(text.size(), kLongestNumber); length > 0; --length) {
    if (!parse_value(text.substr(0, length), Dimension::number, "", why)) continue;
    const std::size_t unit = text.find_first_not_of(' ', length);
    return {text.substr(0, length), unit == std::string::npos ? "" : text.substr(unit)};
  }
  return {};
}

}  // namespace

std::string plain_words(const std::string& text) {
  std::string words;
  for (const char c : lower_case(text)) {
    if (is_letter(c) || is_digit(c) || static_cast<unsigned char>(c) >= 0x80) {
      words += c;
    } else if (!words.empty() && words.back() != ' ') {
      words += ' ';
    }
  }
  if (!words.empty() && words.back() == ' ') words.pop_back();
  return words;
}

MeantName meant_name(const std::vector<std::string>& names, const std::string& text) {
  const auto same = std::find(names.begin(), names.end(), text);
  if (same != names.end()) return {static_cast<std::size_t>(same - names.begin()), {}};
  MeantName meant;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (plain_words(names[i]) != plain_words(text)) continue;
    meant.index = i;
    meant.alike.push_back(names[i]);
  }
  if (meant.alike.size() > 1) {
    meant.index.reset();
  } else {
    meant.alike.clear();
  }
  return meant;
}

const QuantityInfo* quantity_called(const std::string& text) {
  const std::string word = one_word(text);
  if (word == "par") return &info(Quantity::ppfd);
  for (const QuantityInfo& about : all_quantities())
    if (word == one_word(std::string(about.name)) || word == one_word(std::string(about.label)))
      return &about;
  return nullptr;
}

std::vector<std::string> names_at_an_instant() {
  std::vector<std::string> names;
  for (const QuantityInfo& about : all_quantities())
    if (!is_day_quantity(about.quantity)) names.emplace_back(about.name);
  return names;
}

std::optional<std::string> spelled_unit(const std::string& text, Dimension dimension) {
  // Also as data sheets write it ("µW/cm²"): what counts as much is the same unit.
  std::string why;
  const auto one = parse_value("1 " + text, dimension, "", why);
  for (const std::string& unit : accepted_units(dimension)) {
    if (lower_case(unit) == lower_case(text)) return unit;
    if (one && one->value == parse_value("1 " + unit, dimension, "", why)->value) return unit;
  }
  return std::nullopt;
}

std::optional<std::string> spelled_unit(const std::string& text, const QuantityInfo& about) {
  if (about.dimension != Dimension::number) return spelled_unit(text, about.dimension);
  const bool own = text.empty() || quantity_called(text) == &about || one_word(text) == "index";
  return own ? std::optional(std::string()) : std::nullopt;
}

std::string no_unit(const std::string& text, const QuantityInfo& about) {
  if (about.dimension != Dimension::number) {
    const std::vector<std::string> allowed = accepted_units(about.dimension);
    return fmt::format("'{}' is no unit of {}{}; allowed: {}", text, about.name, did_you_mean(text, allowed),
                       one_of(allowed));
  }
  return fmt::format("'{}' is no unit of {}, which is a plain number{}", text, about.name,
                     spelled_unit(text, Dimension::irradiance) ? "; total UV-B in such a unit is uvb" : "");
}

std::string no_sum_of_the_day(const std::string& text) {
  return fmt::format("'{}' is a sum over the day, which no reading at one moment gives; a meter can read {}",
                     text, one_of(names_at_an_instant()));
}

std::optional<bool> yes_or_no(const std::string& text) {
  const std::string word = lower_case(text);
  for (const char* yes : {"yes", "y", "true", "1", "with", "on", "x"})
    if (word == yes) return true;
  for (const char* no : {"no", "n", "false", "0", "without", "off"})
    if (word == no) return false;
  return std::nullopt;
}

bool carries_unit(const std::string& figure) {
  return !split(figure).unit.empty();
}

std::optional<double> read_figure(const std::string& text, const QuantityInfo& about, const std::string& unit,
                                  std::string& why) {
  const NumberAndUnit figure = split(text);
  const bool cut_short =
      figure.unit.find_first_of("0123456789.,+-") == 0;  // no unit begins so: the number is at fault
  if (figure.number.empty() || cut_short) {
    const auto value = parse_value(text, about.dimension, base_unit(about.dimension), why);
    return value ? std::optional(value->value) : std::nullopt;
  }
  const auto spelled = figure.unit.empty() ? std::optional(unit) : spelled_unit(figure.unit, about);
  if (!spelled) {
    why = no_unit(figure.unit, about);
    return std::nullopt;
  }
  const auto value = parse_value(figure.number + " " + *spelled, about.dimension, "", why);
  return value ? std::optional(value->value) : std::nullopt;
}

}  // namespace boughlight
