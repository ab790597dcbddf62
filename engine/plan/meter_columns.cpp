#include "plan/meter_columns.h"

#include <fmt/format.h>

#include <algorithm>

namespace boughlight {
namespace {

struct Column {
  std::string_view name;
  std::vector<std::string_view> words;
  bool looked_at = true;
};

const std::vector<Column>& columns() {
  static const std::vector<Column> kColumns = {
      {"place", {"place", "name", "where", "perch", "point", "location"}},
      {"x", {"x"}},
      {"y", {"y"}},
      {"z", {"z"}},
      {"orientation", {"orientation", "facing", "sensor"}},
      {"direction_x", {"direction x"}},
      {"direction_y", {"direction y"}},
      {"direction_z", {"direction z"}},
      {"quantity", {"quantity", "what"}},
      {"reading", {"reading", "value", "measured"}},
      {"unit", {"unit", "units"}},
      {"length_unit", {"length unit"}},
      {"lamps", {"lamps", "lamp", "lit"}},
      {"through_screen", {"through screen", "screen", "through mesh", "mesh"}},
      {"warm", {"warm", "warmed up"}},
      {"expected", {"expected"}, false},
      {"low", {"low"}, false},
      {"high", {"high"}, false},
      {"notes", {"notes", "note"}, false},
      {"date", {"date"}, false},
      {"time", {"time"}, false},
      {"meter", {"meter"}, false}};
  return kColumns;
}

}  // namespace

std::string in_small_letters(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

std::string plain_words(const std::string& text) {
  std::string words;
  for (const char c : in_small_letters(text)) {
    const bool letter =
        (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
    if (letter) {
      words += c;
    } else if (!words.empty() && words.back() != ' ') {
      words += ' ';
    }
  }
  if (!words.empty() && words.back() == ' ') words.pop_back();
  return words;
}

MeterColumns::MeterColumns(const CsvFile& csv, std::vector<Problem>& problems) {
  for (std::size_t i = 0; i < csv.header.size(); ++i)
    if (!csv.header[i].text.empty()) find_column(csv, i, problems);
  const auto fail = [&](std::string text) {
    problems.push_back({csv.mark(csv.header.front()), "", std::move(text)});
  };
  for (const char* needed : {"quantity", "reading"})
    if (!at_.contains(needed)) fail(fmt::format("the column '{}' is missing", needed));
  if (!at_.contains("place") && !at_.contains("x"))
    fail("the place is missing: a column 'place', or x, y and z");
}

void MeterColumns::find_column(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems) {
  const CsvCell& cell = csv.header[index];
  const auto fail = [&](std::string text) { problems.push_back({csv.mark(cell), "", std::move(text)}); };
  const std::size_t open = cell.text.find_first_of("([");
  const std::string words = plain_words(cell.text.substr(0, open));
  const auto found = std::find_if(columns().begin(), columns().end(), [&](const Column& column) {
    return std::find(column.words.begin(), column.words.end(), words) != column.words.end();
  });
  if (found == columns().end()) {
    std::vector<std::string> names;
    for (const Column& column : columns()) names.emplace_back(column.name);
    return fail(fmt::format("'{}' is no column that is known{}; there are {}", cell.text,
                            did_you_mean(in_small_letters(cell.text), names), one_of(names)));
  }
  if (!at_.emplace(found->name, index).second)
    return fail(fmt::format("there are two columns '{}'", found->name));
  if (open == std::string::npos || !found->looked_at) return;
  // The unit may hold brackets of its own: "(umol/(m2 s))".
  const std::size_t close = cell.text.find_last_of(")]");
  if (close != std::string::npos && close > open + 1)
    units_[found->name] = cell.text.substr(open + 1, close - open - 1);
}

const CsvCell* MeterColumns::cell(const std::vector<CsvCell>& row, std::string_view column) const {
  const auto at = at_.find(column);
  return at == at_.end() || row[at->second].text.empty() ? nullptr : &row[at->second];
}

const CsvCell& MeterColumns::any_cell(const std::vector<CsvCell>& row, std::string_view column) const {
  return row[at_.at(column)];
}

std::optional<std::string> MeterColumns::unit(std::string_view column) const {
  const auto unit = units_.find(column);
  return unit == units_.end() ? std::nullopt : std::optional(unit->second);
}

}  // namespace boughlight
