#include <cmath>
#include <filesystem>

#include "report/compare_report.h"
#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/text.h"

namespace boughlight {
namespace {

Json layout_json(const Survey& survey) {
  return {{"scene", std::filesystem::path(survey.scene.file).filename().string()},
          {"title", survey.scene.title},
          {"seed", survey.scene.survey.seed},
          {"tolerance", six_digits(survey.scene.survey.tolerance, "the tolerance")},
          {"verdict", whole_verdict_name(survey.verdict)}};
}

// One layout's part of a change.
Json side_json(const Figure& figure, const std::optional<Asked>& asked, const std::string& what) {
  Json json = Json::object();
  put_figure(json, figure, what);
  if (!asked) return json;
  put_limits(json, asked->limits);
  json["verdict"] = verdict_name(asked->verdict);
  json["room"] = std::isfinite(asked->room) ? Json(six_digits(asked->room, what)) : Json(nullptr);
  return json;
}

Json change_json(const FigureChange& change) {
  Json json = Json::object();
  std::string what = change.name;
  switch (change.kind) {
    case ChangedKind::reading:
      json = {{"reading", change.name}, {"kind", reading_kind_name(change.reading)}};
      break;
    case ChangedKind::hottest:
      json = {{"place", "hottest"}, {"at_full", change.at_full}};
      what = "the hottest place";
      break;
    case ChangedKind::zone:
      json = {{"zone", change.name}, {"share", zone_share_name(change.share)}};
      break;
  }
  if (change.kind != ChangedKind::zone) json["quantity"] = info(change.quantity).name;
  json["first"] = side_json(change.first, change.first_asked, what);
  json["second"] = side_json(change.second, change.second_asked, what);
  json["change"] = six_digits(change.change, what);
  json["se"] = six_digits(change.se, what);
  const auto errors = change.in_errors();
  json["standard_errors"] = errors ? Json(six_digits(*errors, what)) : Json(nullptr);
  json["errors"] = change.paired ? "paired" : "independent";
  json["clear"] = change.clear();
  json["turn"] = turn_name(change.turn);
  json["verdict_changed"] = change.verdict_changed();
  return json;
}

Json thing_json(const OnlyIn& thing) {
  return {{"kind", thing.kind}, {"name", thing.name}};
}

Json lamp_json(const Lamp& lamp) {
  return {{"fixture", lamp.fixture->name},
          {"at", place_json(lamp.at, lamp.name)},
          {"aim", place_json(lamp.aim, lamp.name)},
          {"dim", six_digits(lamp.dim, lamp.name)},
          {"burned_h", six_digits(lamp.burned_h, lamp.name)},
          {"lit_h", lamp.lit ? Json(six_digits(total_hours(*lamp.lit), lamp.name)) : Json(nullptr)}};
}

}  // namespace

std::string compare_json(const Compared& compared) {
  const Comparison& comparison = compared.comparison;
  Json json = {{"boughlight", 1},
               {"version", BOUGHLIGHT_VERSION},
               {"first", layout_json(compared.first)},
               {"second", layout_json(compared.second)},
               {"same_seed", comparison.same_seed}};
  Json& changes = json["changes"] = Json::array();
  for (const FigureChange& change : comparison.figures) changes.push_back(change_json(change));
  json["only_in_first"] = Json::array();
  json["only_in_second"] = Json::array();
  for (const OnlyIn& only : comparison.only)
    json[only.in_second ? "only_in_second" : "only_in_first"].push_back(thing_json(only));
  Json& altered = json["altered"] = Json::array();
  for (const OnlyIn& thing : comparison.altered) altered.push_back(thing_json(thing));
  Json& lamps = json["lamps"] = Json::array();
  for (const LampChange& change : comparison.lamps)
    lamps.push_back({{"name", change.second.name},
                     {"first", lamp_json(change.first)},
                     {"second", lamp_json(change.second)}});
  json["verdict"] = whole_verdict_name(compared.second.verdict);
  return json_text(json);
}

}  // namespace boughlight
