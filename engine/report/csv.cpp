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

void put_value_and_error(std::string& row, const Figures& figures, Quantity quantity, std::string_view what) {
  const auto found = figures.find(quantity);
  const bool has = found != figures.end();
  put(row, has ? std::optional(found->second.value) : std::nullopt, what);
  put(row, has ? std::optional(found->second.se) : std::nullopt, what);
}

// What was found of a plant beside its reading; nothing in it for other readings.
const PlantFindings& plant_of(const Survey& survey, const Reading& reading) {
  static const PlantFindings kNone;
  const auto found =
      std::find_if(survey.day.plants.begin(), survey.day.plants.end(),
                   [&](const PlantFindings& plant) { return &survey.readings[plant.reading] == &reading; });
  return found == survey.day.plants.end() ? kNone : *found;
}

// Rows of the kind "workplace": what a keeper gets from the lamps with the doors open.
void put_workplaces(std::string& out, const Survey& survey) {
  for (const WorkplaceFindings& found : survey.day.people) {
    const Workplace& workplace = survey.scene.workplaces[found.workplace];
    const std::pair<Quantity, const Figure*> figures[] = {
        {Quantity::uvi, &found.uvi}, {Quantity::actinic, &found.actinic}, {Quantity::uva, &found.uva}};
    for (const auto& [quantity, figure] : figures) {
      std::string row = csv_field(workplace.name);
      put(row, "workplace");
      for (const double coordinate : workplace.at) put(row, coordinate, workplace.name);
      put(row, workplace.facing.brightest                           ? "brightest"
               : workplace.facing.direction == Vec3::UnitZ().eval() ? "up"
                                                                    : "given");
      for (const double component : found.direction) put(row, component, workplace.name);
      put(row, info(quantity).name);
      put(row, info(quantity).unit);
      put(row, figure->value, workplace.name);
      put(row, figure->se, workplace.name);
      constexpr int kEmpty = 17;  // no limits, no other places
      out += row + std::string(kEmpty, ',') + '\n';
    }
  }
}

void put_doubt_columns(std::string& row, const DoubtFindings& doubt, std::size_t reading, Quantity quantity,
                       std::string_view what) {
  const ReadingDoubt none;
  const ReadingDoubt& found = reading < doubt.readings.size() ? doubt.readings[reading] : none;
  const auto band = found.bands.find(quantity);
  const bool has = band != found.bands.end();
  put(row, has ? std::optional(band->second.low) : std::nullopt, what);
  put(row, has ? std::optional(band->second.high) : std::nullopt, what);
  const auto leaves = found.leaves.find(quantity);
  put(row, leaves != found.leaves.end() ? std::optional(leaves->second.relative_sd) : std::nullopt, what);
}

}  // namespace

std::string reading_rows(const Reading& reading, std::string_view name, std::string_view kind,
                         const ReadingColumns& more) {
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
    put_value_and_error(row, reading.scalar, quantity, what);
    put_value_and_error(row, reading.top, quantity, what);
    more(row, quantity, wanted ? &*want : nullptr);
    rows += row + '\n';
  }
  return rows;
}

std::string readings_csv(const Survey& survey) {
  std::string out =
      "name,kind,x_m,y_m,z_m,facing,direction_x,direction_y,direction_z,quantity,unit,value,se,converged,min,"
      "max,"
      "verdict,scalar,scalar_se,top,top_se,middle,middle_se,shaded,shaded_se,standing,low,high,leaves_"
      "relative_sd,"
      "firm\n";
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    const PlantFindings& plant = plant_of(survey, reading);
    out += reading_rows(reading, reading.name, reading_kind_name(reading.kind),
                        [&](std::string& row, Quantity quantity, const WantResult* want) {
                          const std::string what = fmt::format("{} of {}", info(quantity).name, reading.name);
                          put_value_and_error(row, plant.middle, quantity, what);
                          put_value_and_error(row, plant.shaded, quantity, what);
                          const auto need = std::find_if(
                              plant.needs.begin(), plant.needs.end(),
                              [=](const NeedStanding& n) { return n.need.quantity == quantity; });
                          put(row, need == plant.needs.end() ? "" : standing_name(need->crown));
                          put_doubt_columns(row, survey.doubt, i, quantity, what);
                          put(row, !want || !want->firm ? "" : *want->firm ? "true" : "false");
                        });
  }
  out += animal_rows(survey);
  put_workplaces(out, survey);
  return out;
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
