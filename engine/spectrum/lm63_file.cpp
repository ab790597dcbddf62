// Reading LM-63 text.
#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "spectrum/lm63.h"
#include "spectrum/table_limits.h"
#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {
namespace {

struct Token {
  std::string_view text;
  int line = 0, column = 0;
};

class Lm63Reader {
 public:
  Lm63Reader(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  [[noreturn]] void fail(int line, int column, std::string text) const {
    throw InputError({{{file_, line, column}, "", std::move(text)}});
  }
  [[noreturn]] void fail(const Token& token, std::string text) const {
    fail(token.line, token.column, std::move(text));
  }

  // The next whole line, without its end; nothing at the end of the file.
  std::optional<std::string_view> next_line() {
    if (at_ >= text_.size()) return std::nullopt;
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    std::string_view line = text_.substr(at_, end - at_);
    at_ = end + 1;
    ++line_;
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    return line;
  }
  int line() const { return line_; }

  // The next number-like word, over line ends; commas separate too.
  std::optional<Token> next_token() {
    while (left_.empty()) {
      const auto line = next_line();
      if (!line) return std::nullopt;
      left_ = whole_ = *line;
    }
    const std::size_t start = left_.find_first_not_of(kSpace);
    if (start == std::string_view::npos) {
      left_ = {};
      return next_token();
    }
    const std::size_t end = std::min(left_.find_first_of(kSpace, start), left_.size());
    Token token{left_.substr(start, end - start), line_, 0};
    token.column = static_cast<int>(token.text.data() - whole_.data()) + 1;
    left_.remove_prefix(end);
    return token;
  }

  double number(const std::string& what) {
    const auto token = next_token();
    if (!token) fail(line_, 0, fmt::format("the file ends where {} should be", what));
    last_ = *token;
    std::string_view text = token->text;
    if (!text.empty() && text.front() == '+') text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
      fail(*token, fmt::format("'{}' is not a number: {} is needed here", token->text.substr(0, 40), what));
    if (std::abs(value) > kMostInTable)
      fail(*token,
           fmt::format("'{}' is beyond 1e30: no photometric file holds that", token->text.substr(0, 40)));
    return value;
  }
  int whole_number(const std::string& what, int least, int most) {
    const double value = number(what);
    if (value != std::floor(value) || value < least || value > most)
      fail(last_,
           fmt::format("{} is {}: a whole number from {} to {} is allowed", what, last_.text, least, most));
    return static_cast<int>(value);
  }
  double number_above(const std::string& what, double least) {
    const double value = number(what);
    if (!(value > least)) fail(last_, fmt::format("{} is {}: it must be above {}", what, last_.text, least));
    return value;
  }
  const Token& last() const { return last_; }

 private:
  static constexpr std::string_view kSpace = " \t\r\n\f\v,";
  std::string_view text_, left_, whole_;
  const std::string& file_;
  std::size_t at_ = 0;
  int line_ = 0;
  Token last_;
};

std::vector<double> read_angles(Lm63Reader& reader, int count, const std::string& what) {
  std::vector<double> angles;
  for (int i = 0; i < count; ++i) {
    angles.push_back(reader.number(what));
    if (i > 0 && !(angles[static_cast<std::size_t>(i)] > angles[static_cast<std::size_t>(i) - 1]))
      reader.fail(reader.last(),
                  fmt::format("{}s must rise: {} follows {}", what, angles[static_cast<std::size_t>(i)],
                              angles[static_cast<std::size_t>(i) - 1]));
  }
  return angles;
}

bool is(double a, double b) {
  return std::abs(a - b) < 1e-6;
}

// Fails, where the reader stands, if a list that was just read runs from or to where its type does not allow;
// `of_c`: whether type C does, `c_allows`: what that allows, in words.
void check_angles(const Lm63Reader& reader, const std::string& which, PhotometricType type, double from,
                  double to, bool of_c, const std::string& c_allows) {
  const bool is_c = type == PhotometricType::c;
  const bool half_turn = (is(from, 0) || is(from, -90)) && is(to, 90);
  if (is_c ? of_c : half_turn) return;
  reader.fail(reader.last(),
              fmt::format("{} angles of {}, here from {} to {}", which,
                          is_c ? "type C run " + c_allows : "types A and B run from -90 or 0 to 90 degrees",
                          from, to));
}

void check_verticals(const Lm63Reader& reader, const Photometry& p) {
  const double from = p.vertical_deg.front(), to = p.vertical_deg.back();
  const bool of_c = (is(from, 0) || is(from, 90)) && (is(to, 90) || is(to, 180)) && !is(from, to);
  check_angles(reader, "vertical", p.type, from, to, of_c, "from 0 or 90 to 90 or 180 degrees");
}

void check_horizontals(const Lm63Reader& reader, const Photometry& p) {
  const double from = p.horizontal_deg.front(), to = p.horizontal_deg.back();
  const bool whole = is(from, 0) && (is(to, 0) || is(to, 90) || is(to, 180) || is(to, 360));
  const bool sideways = is(from, 90) && is(to, 270);
  check_angles(reader, "horizontal", p.type, from, to, whole || sideways,
               "from 0 to 0, 90, 180 or 360 degrees, or from 90 to 270");
}

}  // namespace

Photometry parse_lm63(std::string_view text, const std::string& file) {
  Lm63Reader reader(text, file);
  Photometry photometry;
  bool tilt_in_file = false;
  // Header and keywords, up to TILT=.
  for (bool first = true;; first = false) {
    const auto line = reader.next_line();
    if (!line) reader.fail(reader.line(), 0, "is not an LM-63 file: it has no line TILT=");
    if (first && (line->starts_with("IES"))) photometry.header = std::string(line->substr(0, 60));
    if (!line->starts_with("TILT=")) continue;
    const std::string_view tilt = line->substr(5, line->find_last_not_of(" \t") - 4);
    tilt_in_file = tilt == "INCLUDE";
    if (!tilt_in_file && tilt != "NONE")
      reader.fail(reader.line(), 6,
                  fmt::format("TILT is '{}': NONE or INCLUDE is allowed", tilt.substr(0, 40)));
    break;
  }
  if (tilt_in_file) {
    // How the output falls as the whole lamp tilts. It scales all angles alike, and the output is anchored
    // elsewhere: read, checked and left.
    reader.whole_number("the lamp's position in the luminaire", 1, 3);
    const int pairs = reader.whole_number("the number of tilt angles", 1, 10'000);
    read_angles(reader, pairs, "tilt angle");
    for (int i = 0; i < pairs; ++i) reader.number_above("a tilt factor", 0);
  }
  const int lamps = reader.whole_number("the number of lamps", 1, 10'000);
  const double lumens = reader.number("the lumens of a lamp");
  const bool absolute = lumens < 0;
  if (!absolute) photometry.rated_lumens = lamps * lumens;
  const double multiplier = reader.number_above("the candela multiplier", 0);
  const int verticals = reader.whole_number("the number of vertical angles", 2, 10'000);
  const int horizontals = reader.whole_number("the number of horizontal angles", 1, 10'000);
  photometry.type = static_cast<PhotometricType>(reader.whole_number("the photometric type", 1, 3));
  reader.whole_number("the units type", 1, 2);
  for (const char* what : {"the width", "the length", "the height"}) reader.number(what);
  const double ballast = reader.number_above("the ballast factor", 0);
  const double lamp_factor = reader.number_above("the ballast-lamp photometric factor", 0);
  photometry.input_watts = reader.number("the input watts");
  photometry.vertical_deg = read_angles(reader, verticals, "vertical angle");
  check_verticals(reader, photometry);
  photometry.horizontal_deg = read_angles(reader, horizontals, "horizontal angle");
  check_horizontals(reader, photometry);
  const double factor = multiplier * ballast * (photometry.header.empty() ? lamp_factor : 1.0);
  double greatest = 0;
  for (int i = 0; i < verticals * horizontals; ++i) {
    const double candela = reader.number("a candela value");
    if (candela < 0)
      reader.fail(reader.last(),
                  fmt::format("a candela value is {}: it cannot be negative", reader.last().text));
    photometry.candela.push_back(factor * candela);
    greatest = std::max(greatest, candela);
  }
  constexpr double kLeastCandela = 1e-30;
  if (!(greatest > 0)) reader.fail(reader.last(), "all candela values are 0: the lamp gives no light");
  if (!(factor * greatest >= kLeastCandela))
    reader.fail(reader.last(), "all candela values are below 1e-30: the lamp gives no light");
  if (const auto more = reader.next_token())
    reader.fail(*more, fmt::format("'{}' is left over after {} candela values", more->text.substr(0, 40),
                                   verticals * horizontals));
  return photometry;
}

Photometry read_lm63(const std::filesystem::path& file) {
  constexpr std::size_t kMostBytes = 16u << 20;
  return parse_lm63(read_bytes(file, kMostBytes), file.string());
}

}  // namespace boughlight
