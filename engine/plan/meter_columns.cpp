#include "plan/meter_columns.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <sstream>

#include "plan/meter_words.h"

namespace boughlight {
namespace {

struct Column {
  std::string_view name;
  std::vector<std::string_view> words;
  bool looked_at = true;
};

// cli/guides/calibrating.md lists them for keepers.
const std::vector<Column>& columns() {
  static const std::vector<Column> kColumns = {
      {"place", {"place", "name", "where", "perch", "point", "location", "position", "spot", "site"}},
      {"x", {"x"}},
      {"y", {"y"}},
      {"z", {"z"}},
      {"orientation", {"orientation", "facing", "sensor", "direction"}},
      {"direction_x", {"direction x"}},
      {"direction_y", {"direction y"}},
      {"direction_z", {"direction z"}},
      {"quantity", {"quantity", "what"}},
      {"reading", {"reading", "value", "measured", "measurement"}},
      {"unit", {"unit", "units"}},
      {"length_unit", {"length unit"}},
      {"lamps", {"lamps", "lamp", "lit"}},
      {"through_screen", {"through screen", "screen", "through mesh", "mesh"}},
      {"warm", {"warm", "warmed up"}},
      {"expected", {"expected"}, false},
      {"low", {"low"}, false},
      {"high", {"high"}, false},
      {"notes", {"notes", "note", "remarks", "remark", "comments", "comment"}, false},
      {"date", {"date", "day", "date time", "datetime", "timestamp"}, false},
      {"time", {"time", "hour", "clock"}, false},
      {"meter", {"meter", "instrument", "device", "serial", "serial number"}, false},
      {"by", {"by", "who", "observer", "keeper"}, false},
      {"number", {"number", "no", "nr", "id", "row"}, false},
      {"temperature", {"temperature", "air temperature"}, false},
      {"humidity", {"humidity", "relative humidity"}, false}};
  return kColumns;
}

// No header with a unit behind it is longer.
constexpr std::size_t kLongestHeader = 60;

// What a column is called, without the unit in brackets behind it.
std::string name_of(const std::string& header) {
  return header.substr(0, header.find_first_of("(["));
}

std::optional<std::string> unit_in_brackets(const std::string& header) {
  // The unit may hold brackets of its own: "(umol/(m2 s))".
  const std::size_t open = header.find_first_of("(["), close = header.find_last_of(")]");
  if (open == std::string::npos || close == std::string::npos || close <= open + 1) return std::nullopt;
  return header.substr(open + 1, close - open - 1);
}

// "uvi at noon", "my lux": whoever writes that means a reading.
bool names_a_quantity(const std::string& words) {
  std::istringstream each(words);
  const std::vector<std::string> all(std::istream_iterator<std::string>(each), {});
  for (std::size_t first = 0; first < all.size(); ++first) {
    std::string several;  // "uv index" is two
    for (std::size_t last = first; last < all.size(); ++last) {
      several += (several.empty() ? "" : " ") + all[last];
      if (quantity_called(several)) return true;
    }
  }
  return false;
}

}  // namespace

MeterColumns::MeterColumns(const CsvFile& csv, std::vector<Problem>& problems) {
  for (std::size_t i = 0; i < csv.header.size(); ++i)
    if (!csv.header[i].text.empty()) find_column(csv, i, problems);
  const auto fail = [&](const CsvCell& cell, std::string text) {
    problems.push_back({csv.mark(cell), "", std::move(text)});
  };
  for (const char* name : {"quantity", "reading", "unit"}) {
    const auto at = at_.find(name);
    if (!quantities_.empty() && at != at_.end()) {
      fail(csv.header[at->second],
           fmt::format("the column '{}' says here what the column '{}' says by its name: have either one "
                       "column a quantity, or the columns quantity, reading and unit",
                       name, csv.header[quantities_.front().index].text));
    } else if (quantities_.empty() && at == at_.end() && name != std::string_view("unit")) {
      fail(csv.header.front(), fmt::format("the column '{}' is missing", name));
    }
  }
  if (!at_.contains("place") && !at_.contains("x"))
    fail(csv.header.front(), "the place is missing: a column 'place', or x, y and z");
}

void MeterColumns::find_column(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems) {
  const CsvCell& cell = csv.header[index];
  const auto fail = [&](std::string text) { problems.push_back({csv.mark(cell), "", std::move(text)}); };
  const std::string words = plain_words(name_of(cell.text));
  const auto found = std::find_if(columns().begin(), columns().end(), [&](const Column& column) {
    return std::find(column.words.begin(), column.words.end(), words) != column.words.end();
  });
  if (found == columns().end()) {
    if (words.starts_with("note") || find_quantity(csv, index, problems)) return;
    std::vector<std::string> names, all = names_at_an_instant();
    for (const Column& column : columns()) {
      names.emplace_back(column.name);
      all.insert(all.end(), column.words.begin(), column.words.end());
    }
    const std::string meant = did_you_mean(words, all);
    if (meant.empty() && !names_a_quantity(words)) {
      unread_.push_back(cell.text);
      return;
    }
    return fail(
        fmt::format("'{}' is no column that is known{}; there are {}, and one for each quantity, such "
                    "as uvi or lux; what is for people only begins with 'note'",
                    cell.text, meant, one_of(names)));
  }
  if (!found->looked_at) return;
  const auto [at, fresh] = at_.emplace(found->name, index);
  if (!fresh)
    return fail(fmt::format("there are two columns '{}': '{}' and '{}'", found->name,
                            csv.header[at->second].text, cell.text));
  if (const auto unit = unit_in_brackets(cell.text)) units_[found->name] = *unit;
}

// "UVI", "UV-B (uW/cm2)", "lux lx". False where it names no quantity.
bool MeterColumns::find_quantity(const CsvFile& csv, std::size_t index, std::vector<Problem>& problems) {
  const CsvCell& cell = csv.header[index];
  const auto fail = [&](std::string text) { problems.push_back({csv.mark(cell), "", std::move(text)}); };
  const QuantityInfo* about = quantity_called(name_of(cell.text));
  std::optional<std::string> unit = unit_in_brackets(cell.text);
  for (std::size_t blank = cell.text.find(' '); !about && blank < kLongestHeader;
       blank = cell.text.find(' ', blank + 1)) {
    unit = cell.text.substr(blank + 1);
    about = quantity_called(cell.text.substr(0, blank));
    if (about && !spelled_unit(*unit, *about)) about = nullptr;
  }
  if (!about) return false;
  if (is_day_quantity(about->quantity)) {
    fail(no_sum_of_the_day(cell.text));
    return true;
  }
  const auto spelled = spelled_unit(unit.value_or(std::string(base_unit(about->dimension))), *about);
  if (!spelled) fail(no_unit(*unit, *about));
  for (const QuantityColumn& other : quantities_)
    if (other.about == about)
      fail(fmt::format("there are two columns '{}': '{}' and '{}'", about->name, csv.header[other.index].text,
                       cell.text));
  quantities_.push_back({about, index, spelled.value_or("")});
  return true;
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
