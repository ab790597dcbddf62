#include "scene/csv_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "scene/yaml_tree.h"
#include "units/ascii.h"

namespace boughlight {
namespace {

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

// What a spreadsheet's first line says of it: "sep=;".
std::optional<char> separator_told(std::string_view text) {
  const std::string_view line = trimmed(text.substr(0, text.find('\n')), "\r");
  constexpr std::string_view kSays = "sep=";
  if (line.size() != kSays.size() + 1 || lower_case(std::string(line.substr(0, kSays.size()))) != kSays)
    return std::nullopt;
  return line.back();
}

}  // namespace

CsvFile read_csv_file(const std::filesystem::path& file) {
  const std::string text = read_text_file(file);
  CsvFile csv;
  csv.file = file.string();
  std::string_view header = text;
  while (header.starts_with('#')) header.remove_prefix(std::min(header.find('\n'), header.size() - 1) + 1);
  const std::optional<char> told = separator_told(header);
  csv.separator = told.value_or(separator_of(header));
  const auto blank = [](const std::vector<CsvCell>& row) {
    return std::all_of(row.begin(), row.end(), [](const CsvCell& cell) { return cell.text.empty(); });
  };
  std::vector<std::vector<CsvCell>> rows;
  std::vector<CsvCell> one;
  for (CsvRows all(text, csv.file, csv.separator); all.next(one);)
    if (!blank(one)) rows.push_back(std::move(one));
  if (told) rows.erase(rows.begin());
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
