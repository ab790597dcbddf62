#include "report/json_day.h"

#include "report/json_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

Json figure_json(const Figure& figure, const std::string& what) {
  return {{"value", six_digits(figure.value, what)}, {"se", six_digits(figure.se, what)}};
}

// Values and their errors alone.
Json bare_figures_json(const Figures& figures, const std::string& what) {
  Json json = Json::object();
  for (const auto& [quantity, figure] : figures)
    json[std::string(info(quantity).name)] = figure_json(figure, what);
  return json;
}

Json limits_json(const Limits& limits) {
  Json json = Json::object();
  put_limits(json, limits);
  return json;
}

Json or_null(const std::optional<double>& value, const std::string& what) {
  return value ? Json(six_digits(*value, what)) : Json();
}

Json clock_json(const Survey& survey) {
  const ClockFindings& clock = survey.day.clock;
  Json json = {{"step_h", six_digits(kClockStepH, "the step")}, {"longest_dark", Json()}};
  if (clock.longest_dark) {
    const ClockSpan& dark = *clock.longest_dark;
    json["longest_dark"] = {{"from", print_clock_time(dark.from_h)},
                            {"to", print_clock_time(dark.to_h)},
                            {"hours", six_digits(dark.to_h - dark.from_h, "the dark")}};
  }
  Json& sources = json["sources"] = Json::object();
  for (std::size_t i = 0; i < clock.sources.size(); ++i)
    sources[survey.scene.source_name(i)] = numbers_json(clock.sources[i], "the clock");
  Json& readings = json["readings"] = Json::array();
  for (std::size_t i = 0; i < clock.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    Json row = {{"name", reading.name}, {"kind", reading_kind_name(reading.kind)}};
    for (std::size_t q = 0; q < kClockQuantities.size(); ++q)
      row[std::string(info(kClockQuantities[q]).name)] = numbers_json(clock.readings[i][q], reading.name);
    readings.push_back(std::move(row));
  }
  return json;
}

Json plant_json(const Survey& survey, const PlantFindings& plant) {
  const Reading& reading = survey.readings[plant.reading];
  Json json = {{"name", reading.name},
               {"middle", bare_figures_json(plant.middle, reading.name)},
               {"shaded", bare_figures_json(plant.shaded, reading.name)},
               {"needs", Json::array()}};
  for (const NeedStanding& found : plant.needs) {
    Json need = {{"quantity", info(found.need.quantity).name}};
    if (found.need.survive) need["survive"] = limits_json(*found.need.survive);
    if (found.need.hold) need["hold"] = limits_json(*found.need.hold);
    if (found.need.grow) need["grow"] = limits_json(*found.need.grow);
    need["standing"] = standing_name(found.crown);
    need["sure"] = found.sure;
    need["top"] = standing_name(found.top);
    need["middle"] = standing_name(found.middle);
    need["shaded"] = standing_name(found.shaded);
    json["needs"].push_back(std::move(need));
  }
  return json;
}

Json floor_json(const FloorFindings& floor) {
  return {{"z", six_digits(floor.z, "the floor")},
          {"ppfd_mean", six_digits(floor.ppfd_mean, "the floor")},
          {"dli_mean", or_null(floor.dli_mean, "the floor")},
          {"dli_low", or_null(floor.dli_low, "the floor")},
          {"dli_high", or_null(floor.dli_high, "the floor")}};
}

Json warmth_json(const Survey& survey) {
  const DayFindings& day = survey.day;
  Json json = {{"note",
                "An estimate of a dry, dark back in the steady state, with its band; only a probe at the "
                "back decides."},
               {"plate_length", six_digits(day.warmth_length_m, "the back's size")},
               {"body_assumed", day.warmth_body_assumed},
               {"absorptance", kBackAbsorptance},
               {"perches", Json::array()}};
  for (const PerchWarmth& perch : day.warmth) {
    const std::string& name = survey.readings[perch.reading].name;
    Json cases = Json::array();
    for (const WarmthCase& found : perch.cases)
      cases.push_back({{"air", found.air},
                       {"air_c", six_digits(found.air_c, name)},
                       {"full_power", found.full_power},
                       {"irradiance", six_digits(found.irradiance_w_m2, name)},
                       {"back_c", six_digits(found.back.value_c, name)},
                       {"low_c", six_digits(found.back.low_c, name)},
                       {"high_c", six_digits(found.back.high_c, name)}});
    json["perches"].push_back({{"name", name}, {"cases", std::move(cases)}});
  }
  return json;
}

Json workplace_json(const Survey& survey, const WorkplaceFindings& found) {
  const Workplace& workplace = survey.scene.workplaces[found.workplace];
  const std::string& name = workplace.name;
  const auto place = [&](const Vec3& p) {
    return Json{six_digits(p.x(), name), six_digits(p.y(), name), six_digits(p.z(), name)};
  };
  Json open = Json::array();
  for (const auto& [box, side] : workplace.open)
    open.push_back({{"box", survey.scene.boxes[box].name}, {"face", side_name(side)}});
  return {{"name", name},
          {"at", place(workplace.at)},
          {"direction", place(found.direction)},
          {"open", std::move(open)},
          {"uvi", figure_json(found.uvi, name)},
          {"actinic", figure_json(found.actinic, name)},
          {"uva", figure_json(found.uva, name)},
          {"minutes_to_skin_limit", or_null(found.skin_minutes, name)},
          {"minutes_to_eye_limit", or_null(found.eye_minutes, name)},
          {"daily_minutes", six_digits(60 * workplace.hours_a_day, name)},
          {"share_of_skin_limit", six_digits(found.skin_share, name)},
          {"share_of_eye_limit", six_digits(found.eye_share, name)}};
}

}  // namespace

void put_day(Json& json, const Survey& survey) {
  const DayFindings& day = survey.day;
  if (!day.clock.sources.empty()) json["day"] = clock_json(survey);
  if (!day.plants.empty()) {
    json["plants"] = Json::array();
    for (const PlantFindings& plant : day.plants) json["plants"].push_back(plant_json(survey, plant));
  }
  if (day.floor) json["floor"] = floor_json(*day.floor);
  if (!day.warmth.empty()) json["warmth"] = warmth_json(survey);
  if (!day.people.empty()) {
    json["people"] = Json::array();
    for (const WorkplaceFindings& found : day.people) json["people"].push_back(workplace_json(survey, found));
  }
}

}  // namespace boughlight
