// Reading of two-column CSV files into tables.
#include <charconv>
#include <cmath>
#include <optional>
#include <sstream>
#include <string_view>
#include <utility>

#include "spectrum/table.h"
#include "spectrum/table_limits.h"
#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {

namespace {

// A file that is no table at all would give a mistake a line; these are enough to see what is wrong.
constexpr std::size_t kMostTableProblems = 20;
constexpr std::string_view kBlank = " \t\r";

// The part of `line` without blanks at its ends, and where it starts (columns count from 1).
struct Piece {
  std::string_view text;
  int column = 1;
};

Piece trimmed(std::string_view text, int column) {
  const auto first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {{}, column};
  const auto last = text.find_last_not_of(kBlank);
  return {text.substr(first, last - first + 1), column + static_cast<int>(first)};
}

std::optional<double> number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

class TableReader {
 public:
  explicit TableReader(std::string path) : path_(std::move(path)) {}

  void read() {
    constexpr std::size_t kMostBytes = 16u << 20;
    std::istringstream in(read_bytes(path_, kMostBytes));
    std::string line;
    while (std::getline(in, line) && problems_.size() < kMostTableProblems) {
      ++line_;
      std::string_view view = line;
      if (line_ == 1 && view.starts_with("\xef\xbb\xbf")) view.remove_prefix(3);  // byte order mark
      const Piece piece = trimmed(view, 1);
      if (piece.text.empty()) continue;
      if (piece.text.front() == '#') {
        comment(piece);
      } else {
        row(piece);
      }
    }
    if (x_.empty() && problems_.empty()) fail(0, 0, "holds no rows; two numbers a row are wanted: 'x, y'");
  }

  void require_settings() {
    if (!between_) fail(0, 0, "needs a line '# interpolation: linear' or '# interpolation: log-linear'");
    if (!beyond_) fail(0, 0, "needs a line '# outside: zero' or '# outside: hold'");
  }

  Table table(Between between, Beyond beyond) {
    if (!problems_.empty()) throw InputError(problems_);
    return Table(std::move(x_), std::move(y_), between, beyond);
  }
  TableFile with_settings() {
    const Between between = between_.value_or(Between::linear);
    const Beyond beyond = beyond_.value_or(Beyond::hold);
    return {table(between, beyond), title_, source_, unit_};
  }

 private:
  void fail(int line, int column, std::string text) {
    problems_.push_back({{path_, line, column}, "", std::move(text)});
  }

  // "# key: value"; other comments are free text. A `source` may run over several lines.
  void comment(const Piece& piece) {
    const auto colon = piece.text.find(':');
    if (colon == std::string_view::npos) return;
    const std::string_view key = trimmed(piece.text.substr(1, colon - 1), 1).text;
    const Piece value = trimmed(piece.text.substr(colon + 1), piece.column + static_cast<int>(colon) + 1);
    if (key == "title") title_ = value.text;
    if (key == "unit") unit_ = value.text;
    if (key == "source") source_ += (source_.empty() ? "" : " ") + std::string(value.text);
    if (key == "interpolation") {
      if (between_) fail(line_, piece.column, "'interpolation' is given twice");
      if (value.text == "linear") {
        between_ = Between::linear;
      } else if (value.text == "log-linear") {
        between_ = Between::log_linear;
      } else {
        between_ = Between::linear;
        fail(line_, value.column,
             "interpolation is linear or log-linear, not '" + std::string(value.text) + "'");
      }
    }
    if (key == "outside") {
      if (beyond_) fail(line_, piece.column, "'outside' is given twice");
      if (value.text != "zero" && value.text != "hold")
        fail(line_, value.column, "outside is zero or hold, not '" + std::string(value.text) + "'");
      beyond_ = value.text == "hold" ? Beyond::hold : Beyond::zero;
    }
  }

  void row(const Piece& piece) {
    const auto comma = piece.text.find_first_of(",;\t");
    if (comma == std::string_view::npos)
      return fail(line_, piece.column,
                  "two numbers with a comma between them are wanted, found '" +
                      std::string(piece.text.substr(0, 40)) + "'");
    const Piece first = trimmed(piece.text.substr(0, comma), piece.column);
    const Piece second = trimmed(piece.text.substr(comma + 1), piece.column + static_cast<int>(comma) + 1);
    // A line of headings, as spreadsheets write it.
    if (!any_row_ && !number(first.text) && !number(second.text)) {
      any_row_ = true;
      return;
    }
    any_row_ = true;
    const std::optional<double> x = read_number(first), y = read_number(second);
    if (!x || !y) return;
    if (*y < 0) return fail(line_, second.column, "a value must not be negative");
    if (!x_.empty() && !(*x > x_.back()))
      return fail(line_, first.column, "the first column must rise from row to row");
    x_.push_back(*x);
    y_.push_back(*y);
  }

  std::optional<double> read_number(const Piece& piece) {
    const std::optional<double> value = number(piece.text);
    const std::string found = "'" + std::string(piece.text.substr(0, 40)) + "'";
    if (!value) fail(line_, piece.column, found + " is not a number");
    if (!value || std::abs(*value) <= kMostInTable) return value;
    fail(line_, piece.column, found + " is beyond 1e30: no table holds that");
    return std::nullopt;
  }

  std::string path_;
  int line_ = 0;
  bool any_row_ = false;
  std::vector<Problem> problems_;
  std::vector<double> x_, y_;
  std::string title_, source_, unit_;
  std::optional<Between> between_;
  std::optional<Beyond> beyond_;
};

}  // namespace

TableFile read_table_file(const std::string& path) {
  TableReader reader(path);
  reader.read();
  reader.require_settings();
  return reader.with_settings();
}

Table read_plain_table_file(const std::string& path, Between between, Beyond beyond) {
  TableReader reader(path);
  reader.read();
  return reader.table(between, beyond);
}

}  // namespace boughlight
