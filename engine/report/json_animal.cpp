// The part `animal` of readings.json.
#include <algorithm>

#include "report/json_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

Json number(double value, const std::string& what) {
  return six_digits(value, what);
}

Json number_or_null(const std::optional<double>& value, const std::string& what) {
  return value ? number(*value, what) : Json();
}

std::string quantity_name(Quantity quantity) {
  return std::string(info(quantity).name);
}

Json body_place(const BodyPlace& place, const std::string& what) {
  Json json = {{"row", place.flank ? "flank" : "back"},
               {"along", number(place.along, what)},
               {"at", place_json(place.at, what)},
               {"values", figures_json(place.values, what)}};
  if (place.wants_met) json["wants_met"] = *place.wants_met;
  return json;
}

Json beam(const Beam& beam, const std::string& what) {
  return {{"greatest", number(beam.greatest, what)},
          {"greatest_at", number(beam.greatest_at, what)},
          {"from", number(beam.from, what)},
          {"to", number(beam.to, what)},
          {"width", number(beam.width(), what)},
          {"open_from", beam.open_from},
          {"open_to", beam.open_to}};
}

Json body(const BodyFindings& found) {
  const std::string what = "the body on " + found.perch;
  Json json = {{"perch", found.perch},
               {"back", number(found.back, what)},
               {"length", number(found.length, what)},
               {"height", number(found.height, what)},
               {"axis", place_json(found.axis, what)},
               {"axis_from", axis_origin_name(found.axis_origin)},
               {"direction", place_json(found.direction, what)},
               {"places", Json::array()},
               {"spread", Json::object()},
               {"line", {number(found.line_from, what), number(found.line_to, what)}},
               {"beams", Json::object()}};
  for (const BodyPlace& place : found.places) json["places"].push_back(body_place(place, what));
  for (const auto& [quantity, spread] : found.spread)
    json["spread"][quantity_name(quantity)] = {{"greatest", number(spread.greatest, what)},
                                               {"least", number(spread.least, what)},
                                               {"peak_to_edge", number_or_null(spread.peak_to_edge, what)}};
  for (const auto& [quantity, stretch] : found.beams)
    json["beams"][quantity_name(quantity)] = beam(stretch, what);
  json["nested"] = found.nested ? Json(*found.nested) : Json();
  json["for_basking"] = found.for_basking;
  json["wants_share"] = number_or_null(found.wants_share, what);
  json["flank_wants_share"] = number_or_null(found.flank_wants_share, what);
  return json;
}

Json size(const SizeFindings& found) {
  const std::string what = "the size " + found.size.name;
  Json json = {{"name", found.size.name}, {"back", number(found.size.back, what)}};
  if (found.size.body)
    json["body"] = {{"length", number(found.size.body->first, what)},
                    {"height", number(found.size.body->second, what)}};
  json["readings"] = Json::array();
  for (const Reading& reading : found.readings) json["readings"].push_back(reading_json(reading));
  json["bodies"] = Json::array();
  for (const BodyFindings& one : found.bodies) json["bodies"].push_back(body(one));
  return json;
}

Json closest_figure(const ClosestFigure& found, const std::string& what) {
  Json json = Json::object();
  put_figure(json, found.figure, what);
  json["direction"] = place_json(found.direction, what);
  json["lamp"] = found.lamp;
  json["lamp_share"] = number(found.share, what);
  if (found.limit) {
    json["limit"] = number(*found.limit, what);
    json["over"] = number(found.figure.value - *found.limit, what);
  }
  if (found.verdict) json["verdict"] = verdict_name(*found.verdict);
  return json;
}

Json closest(const ClosestPlace& place) {
  const std::string what = "the closest place to " + place.lamp;
  return {{"lamp", place.lamp},
          {"at", place_json(place.at, what)},
          {"distance_to_lamp", number(place.distance_to_lamp, what)},
          {"below_top", number(place.below_top, what)},
          {"top", place.top},
          {"uvi", closest_figure(place.uvi, what)},
          {"irradiance", closest_figure(place.irradiance, what)},
          {"at_full",
           {{"uvi", closest_figure(place.uvi_at_full, what)},
            {"irradiance", closest_figure(place.irradiance_at_full, what)}}}};
}

