// index.json and index.csv.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "report/index_parts.h"
#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/text.h"

namespace boughlight {
namespace {

Json figure_json(const IndexFigure& figure) {
  Json json = Json::object();
  if (!figure.of.empty()) json[figure.zone ? "zone" : "reading"] = figure.of;
  json[figure.zone ? "share" : "quantity"] = figure.quantity;
  const std::string what = "the index";
  json["value"] = six_digits(figure.value, what);
  json["se"] = six_digits(figure.se, what);
  put_limits(json, {figure.min, figure.max});
  if (!figure.lamp.empty()) json["lamp"] = figure.lamp;
  if (!figure.verdict.empty()) json["verdict"] = figure.verdict;
  if (figure.firm) json["firm"] = *figure.firm;
  return json;
}

Json row_json(const IndexRow& row) {
  Json json = {{"scene", row.scene}, {"title", row.title}, {"verdict", index_state_name(row.state)}};
  if (!row.problem.empty()) json["problem"] = row.problem;
  if (row.folder.empty()) return json;
  json["report"] = row.folder + "/report.html";
  json["readings"] = row.folder + "/readings.json";
  json["version"] = row.version;
  json["tolerance"] = six_digits(row.tolerance, "the tolerance");
  json["asked"] = Json::array();
  for (const IndexFigure& figure : row.asked) json["asked"].push_back(figure_json(figure));
  json["reach"] = Json::array();
  for (const IndexFigure& figure : row.reach) json["reach"].push_back(figure_json(figure));
  json["cautions"] = row.cautions;
  return json;
}

// "sun perch irradiance", "refuge zone volume", "within reach uvi"
std::string column_of(const IndexFigure& figure) {
  const std::string of = figure.of.empty() ? "within reach" : figure.of + (figure.zone ? " zone" : "");
  return of + " " + figure.quantity;
}

std::string unit_of(const IndexFigure& figure) {
  const auto quantity = quantity_named(figure.quantity);
  return figure.zone || !quantity ? "" : std::string(info(*quantity).unit);
}

std::string cell(const std::optional<double>& value) {
  return value ? six_digit_text(*value, "the index") : "";
}

// All figures of a row, the most in reach last.
std::vector<const IndexFigure*> figures_of(const IndexRow& row) {
  std::vector<const IndexFigure*> figures;
  for (const IndexFigure& figure : row.asked) figures.push_back(&figure);
  for (const IndexFigure& figure : row.reach) figures.push_back(&figure);
  return figures;
}

}  // namespace

std::string index_json(const std::vector<IndexRow>& rows) {
  IndexState worst = IndexState::met;
  Json counts = Json::object(), scenes = Json::array();
  for (const IndexGroup& group : kIndexGroups)
    counts[index_state_name(group.state)] = rows_of(rows, group.state).size();
  for (const IndexRow& row : rows) {
    worst = std::max(worst, row.state);
    scenes.push_back(row_json(row));
  }
  return json_text(Json{{"boughlight", 1},
                        {"verdict", index_state_name(worst)},
                        {"counts", std::move(counts)},
                        {"scenes", std::move(scenes)}});
}

std::string index_csv(const std::vector<IndexRow>& rows) {
  // Scenes may ask for different things: a column for each that any of them asks for.
  std::vector<std::string> columns;
  std::map<std::string, std::string> units;
  for (const bool reach : {false, true}) {
    for (const IndexRow& row : rows) {
      for (const IndexFigure& figure : reach ? row.reach : row.asked) {
        const std::string column = column_of(figure);
        if (units.emplace(column, unit_of(figure)).second) columns.push_back(column);
      }
    }
  }
  std::string out = "scene,title,verdict,asked,met";
  for (const std::string& column : columns) {
    const std::string unit = units[column].empty() ? "" : " [" + units[column] + "]";
    for (const char* part : {"", " se", " min", " max"}) out += "," + csv_field(column + part + unit);
    out += "," + csv_field(column + " verdict");
  }
  out += ",cautions,tolerance,version,report,problem\n";
  for (const IndexRow& row : rows) {
    const bool result = !row.folder.empty();
    const auto met = std::count_if(row.asked.begin(), row.asked.end(),
                                   [](const IndexFigure& figure) { return figure.verdict == "met"; });
    out +=
        fmt::format("{},{},{},{},{}", csv_field(row.scene), csv_field(row.title), index_state_name(row.state),
                    result ? std::to_string(row.asked.size()) : "", result ? std::to_string(met) : "");
    std::map<std::string, const IndexFigure*> figures;
    for (const IndexFigure* figure : figures_of(row)) figures.emplace(column_of(*figure), figure);
    for (const std::string& column : columns) {
      const auto found = figures.find(column);
      if (found == figures.end()) {
        out += ",,,,,";
        continue;
      }
      const IndexFigure& figure = *found->second;
      out += fmt::format(",{},{},{},{},{}", cell(figure.value), cell(figure.se), cell(figure.min),
                         cell(figure.max), figure.verdict);
    }
    out += fmt::format(",{},{},{},{},{}\n", result ? std::to_string(row.cautions) : "",
                       result ? cell(row.tolerance) : "", csv_field(row.version),
                       result ? csv_field(row.folder + "/report.html") : "", csv_field(row.problem));
  }
  return out;
}

}  // namespace boughlight
