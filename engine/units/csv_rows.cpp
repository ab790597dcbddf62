#include "units/csv_rows.h"

#include <fmt/format.h>

#include <algorithm>

#include "units/ascii.h"
#include "units/problem.h"
#include "units/utf8.h"

namespace boughlight {

namespace {

constexpr std::size_t kMostCells = 10'000;

std::size_t digits_from(const std::string& text, std::size_t at) {
  std::size_t end = at;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end - at;
}

}  // namespace

CsvRows::CsvRows(std::string_view text, std::string file, char separator)
    : text_(text), file_(std::move(file)), separator_(separator) {}

bool CsvRows::next(std::vector<CsvCell>& row) {
  row.clear();
  skip_comments();
  if (at_ >= text_.size()) return false;
  while (true) {
    row.push_back(cell());
    if (row.size() > kMostCells)
      throw InputError({{{file_, row.back().line, row.back().column},
                         "",
                         fmt::format("this row has more than {} cells: is this a table?", kMostCells)}});
    if (at_ >= text_.size()) return true;
    const bool more = text_[at_] == separator_;
    step();  // the separator, or the line's end
    if (!more) return true;
  }
}

bool CsvRows::is_blank(std::size_t at) const {
  return at < text_.size() && (text_[at] == ' ' || (text_[at] == '\t' && separator_ != '\t'));
}

void CsvRows::step() {
  const auto byte = static_cast<unsigned char>(text_[at_++]);
  if (byte == '\n') {
    ++line_, column_ = 1;
  } else if (at_ >= text_.size() || !continues_letter(text_[at_])) {
    ++column_;
  }
}

void CsvRows::skip_comments() {
  while (true) {
    std::size_t first = at_;
    while (is_blank(first)) ++first;
    if (first >= text_.size() || text_[first] != '#') return;
    while (at_ < text_.size() && text_[at_] != '\n') step();
    if (at_ < text_.size()) step();
  }
}

CsvCell CsvRows::cell() {
  while (is_blank(at_)) step();
  CsvCell cell{"", line_, column_};
  if (at_ < text_.size() && text_[at_] == '"') {
    for (step();; step()) {
      if (at_ >= text_.size())
        throw InputError(
            {{{file_, cell.line, cell.column}, "", "the quote that opens here is never closed"}});
      if (text_[at_] != '"') {
        cell.text += text_[at_];
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        cell.text += '"';
        step();
      } else {
        step();
        break;
      }
    }
  }
  while (at_ < text_.size() && text_[at_] != separator_ && text_[at_] != '\n') {
    if (text_[at_] != '\r') cell.text += text_[at_];
    step();
  }
  cell.text = std::string(trimmed(cell.text, " \t"));
  return cell;
}

std::string DecimalMark::with_point(const CsvCell& cell) {
  const std::size_t mark = cell.text.find_first_of(".,");
  if (separator_ == ',' || mark == std::string::npos ||
      cell.text.find_first_of(".,", mark + 1) != std::string::npos)
    return cell.text;
  const std::size_t start = cell.text[0] == '+' || cell.text[0] == '-' ? 1 : 0;
  const std::size_t before = digits_from(cell.text, start), after = digits_from(cell.text, mark + 1);
  if (start + before != mark || after == 0) return cell.text;
  const std::size_t end = mark + 1 + after;
  const bool exponent = end < cell.text.size() && (cell.text[end] == 'e' || cell.text[end] == 'E');
  const bool thousands = before >= 1 && before <= 3 && cell.text[start] != '0' && after == 3 && !exponent;
  Seen& seen = cell.text[mark] == ',' ? comma_ : point_;
  std::optional<CsvCell>& first = thousands ? seen.either : seen.fraction;
  if (!first) first = cell;
  std::string text = cell.text;
  text[mark] = '.';
  return text;
}

std::optional<std::pair<CsvCell, std::string>> DecimalMark::doubt() const {
  const auto told = [](const CsvCell& cell, const CsvCell* other) {
    std::string number = cell.text;
    const std::size_t mark = number.find_first_of(".,");
    std::string fraction = number, thousands = number;
    fraction[mark] = '.';
    thousands.erase(mark, 1);
    const std::string since = other ? fmt::format(", for line {} has '{}'", other->line, other->text) : "";
    return std::pair(cell, fmt::format("'{}' may be {} or {}{}: write all decimals with a point, and nothing "
                                       "between thousands",
                                       number, fraction, thousands, since));
  };
  if (comma_.either && point_.any()) return told(*comma_.either, point_.any());
  if (point_.either && comma_.any()) return told(*point_.either, comma_.any());
  if (comma_.either && !comma_.fraction) return told(*comma_.either, nullptr);
  return std::nullopt;
}

}  // namespace boughlight
