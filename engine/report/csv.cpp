// readings.csv and grid.csv. Comma separated, a header line, lines end in LF, fields quoted as RFC 4180 says.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "report/csv_parts.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {
namespace {

void put(std::string& row, std::string_view field) {
  if (!row.empty()) row += ',';
  row += csv_field(field);
}

void put(std::string& row, const std::optional<double>& value, std::string_view what) {
  put(row, value ? six_digit_text(*value, what) : "");
}

void put_figure(std::string& row, const Figures& figures, Quantity quantity, std::string_view what) {
  const auto found = figures.find(quantity);
  const bool has = found != figures.end();
  put(row, has ? std::optional(found->second.value) : std::nullopt, what);
  put(row, has ? std::optional(found->second.se) : std::nullopt, what);
}

}  // namespace

std::string reading_rows(const Reading& reading, std::string_view name, std::string_view kind) {
  std::string rows;
  for (const auto& [quantity, figure] : reading.values) {
    const std::string what = fmt::format("{} of {}", info(quantity).name, name);
    const auto want = std::find_if(reading.wants.begin(), reading.wants.end(),
                                   [q = quantity](const WantResult& w) { return w.want.quantity == q; });
    const bool wanted = want != reading.wants.end();
    std::string row = csv_field(name);
    put(row, kind);
    for (const double coordinate : reading.at) put(row, coordinate, what);
    put(row, reading.facing);
    for (const double component : reading.direction) put(row, component, what);
    put(row, info(quantity).name);
    put(row, info(quantity).unit);
    put(row, figure.value, what);
    put(row, figure.se, what);
    const std::optional<bool> converged =
        figure.converged || !wanted ? figure.converged : want->figure.converged;
    put(row, !converged ? "" : *converged ? "true" : "false");
    put(row, wanted ? want->want.limits.min : std::nullopt, what);
    put(row, wanted ? want->want.limits.max : std::nullopt, what);
    put(row, wanted ? verdict_name(want->verdict) : "");
    put_figure(row, reading.scalar, quantity, what);
    put_figure(row, reading.top, quantity, what);
    rows += row + '\n';
  }
  return rows;
}

std::string readings_csv(const Survey& survey) {
  std::string out =
      "name,kind,x_m,y_m,z_m,facing,direction_x,direction_y,direction_z,quantity,unit,value,se,converged,min,"
      "max,"
      "verdict,scalar,scalar_se,top,top_se\n";
  for (const Reading& reading : survey.readings)
    out += reading_rows(reading, reading.name, reading_kind_name(reading.kind));
  return out + animal_rows(survey);
}

std::string grid_csv(const Survey& survey) {
  const auto count = static_cast<std::size_t>(survey.has_day ? kQuantities : kInstant);
  std::string out = "x_m,y_m,z_m,box,free_share";
  for (std::size_t q = 0; q < count; ++q) {
    const std::string_view name = info(static_cast<Quantity>(q)).name;
    fmt::format_to(std::back_inserter(out), ",{},{}_se", name, name);
  }
  out += ",uvi_brightest\n";
  for (const Cell& cell : survey.cells) {
    std::string row;
    for (const double coordinate : cell.centre) put(row, coordinate, "a cell's middle");
    put(row, survey.scene.boxes[static_cast<std::size_t>(cell.box)].name);
    put(row, cell.free_share, "a cell's free share");
    // A cell filled by a branch has no light to speak of: its fields stay empty.
    const bool free = cell.free_share > 0;
    for (std::size_t q = 0; q < count; ++q) {
      const std::string_view name = info(static_cast<Quantity>(q)).name;
      put(row, free ? std::optional(cell.up[q].value) : std::nullopt, name);
      put(row, free ? std::optional(cell.up[q].se) : std::nullopt, name);
    }
    put(row, free ? std::optional(cell.brightest_uvi) : std::nullopt, "uvi_brightest");
    out += row + '\n';
  }
  return out;
}

}  // namespace boughlight
