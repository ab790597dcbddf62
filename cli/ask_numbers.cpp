#include "ask_numbers.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "units/ascii.h"

namespace boughlight::cli {
namespace {

// What may stand behind a number, in small letters, and the unit that is meant; "" stands only between
// numbers.
constexpr std::array<std::pair<std::string_view, std::string_view>, 40> kWords = {{
    {"x", ""},
    {"\xC3\x97", ""},  // multiplication sign
    {"*", ""},
    {"@", ""},
    {"by", ""},
    {"and", ""},
    {"at", ""},
    {"uvi", ""},
    {"m", "m"},
    {"cm", "cm"},
    {"centimetre", "cm"},
    {"centimetres", "cm"},
    {"centimeter", "cm"},
    {"centimeters", "cm"},
    {"mm", "mm"},
    {"in", "in"},
    {"inch", "in"},
    {"inches", "in"},
    {"\"", "in"},
    {"\xE2\x80\x9D", "in"},  // closing quotation mark
    {"\xE2\x80\xB3", "in"},  // double prime
    {"''", "in"},
    {"ft", "ft"},
    {"foot", "ft"},
    {"feet", "ft"},
    {"'", "ft"},
    {"w", "W"},
    {"watt", "W"},
    {"watts", "W"},
    {"deg", "deg"},
    {"degree", "deg"},
    {"degrees", "deg"},
    {"\xC2\xB0", "deg"},  // degree sign
    {"lm", "lm"},
    {"lumen", "lm"},
    {"lumens", "lm"},
    {"umol", "umol/s"},
    {"umol/s", "umol/s"},
    {"\xC2\xB5mol/s", "umol/s"},  // micro sign
    {"\xCE\xBCmol/s", "umol/s"},  // Greek mu
}};

// A number of the answer and what stood behind it.
struct Typed {
  std::string number, unit;
  bool fraction = false;  // less than one, as 1/16
};

bool is_gap(char c) {
  return c == ' ' || c == '\t' || c == ',' || c == ';';
}

double value_of(const std::string& digits) {
  double value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

// Reads an answer from its front to its end.
class AnswerReader {
 public:
  explicit AnswerReader(const std::string& answer) : text_(lower_case(answer)) {}

  std::optional<std::vector<Typed>> all(std::string& why) {
    while (at_ < text_.size()) {
      if (is_gap(text_[at_])) {
        ++at_;
      } else if (is_digit(text_[at_]) || text_[at_] == '.' || text_[at_] == '-') {
        if (!number(why)) return std::nullopt;
      } else if (!word(why)) {
        return std::nullopt;
      }
    }
    return found_;
  }

 private:
  std::string digits() {
    const std::size_t from = at_;
    while (at_ < text_.size() && (is_digit(text_[at_]) || text_[at_] == '.')) ++at_;
    return text_.substr(from, at_ - from);
  }

  // "18", "-2", "1.5", "1/16", "1-1/2"
  bool number(std::string& why) {
    const std::size_t from = at_;
    Typed typed;
    if (text_[at_] == '-') typed.number = text_[at_++];
    const std::string first = digits();
    typed.number += first;
    std::string whole = "0", above = first;
    if (at_ + 1 < text_.size() && text_[at_] == '-' && is_digit(text_[at_ + 1])) {
      const std::size_t back = at_++;
      whole = first;
      above = digits();
      if (at_ >= text_.size() || text_[at_] != '/') at_ = back;
    }
    if (at_ + 1 < text_.size() && text_[at_] == '/' && is_digit(text_[at_ + 1])) {
      ++at_;
      const double below = value_of(digits());
      if (below == 0 || above.empty() || text_[from] == '-') {
        why = fmt::format("'{}' is no number", text_.substr(from, at_ - from));
        return false;
      }
      const double share = value_of(above) / below;
      typed.fraction = whole == "0" && share < 1;
      typed.number = fmt::format("{:.6g}", value_of(whole) + share);
    }
    found_.push_back(typed);
    return true;
  }

  // A unit, which goes to the number before, or a word between numbers.
  bool word(std::string& why) {
    const std::size_t from = at_;
    while (at_ < text_.size() && !is_gap(text_[at_]) && !is_digit(text_[at_]) && text_[at_] != '.') ++at_;
    const std::string word = text_.substr(from, at_ - from);
    const auto* const known =
        std::find_if(kWords.begin(), kWords.end(), [&](const auto& one) { return one.first == word; });
    if (known == kWords.end()) {
      why = fmt::format("'{}' is not understood: numbers are, and units behind them", word);
      return false;
    }
    if (known->second.empty()) return true;
    if (found_.empty() || !found_.back().unit.empty()) {
      why = fmt::format("'{}' stands behind no number", word);
      return false;
    }
    found_.back().unit = known->second;
    return true;
  }

  std::string text_;
  std::size_t at_ = 0;
  std::vector<Typed> found_;
};

// "1 1/2" is two numbers or one, by how many are sought.
void join_fractions(std::vector<Typed>& typed, std::size_t most) {
  for (std::size_t i = 1; i < typed.size() && typed.size() > most; ++i) {
    Typed &whole = typed[i - 1], &part = typed[i];
    if (!part.fraction || !whole.unit.empty() || whole.number.find('.') != std::string::npos) continue;
    part.number = fmt::format("{:.6g}", value_of(whole.number) + value_of(part.number));
    part.fraction = false;
    typed.erase(typed.begin() + static_cast<std::ptrdiff_t>(i) - 1);
  }
}

void spread_last_unit(std::vector<Typed>& typed, const std::vector<Sought>& sought) {
  const bool alike = std::all_of(sought.begin(), sought.end(),
                                 [&](const Sought& one) { return one.dimension == sought[0].dimension; });
  if (!alike || typed.empty()) return;
  for (std::size_t i = 0; i + 1 < typed.size(); ++i)
    if (!typed[i].unit.empty()) return;
  for (Typed& one : typed) one.unit = typed.back().unit;
}

std::string in_unit(double value, const Sought& sought) {
  return print_number(value / size_of_unit(sought.unit, sought.dimension), 4) +
         (sought.unit.empty() ? "" : " " + sought.unit);
}

}  // namespace

std::optional<std::vector<double>> numbers_of(const std::string& answer, const std::vector<Sought>& sought,
                                              std::size_t needed, std::string& why) {
  auto typed = AnswerReader(answer).all(why);
  if (!typed) return std::nullopt;
  join_fractions(*typed, sought.size());
  if (typed->size() < needed || typed->size() > sought.size()) {
    const std::string count =
        needed == sought.size() ? fmt::format("{}", needed) : fmt::format("{} or {}", needed, sought.size());
    why =
        fmt::format("{} {} needed, not {}", count, count == "1" ? "number is" : "numbers are", typed->size());
    return std::nullopt;
  }
  spread_last_unit(*typed, sought);
  std::vector<double> values;
  for (std::size_t i = 0; i < typed->size(); ++i) {
    const std::string text = (*typed)[i].number + (*typed)[i].unit;
    const auto parsed = parse_value(text, sought[i].dimension, sought[i].unit, why);
    if (!parsed) return std::nullopt;
    if (parsed->value < sought[i].least || parsed->value > sought[i].most) {
      const bool small = parsed->value < sought[i].least;
      why =
          fmt::format("'{}' is too {}: at {} {} is allowed", text, small ? "small" : "large",
                      small ? "least" : "most", in_unit(small ? sought[i].least : sought[i].most, sought[i]));
      return std::nullopt;
    }
    values.push_back(parsed->value);
  }
  return values;
}

}  // namespace boughlight::cli
