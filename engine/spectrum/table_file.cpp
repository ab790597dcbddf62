// Reading of two-column CSV files into tables.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "spectrum/table.h"
#include "spectrum/table_limits.h"
#include "units/csv_rows.h"
#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {

namespace {

// A file that is no table at all would give a mistake a line; these are enough to see what is wrong.
constexpr std::size_t kMostTableProblems = 20;
constexpr std::size_t kMostBytes = std::size_t{16} << 20;
constexpr const char* kNoRows = "holds no rows; two numbers a row are wanted: 'x, y'";
constexpr std::string_view kBlank = " \t\r";

// The part of `line` without blanks at its ends, and where it starts (columns count from 1).
struct Piece {
  std::string_view text;
  int column = 1;
};

Piece piece_of(std::string_view text, int column) {
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

std::string shown(std::string_view text) {
  return "'" + std::string(text.substr(0, 40)) + "'";
}

bool starts_as_number(std::string_view text) {
  return !text.empty() && text.find_first_of("0123456789+-.") == 0;
}

class TableReader {
 public:
  explicit TableReader(std::string path) : path_(std::move(path)), text_(read_bytes(path_, kMostBytes)) {
    if (text_.starts_with("\xef\xbb\xbf")) text_.erase(0, 3);  // byte order mark
    // As spreadsheets write where they are asked for "Unicode".
    if (text_.find('\0') != std::string::npos)
      throw InputError({{{path_, 0, 0}, "", "is not UTF-8 text: save the file as plain UTF-8 text"}});
  }

  void read() {
    visit_lines([&](const Piece& piece, int line) {
      if (piece.text.front() == '#') comment(piece, line);
      return problems_.size() < kMostTableProblems;
    });
    const std::optional<FirstRow> first = first_row();
    if (!first) {
      if (problems_.empty()) fail_without_rows();
      return;
    }
    DecimalMark mark(first->separator);
    CsvRows rows(text_, path_, first->separator);
    for (std::vector<CsvCell> row; problems_.size() < kMostTableProblems && rows.next(row);) {
      while (row.size() > 1 && row.back().text.empty()) row.pop_back();
      if (row.size() == 1 && row.front().text.empty()) continue;
      if (row.front().line < first->line) {
        heading(row);
      } else {
        numbers(row, mark, first->separator);
      }
    }
    // Two numbers inside quotes are none.
    if (x_.empty() && problems_.empty()) fail(0, 0, kNoRows);
    // Told first: the other mistakes may come of it.
    if (const auto doubt = mark.doubt()) {
      const auto& [cell, why] = *doubt;
      problems_.insert(problems_.begin(), {{path_, cell.line, cell.column}, "", why});
    }
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
  void fail(const CsvCell& cell, std::string text) { fail(cell.line, cell.column, std::move(text)); }

  // Every line that is not blank, until `visit` wants no more.
  template <typename Visit>
  void visit_lines(const Visit& visit) const {
    const std::string_view all = text_;
    int line = 0;
    for (std::size_t at = 0; at < all.size();) {
      const std::size_t end = std::min(all.find('\n', at), all.size());
      const Piece piece = piece_of(all.substr(at, end - at), 1);
      ++line;
      at = end + 1;
      if (!piece.text.empty() && !visit(piece, line)) return;
    }
  }

  // The first line that holds two numbers says what stands between them; what is above it are headings.
  struct FirstRow {
    int line = 0;
    char separator = ',';
  };
  std::optional<FirstRow> first_row() const {
    std::optional<FirstRow> first;
    visit_lines([&](const Piece& piece, int line) {
      if (piece.text.front() == '#') return true;
      for (const char separator : {'\t', ';', ','}) {
        const auto cut = piece.text.find(separator);
        if (cut == std::string_view::npos) continue;
        const std::string_view rest = piece.text.substr(cut + 1);
        if (!is_number(piece.text.substr(0, cut), separator) ||
            !is_number(rest.substr(0, rest.find(separator)), separator))
          continue;
        first = FirstRow{line, separator};
        return false;
      }
      return true;
    });
    return first;
  }
  static bool is_number(std::string_view text, char separator) {
    text = piece_of(text, 1).text;
    if (text.size() > 1 && text.front() == '"' && text.back() == '"') text = text.substr(1, text.size() - 2);
    DecimalMark mark(separator);
    return number(mark.with_point({std::string(text), 0, 0})).has_value();
  }

  void fail_without_rows() {
    std::optional<std::pair<Piece, int>> nearest;
    visit_lines([&](const Piece& piece, int line) {
      if (piece.text.front() == '#') return true;
      const bool starts = starts_as_number(piece.text);
      if (!nearest || starts) nearest = {piece, line};
      return !starts;
    });
    if (!nearest) return fail(0, 0, kNoRows);
    fail(nearest->second, nearest->first.column,
         fmt::format("no row holds two numbers with a comma, semicolon or tab between them; found {}",
                     shown(nearest->first.text)));
  }

  // "# key: value"; other comments are free text. A `source` may run over several lines.
  void comment(const Piece& piece, int line) {
    const auto colon = piece.text.find(':');
    if (colon == std::string_view::npos) return;
    const std::string_view key = piece_of(piece.text.substr(1, colon - 1), 1).text;
    const Piece value = piece_of(piece.text.substr(colon + 1), piece.column + static_cast<int>(colon) + 1);
    if (key == "title") title_ = value.text;
    if (key == "unit") unit_ = value.text;
    if (key == "source") source_ += (source_.empty() ? "" : " ") + std::string(value.text);
    if (key == "interpolation") {
      if (between_) fail(line, piece.column, "'interpolation' is given twice");
      if (value.text == "linear") {
        between_ = Between::linear;
      } else if (value.text == "log-linear") {
        between_ = Between::log_linear;
      } else {
        between_ = Between::linear;
        fail(line, value.column,
             "interpolation is linear or log-linear, not '" + std::string(value.text) + "'");
      }
    }
    if (key == "outside") {
      if (beyond_) fail(line, piece.column, "'outside' is given twice");
      if (value.text != "zero" && value.text != "hold")
        fail(line, value.column, "outside is zero or hold, not '" + std::string(value.text) + "'");
      beyond_ = value.text == "hold" ? Beyond::hold : Beyond::zero;
    }
  }

  // A row above the first of two numbers: passed over, unless it looks like a row with a slip in it.
  void heading(const std::vector<CsvCell>& row) {
    const bool first = number(row.front().text).has_value();
    const bool second = row.size() > 1 && number(row[1].text);
    if (first) {
      fail(row.size() > 1 ? row[1] : row[0],
           row.size() > 1 ? fmt::format("{} is not a number; if this row is no data, let it begin with '#'",
                                        shown(row[1].text))
                          : fmt::format("a number alone; if this row is no data, let it begin with '#'"));
    } else if (second && starts_as_number(row.front().text)) {
      fail(row.front(), fmt::format("{} is not a number; if this row is no data, let it begin with '#'",
                                    shown(row.front().text)));
    }
  }

  void numbers(const std::vector<CsvCell>& row, DecimalMark& mark, char separator) {
    if (row.size() == 1) {
      const char* between = separator == ',' ? "comma" : separator == ';' ? "semicolon" : "tab";
      return fail(row[0], fmt::format("two numbers with a {} between them are wanted, found {}", between,
                                      shown(row[0].text)));
    }
    if (row.size() > 2)
      return fail(row[2], fmt::format("two numbers a row are wanted, here are {}{}", row.size(),
                                      separator == ','
                                          ? "; where decimals are written with a comma, a semicolon or a "
                                            "tab must stand between the numbers"
                                          : ": leave the two columns that count"));
    const std::optional<double> x = read_number(row[0], mark), y = read_number(row[1], mark);
    if (!x || !y) return;
    if (*y < 0) return fail(row[1], "a value must not be negative");
    if (!x_.empty() && !(*x > x_.back())) return fail(row[0], "the first column must rise from row to row");
    x_.push_back(*x);
    y_.push_back(*y);
  }

  std::optional<double> read_number(const CsvCell& cell, DecimalMark& mark) {
    const std::optional<double> value = number(mark.with_point(cell));
    if (!value) fail(cell, shown(cell.text) + " is not a number");
    if (!value || std::abs(*value) <= kMostInTable) return value;
    fail(cell, shown(cell.text) + " is beyond 1e30: no table holds that");
    return std::nullopt;
  }

  std::string path_, text_;
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