Json mend(const Mend& found) {
  const std::string what = "what mends " + found.lamp;
  return {{"quantity", quantity_name(found.quantity)},
          {"limit", number(found.limit, what)},
          {"lamp", found.lamp},
          {"at", place_json(found.at, what)},
          {"raise", number_or_null(found.raise, what)},
          {"output_share", number_or_null(found.output_share, what)},
          {"sun_perch_uvi", number_or_null(found.sun_perch_uvi, what)}};
}

Json split(const ShadeSplit& split) {
  const std::string what = "a share of what can be sat on";
  return {{"below_10", number(split.below_10, what)},
          {"from_10_to_50", number(split.from_10_to_50, what)},
          {"above_50", number(split.above_50, what)}};
}

Json seat(const SeatPlace& place) {
  const std::string what = "a place on " + place.on;
  Json json = {{"on", place.on},
               {"at", place_json(place.at, what)},
               {"length", number(place.length, what)},
               {"values", figures_json(place.values, what)},
               {"share", number(place.share, what)}};
  if (place.refuge) json["refuge"] = true;
  if (place.basking) json["basking_uvi"] = true;
  if (place.uv_without_heat) json["uv_without_heat"] = true;
  return json;
}

Json way(const CoveredWay& found, const Shelter& shelter) {
  const std::string what = "the way to a refuge";
  const SeatPlace& end = shelter.places[found.places.back()];
  return {{"covered", found.covered},
          {"worst_share", number(found.worst_share, what)},
          {"length", number(found.length, what)},
          {"refuge_on", end.on},
          {"refuge_at", place_json(end.at, what)},
          {"places", found.places}};
}

Json shelter_json(const Shelter& shelter) {
  const std::string what = "the shelter";
  Json json = {{"sun_perch", shelter.sun_perch},
               {"sun_uvi", number(shelter.sun_uvi, what)},
               {"sun_infrared", number(shelter.sun_infrared, what)},
               {"stride", number(shelter.stride, what)},
               {"fraction", split(shelter.fraction)},
               {"fraction_se", split(shelter.fraction_se)},
               {"levels", Json::array()},
               {"way", shelter.way ? way(*shelter.way, shelter) : Json()},
               {"refuges", Json::array()},
               {"uv_without_heat", Json()},
               {"places", Json::array()}};
  for (const ShadeLevel& level : shelter.levels) {
    Json row = {{"z", number(level.z, what)}, {"length", number(level.length, what)}};
    row.update(split(level.fraction));
    json["levels"].push_back(std::move(row));
  }
  for (const ReachedRefuge& refuge : shelter.refuges)
    json["refuges"].push_back({{"z", number(refuge.z, what)}, {"length", number(refuge.length, what)}});
  if (shelter.heat_matters) {
    json["uv_without_heat"] = {{"length", number(shelter.uv_without_heat_length, what)}};
    if (shelter.uv_without_heat) json["uv_without_heat"]["best_place"] = *shelter.uv_without_heat;
  }
  for (const SeatPlace& place : shelter.places) json["places"].push_back(seat(place));
  return json;
}

}  // namespace

Json animal_json(const Survey& survey) {
  const AnimalFindings& found = survey.animal;
  Json json = {{"sun_perch", found.sun_perch ? Json(*found.sun_perch) : Json()},
               {"bodies", Json::array()},
               {"sizes", Json::array()},
               {"closest", Json::array()},
               {"mends", Json::array()},
               {"shelter", found.shelter ? shelter_json(*found.shelter) : Json()}};
  for (const BodyFindings& one : found.bodies) json["bodies"].push_back(body(one));
  for (const SizeFindings& one : found.sizes) json["sizes"].push_back(size(one));
  for (const ClosestPlace& place : found.closest) json["closest"].push_back(closest(place));
  for (const Mend& one : found.mends) json["mends"].push_back(mend(one));
  return json;
}

}  // namespace boughlight
