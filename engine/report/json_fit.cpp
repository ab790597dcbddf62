#include <filesystem>

#include "report/fit_report.h"
#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/text.h"

namespace boughlight {
namespace {

std::string guess_name(FitGuess::Kind kind) {
  switch (kind) {
    case FitGuess::Kind::place:
      return "place";
    case FitGuess::Kind::lamps:
      return "lamps";
    case FitGuess::Kind::screen:
      return "screen";
    case FitGuess::Kind::upwards:
      return "upwards";
    case FitGuess::Kind::scale:
      return "scale";
    case FitGuess::Kind::low_alone:
      return "low_alone";
    case FitGuess::Kind::low_together:
      return "low_together";
  }
  return "";
}

Json fit_reading_json(const Scene& scene, const FitReading& reading) {
  const MeterReading& read = reading.reading;
  const std::string what = "the reading in line " + std::to_string(read.mark.line);
  Json json = {{"line", read.mark.line},
               {"place", read.place},
               {"at", place_json(read.at, what)},
               {"direction", place_json(reading.direction, what)},
               {"quantity", info(read.quantity).name}};
  if (!read.lamps.empty()) {
    Json& lamps = json["lamps"] = Json::array();
    for (const std::size_t lamp : read.lamps) lamps.push_back(scene.lamps[lamp].name);
  }
  json["read"] = six_digits(read.value, what);
  json["declared"] = six_digits(reading.declared, what);
  json["fitted"] = six_digits(reading.fitted, what);
  json["expected"] = six_digits(reading.expected, what);
  json["miss_sd"] = six_digits(reading.miss, what);
  json["used"] = reading.used;
  json["at_odds"] = reading.at_odds;
  if (!reading.used) json["left_out"] = reading.outlier ? "outlier" : "cold";
  if (reading.guesses.empty()) return json;
  Json& guesses = json["may_be"] = Json::array();
  for (const FitGuess& guess : reading.guesses) {
    Json one = {{"kind", guess_name(guess.kind)}};
    if (!guess.name.empty()) one["name"] = guess.name;
    if (guess.kind == FitGuess::Kind::scale) one["factor"] = six_digits(guess.factor, what);
    guesses.push_back(std::move(one));
  }
  return json;
}

Json factors_json(const std::vector<FitFactor>& factors, const char* key) {
  Json json = Json::array();
  for (const FitFactor& factor : factors) {
    Json one = {{key, factor.name}};
    if (!factor.part.empty()) one["part"] = factor.part;
    one["factor"] = six_digits(factor.factor, factor.name);
    one["low"] = six_digits(factor.low, factor.name);
    one["high"] = six_digits(factor.high, factor.name);
    one["log_sd_before"] = six_digits(factor.sd_before, factor.name);
    one["log_sd_after"] = six_digits(factor.sd_after, factor.name);
    json.push_back(std::move(one));
  }
  return json;
}

Json cause_json(const FitCause& cause) {
  Json json = {{"cause", cause.nothing ? std::string("nothing") : std::string(fit_kind_name(cause.kind))}};
  if (!cause.name.empty()) json["name"] = cause.name;
  if (!cause.part.empty()) json["part"] = cause.part;
  const bool length = cause.kind == FitKind::lamp_height || cause.kind == FitKind::height;
  if (!cause.nothing) json[length ? "raised_m" : "factor"] = six_digits(cause.shift, cause.name);
  json["share"] = six_digits(cause.share, cause.name);
  json["miss_sd"] = six_digits(cause.miss, cause.name);
  return json;
}

}  // namespace

std::string fit_json(const Scene& scene, const Fit& fit, const std::string& written) {
  Json json = {
      {"boughlight", 1},
      {"scene", std::filesystem::path(scene.file).filename().string()},
      {"title", scene.title},
      {"written", written.empty() ? Json(nullptr) : Json(std::filesystem::path(written).filename().string())},
      {"meter_sd", six_digits(fit.meter, "the meter's doubt")},
      {"blank", fit.blank},
      {"unread_columns", fit.unread_columns},
      {"miss_sd_before", six_digits(fit.miss_before, "the miss")},
      {"miss_sd_after", six_digits(fit.miss_after, "the miss")}};
  Json& readings = json["readings"] = Json::array();
  for (const FitReading& reading : fit.readings) readings.push_back(fit_reading_json(scene, reading));
  json["lamps"] = factors_json(fit.lamps, "lamp");
  json["meshes"] = factors_json(fit.meshes, "mesh");
  json["meters"] = factors_json(fit.meters, "quantity");
  Json& heights = json["heights"] = Json::array();
  for (const FitHeight& height : fit.heights)
    heights.push_back({{height.of_lamp ? "lamp" : "place", height.name},
                       {"raised_m", six_digits(height.shift, height.name)},
                       {"sd_before_m", six_digits(height.sd_before, height.name)},
                       {"sd_after_m", six_digits(height.sd_after, height.name)}});
  Json& causes = json["single_causes"] = Json::array();
  for (const FitCause& cause : fit.causes) causes.push_back(cause_json(cause));
  Json& bands = json["bands"] = Json::array();
  for (const FitBand& band : fit.bands) {
    const auto figure = [&](double value, double low, double high) {
      return Json{{"value", six_digits(value, band.reading)},
                  {"low", six_digits(low, band.reading)},
                  {"high", six_digits(high, band.reading)}};
    };
    Json one = {{"reading", band.reading}, {"quantity", info(band.quantity).name}};
    put_limits(one, band.limits);
    one["before"] = figure(band.before, band.before_low, band.before_high);
    one["after"] = figure(band.after, band.after_low, band.after_high);
    bands.push_back(std::move(one));
  }
  return json_text(json);
}

}  // namespace boughlight
