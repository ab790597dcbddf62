#include <filesystem>

#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/outlook_report.h"
#include "report/text.h"

namespace boughlight {
namespace {

void put_name(Json& json, const Watched& watched) {
  if (watched.hottest) {
    json["place"] = "hottest";
  } else {
    json["reading"] = watched.reading;
    json["kind"] = reading_kind_name(watched.kind);
  }
  json["quantity"] = info(watched.quantity).name;
}

Json failing_json(const Failing& fails, const std::string& what) {
  Json json = {{"month", six_digits(fails.month, what)},
               {"earliest", six_digits(fails.earliest, what)},
               {"latest", fails.latest ? Json(six_digits(*fails.latest, what)) : Json(nullptr)},
               {"limit", six_digits(fails.limit, what)},
               {"verdict", verdict_name(fails.verdict)}};
  Json& remedies = json["remedies"] = Json::array();
  for (const Remedy& remedy : fails.remedies) {
    Json one = {{"kind", remedy_name(remedy.kind)}};
    if (!remedy.lamp.empty()) one["lamp"] = remedy.lamp;
    put_figure(one, remedy.figure, what);
    one["verdict"] = verdict_name(remedy.verdict);
    remedies.push_back(std::move(one));
  }
  return json;
}

Json watched_json(const Watched& watched) {
  Json json = Json::object();
  put_name(json, watched);
  if (watched.limits) put_limits(json, *watched.limits);
  const std::string what = watched_name(watched) + " over the months";
  std::vector<double> values, errors;
  for (const Figure& figure : watched.figures) {
    values.push_back(figure.value);
    errors.push_back(figure.se);
  }
  json["values"] = numbers_json(values, what);
  json["se"] = numbers_json(errors, what);
  if (!watched.limits) return json;
  Json& verdicts = json["verdicts"] = Json::array();
  for (const Verdict verdict : watched.verdicts) verdicts.push_back(verdict_name(verdict));
  json["fails"] = watched.fails ? failing_json(*watched.fails, what) : Json(nullptr);
  return json;
}

Json plant_json(const OutlookResult& outlook, const OutlookResult::PlantAhead& plant) {
  const GrowthCurve& curve = outlook.ahead.growing.at(plant.name);
  Json json = {{"name", plant.name},
               {"form", growth_form_name(curve.form)},
               {"rate", six_digits(curve.rate, plant.name)},
               {"largest", six_digits(curve.largest, plant.name)},
               {"growth", numbers_json(plant.growth, plant.name)}};
  Json& touches = json["reaches"] = Json::array();
  for (const CrownTouch& touch : plant.touches)
    touches.push_back({{"what", touch.what},
                       {"name", touch.name},
                       {"month", six_digits(touch.month, plant.name)},
                       {"growth", six_digits(touch.growth, plant.name)}});
  return json;
}

Json new_lamp_json(const OutlookResult& outlook, const NewLamp& fresh) {
  Json json = {{"lamp", fresh.lamp}, {"month", six_digits(outlook.months[fresh.month_index], fresh.lamp)}};
  Json& changes = json["changes"] = Json::array();
  for (const NewLamp::Change& change : fresh.changes) {
    const Watched& watched = outlook.watched[change.watched];
    Json one = Json::object();
    put_name(one, watched);
    put_figure(one["aged"] = Json::object(), change.aged, fresh.lamp);
    put_figure(one["fresh"] = Json::object(), change.fresh, fresh.lamp);
    if (watched.limits) one["verdict"] = verdict_name(change.verdict);
    changes.push_back(std::move(one));
  }
  return json;
}

}  // namespace

std::string outlook_json(const OutlookResult& outlook) {
  const Scene& scene = outlook.scene;
  Json json = {{"boughlight", 1},
               {"scene", std::filesystem::path(scene.file).filename().string()},
               {"title", scene.title},
               {"version", BOUGHLIGHT_VERSION},
               {"seed", scene.survey.seed},
               {"tolerance", six_digits(outlook.tolerance, "the tolerance")},
               {"months", numbers_json(outlook.months, "the months")}};
  Json& figures = json["figures"] = Json::array();
  for (const Watched& watched : outlook.watched) figures.push_back(watched_json(watched));
  Json& zones = json["zones"] = Json::array();
  for (const ZoneAhead& zone : outlook.zones) {
    Json one = {{"zone", zone.want.zone}, {"share", zone_share_name(zone.want.share)}};
    put_limits(one, zone.want.limits);
    put_figure(one["today"] = Json::object(), zone.today, zone.want.zone);
    one["today"]["verdict"] = verdict_name(zone.verdict_today);
    put_figure(one["end"] = Json::object(), zone.end, zone.want.zone);
    one["end"]["verdict"] = verdict_name(zone.verdict_end);
    zones.push_back(std::move(one));
  }
  Json& plants = json["plants"] = Json::array();
  for (const OutlookResult::PlantAhead& plant : outlook.plants) plants.push_back(plant_json(outlook, plant));
  if (!outlook.backs.empty()) json["animal"] = {{"back", numbers_json(outlook.backs, "the animal's back")}};
  Json& lamps = json["lamps"] = Json::array();
  for (const LampAhead& lamp : outlook.lamps)
    lamps.push_back({{"name", lamp.name},
                     {"burned_h", numbers_json(lamp.burned_h, lamp.name)},
                     {"output", numbers_json(lamp.output, lamp.name)}});
  Json& fresh = json["new_lamps"] = Json::array();
  for (const NewLamp& lamp : outlook.new_lamps) fresh.push_back(new_lamp_json(outlook, lamp));
  json["fouling"] = {{"assumed", outlook.has_meshes && !outlook.ahead.fouling_given},
                     {"monthly", six_digits(outlook.ahead.fouling, "fouling")}};
  for (const auto& [mesh, rate] : outlook.ahead.fouling_of)
    json["fouling"]["of"][mesh] = six_digits(rate, "fouling");
  json["verdict"] = whole_verdict_name(outlook.verdict);
  return json_text(json);
}

std::string outlook_csv(const OutlookResult& outlook) {
  std::string csv = "month,name,kind,quantity,unit,value,se,min,max,verdict\n";
  for (const Watched& watched : outlook.watched) {
    const std::string name = csv_field(watched.hottest ? "the most in reach" : watched.reading);
    const std::string_view kind = watched.hottest ? "hottest" : reading_kind_name(watched.kind);
    for (std::size_t k = 0; k < outlook.months.size(); ++k) {
      const std::string what = name + " over the months";
      csv += six_digit_text(outlook.months[k], what) + "," + name + "," + std::string(kind) + "," +
             std::string(info(watched.quantity).name) + "," + csv_field(info(watched.quantity).unit) + "," +
             six_digit_text(watched.figures[k].value, what) + "," +
             six_digit_text(watched.figures[k].se, what) + ",";
      if (watched.limits && watched.limits->min) csv += six_digit_text(*watched.limits->min, what);
      csv += ",";
      if (watched.limits && watched.limits->max) csv += six_digit_text(*watched.limits->max, what);
      csv += ",";
      if (watched.limits) csv += verdict_name(watched.verdicts[k]);
      csv += "\n";
    }
  }
  return csv;
}

}  // namespace boughlight
