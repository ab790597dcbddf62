// readings.json. Its names and shape are a contract with programs that read it.
#include <filesystem>

#include "report/json_day.h"
#include "report/json_doubt.h"
#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {

Json place_json(const Vec3& at, const std::string& what) {
  return {six_digits(at.x(), what), six_digits(at.y(), what), six_digits(at.z(), what)};
}

Json numbers_json(const std::vector<double>& values, const std::string& what) {
  Json json = Json::array();
  for (const double value : values) json.push_back(six_digits(value, what));
  return json;
}

void put_figure(Json& json, const Figure& figure, const std::string& what) {
  json["value"] = six_digits(figure.value, what);
  json["se"] = six_digits(figure.se, what + ", standard error");
  if (figure.converged) json["converged"] = *figure.converged;
}

Json figures_json(const Figures& values, const std::string& of) {
  Json json = Json::object();
  for (const auto& [quantity, figure] : values) {
    const std::string name(info(quantity).name);
    put_figure(json[name] = Json::object(), figure, name + " of " + of);
  }
  return json;
}

void put_limits(Json& json, const Limits& limits) {
  if (limits.min) json["min"] = six_digits(*limits.min, "a limit");
  if (limits.max) json["max"] = six_digits(*limits.max, "a limit");
}

namespace {

Json want(const WantResult& result, const std::string& of) {
  const std::string name(info(result.want.quantity).name);
  Json json = {{"quantity", name}};
  put_limits(json, result.want.limits);
  if (!result.want.range.empty()) json["range"] = result.want.range;
  put_figure(json, result.figure, name + " of " + of);
  json["verdict"] = verdict_name(result.verdict);
  return json;
}

}  // namespace

Json reading_json(const Reading& reading) {
  const std::string& name = reading.name;
  Json json = {{"name", name},
               {"kind", reading_kind_name(reading.kind)},
               {"at", place_json(reading.at, name)},
               {"facing", reading.facing},
               {"direction", place_json(reading.direction, name)},
               {"values", figures_json(reading.values, name)},
               {"scalar", figures_json(reading.scalar, name)}};
  Json by_lamp = Json::object();
  for (const auto& [lamp, values] : reading.by_lamp) {
    Json& one = by_lamp[lamp] = Json::object();
    for (const auto& [quantity, value] : values) {
      one[std::string(info(quantity).name)] = six_digits(value, name + " by " + lamp);
    }
  }
  json["by_lamp"] = std::move(by_lamp);
  if (reading.top_at) {
    json["top"] = {{"at", place_json(*reading.top_at, name)},
                   {"values", figures_json(reading.top, "the top of " + name)}};
  }
  json["wants"] = Json::array();
  for (const WantResult& result : reading.wants) json["wants"].push_back(want(result, name));
  return json;
}

namespace {

Json zone(const ZoneFraction& fraction, const std::string& name) {
  Json json = {{"volume_fraction", six_digits(fraction.volume.value, name)},
               {"volume_se", six_digits(fraction.volume.se, name)}};
  if (fraction.volume.converged) json["volume_converged"] = *fraction.volume.converged;
  if (fraction.perch) {
    json["perch_fraction"] = six_digits(fraction.perch->value, name);
    json["perch_se"] = six_digits(fraction.perch->se, name);
    if (fraction.perch->converged) json["perch_converged"] = *fraction.perch->converged;
  }
  return json;
}

Json zones(const Survey& survey) {
  Json json = Json::object();
  for (const auto& [name, fraction] : survey.zones) json[name] = zone(fraction, name);

  Json& levels = json["levels"] = Json::array();
  for (std::size_t i = 0; i < survey.levels.size(); ++i) {
    const Level& level = survey.levels[i];
    Json row = {{"z", six_digits(level.z, "a level")}};
    const auto put_share = [&](const std::string& name, const std::optional<double>& share) {
      if (!share) return;
      row[name] = six_digits(*share, name);
      const auto fraction = survey.zones.find(name);
      if (fraction == survey.zones.end() || i >= fraction->second.levels.size()) return;
      row[name + "_se"] = six_digits(fraction->second.levels[i].se, name);
    };
    put_share("basking", level.basking);
    put_share("refuge", level.refuge);
    row["uvi_mean"] = six_digits(level.uvi_mean, "the mean UVI of a level");
    row["ppfd_mean"] = six_digits(level.ppfd_mean, "the mean PPFD of a level");
    if (level.dli_mean) row["dli_mean"] = six_digits(*level.dli_mean, "the mean DLI of a level");
    levels.push_back(std::move(row));
  }

  Json& wants = json["wants"] = Json::array();
  for (const ZoneWantResult& result : survey.zone_wants) {
    Json row = {{"zone", result.want.zone}, {"share", zone_share_name(result.want.share)}};
    put_limits(row, result.want.limits);
    put_figure(row, result.figure, result.want.zone);
    if (result.level_z) row["level_z"] = six_digits(*result.level_z, "a level");
    row["verdict"] = verdict_name(result.verdict);
    wants.push_back(std::move(row));
  }
  return json;
}

Json hottest_place(const HottestPlace& place_found) {
  const std::string what = "the hottest place";
  Json json = Json::object();
  put_figure(json, place_found.figure, what);
  json["at"] = place_json(place_found.at, what);
  json["direction"] = place_json(place_found.direction, what);
  json["lamp"] = place_found.lamp;
  if (place_found.limit) json["limit"] = six_digits(*place_found.limit, what);
  if (place_found.verdict) json["verdict"] = verdict_name(*place_found.verdict);
  return json;
}

}  // namespace

std::string readings_json(const Survey& survey) {
  const Scene& scene = survey.scene;
  // The scene's file without its folder: the same scene gives the same results wherever it lies.
  Json json = {
      {"boughlight", 1},           {"scene", std::filesystem::path(scene.file).filename().string()},
      {"title", scene.title},      {"version", BOUGHLIGHT_VERSION},
      {"seed", scene.survey.seed}, {"tolerance", six_digits(scene.survey.tolerance, "the tolerance")}};
  json["readings"] = Json::array();
  for (const Reading& one : survey.readings) json["readings"].push_back(reading_json(one));
  json["zones"] = zones(survey);
  if (survey.hottest) {
    json["hottest"] = {{"uvi", hottest_place(survey.hottest->uvi)},
                       {"irradiance", hottest_place(survey.hottest->irradiance)},
                       {"at_full",
                        {{"uvi", hottest_place(survey.hottest->uvi_at_full)},
                         {"irradiance", hottest_place(survey.hottest->irradiance_at_full)}}}};
  }
  if (!survey.animal.empty()) json["animal"] = animal_json(survey);
  put_day(json, survey);
  put_doubt(json, survey);
  json["cautions"] = Json::array();
  for (const Caution& caution : survey.cautions) {
    json["cautions"].push_back({{"kind", caution.kind}, {"text", caution.text}, {"reason", caution.reason}});
  }
  json["verdict"] = whole_verdict_name(survey.verdict);
  return json_text(json);
}

}  // namespace boughlight
