#include "scene/csv_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "scene/yaml_tree.h"

namespace boughlight {
namespace {

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(" \t");
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

char separator_of(std::string_view text) {
  std::array<std::size_t, 3> counts{};
  constexpr std::string_view kSeparators = ",;\t";
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (c == '\n' && !quoted) break;
    const std::size_t at = kSeparators.find(c);
    if (!quoted && at != std::string_view::npos) ++counts[at];
  }
  return kSeparators[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) -
                                              counts.begin())];
}

class Reader {
 public:
  Reader(const std::string& text, std::string file, char separator)
      : text_(text), file_(std::move(file)), separator_(separator) {}

  std::vector<std::vector<CsvCell>> rows() {
    std::vector<std::vector<CsvCell>> rows;
    while (at_ < text_.size()) {
      if (text_[at_] == '#') {
        while (at_ < text_.size() && text_[at_] != '\n') step();
        if (at_ < text_.size()) step();
        continue;
      }
      rows.push_back(row());
    }
    return rows;
  }

 private:
  void step() {
    const auto byte = static_cast<unsigned char>(text_[at_++]);
    if (byte == '\n') {
      ++line_, column_ = 1;
    } else if (at_ >= text_.size() || (static_cast<unsigned char>(text_[at_]) & 0xC0U) != 0x80) {
      ++column_;
    }
  }

  std::vector<CsvCell> row() {
    std::vector<CsvCell> cells(1);
    while (true) {
      cells.back() = cell();
      if (at_ < text_.size() && text_[at_] == separator_) {
        step();
        cells.emplace_back();
        continue;
      }
      if (at_ < text_.size()) step();  // the line's end
      return cells;
    }
  }

  CsvCell cell() {
    while (at_ < text_.size() && text_[at_] == ' ') step();
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
    cell.text = trimmed(cell.text);
    return cell;
  }

  const std::string& text_;
  std::string file_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1, column_ = 1;
};

}  // namespace

CsvFile read_csv_file(const std::filesystem::path& file) {
  const std::string text = read_text_file(file);
  CsvFile csv;
  csv.file = file.string();
  std::string_view header = text;
  while (header.starts_with('#')) header.remove_prefix(std::min(header.find('\n'), header.size() - 1) + 1);
  csv.separator = separator_of(header);
  std::vector<std::vector<CsvCell>> rows = Reader(text, csv.file, csv.separator).rows();
  const auto blank = [](const std::vector<CsvCell>& row) {
    return std::all_of(row.begin(), row.end(), [](const CsvCell& cell) { return cell.text.empty(); });
  };
  rows.erase(std::remove_if(rows.begin(), rows.end(), blank), rows.end());
  if (rows.empty())
    throw InputError({{{csv.file, 0, 0}, "", "is empty: a line with the names of the columns is needed"}});
  csv.header = std::move(rows.front());
  std::vector<Problem> problems;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    std::vector<CsvCell>& row = rows[i];
    while (row.size() > csv.header.size() && row.back().text.empty()) row.pop_back();
    if (row.size() > csv.header.size()) {
      problems.push_back(
          {csv.mark(row[csv.header.size()]), "",
           fmt::format("this row has {} cells, the header {}: put text that holds the separator in "
                       "double quotes",
                       row.size(), csv.header.size())});
    }
    const CsvCell end{"", row.back().line, row.back().column};
    row.resize(csv.header.size(), end);
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  csv.rows.assign(std::make_move_iterator(rows.begin() + 1), std::make_move_iterator(rows.end()));
  return csv;
}

}  // namespace boughlight
