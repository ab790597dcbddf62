// What each source gives by itself, so that the page can switch and dim.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "assess/judge.h"
#include "report/map_scene.h"
#include "report/map_style.h"
#include "report/packed.h"
#include "report/page.h"
#include "report/text.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

std::string_view limit_kind(MapLimit::Kind kind) {
  return kind == MapLimit::Kind::at_least  ? "at_least"
         : kind == MapLimit::Kind::at_most ? "at_most"
                                           : "never";
}

Json limits_json(const Scene& scene, Quantity quantity) {
  Json list = Json::array();
  for (const MapLimit& limit : limits_of(scene, quantity))
    list.push_back({{"value", limit.value}, {"kind", limit_kind(limit.kind)}, {"who", limit.who}});
  return list;
}

Json scale_json(const Survey& survey, Quantity quantity) {
  const ColourScale scale = map_scale(survey, quantity);
  return {{"logarithmic", scale.spacing == Spacing::logarithmic},
          {"low", scale.low},
          {"high", scale.high},
          {"ticks", scale.ticks()}};
}

Json ramp_json() {
  std::string bytes;
  for (const Rgb& colour : colour_ramp())
    for (const std::uint8_t channel : {colour.r, colour.g, colour.b})
      bytes.push_back(static_cast<char>(channel));
  return base64(bytes);
}

std::string hex(Rgb colour) {
  return fmt::format("#{:02x}{:02x}{:02x}", colour.r, colour.g, colour.b);
}

// The maps' own colours and the names of their signs.
Json style_json() {
  using namespace map_style;
  Json names = Json::object();
  for (const auto& [name, sign] : {std::pair{"perch", MapSign::perch},
                                   {"point", MapSign::point},
                                   {"elsewhere", MapSign::elsewhere},
                                   {"hottest", MapSign::hottest},
                                   {"branch", MapSign::branch},
                                   {"crown", MapSign::crown}})
    names[name] = sign_name(sign);
  return {{"paper", hex(kPaper)},
          {"ink", hex(kInk)},
          {"muted", hex(kMuted)},
          {"hatch", hex(kHatch)},
          {"hatchGround", hex(kHatchGround)},
          {"bark", hex(kBark)},
          {"leaf", hex(kLeaf)},
          {"leafEdge", hex(kLeafEdge)},
          {"lamp", hex(kLamp)},
          {"lampEdge", hex(kLampEdge)},
          {"names", std::move(names)}};
}

Json factors_json(const InstantFactors& factors, std::string_view what) {
  Json list = Json::array();
  for (const double factor : factors) list.push_back(six_digits(factor, what));
  return list;
}

Json steps_json(const std::vector<DimmerStep>& steps, const std::string& name) {
  Json list = Json::array();
  for (const DimmerStep& step : steps) {
    Json readings = Json::array();
    for (const InstantFactors& reading : step.readings) readings.push_back(factors_json(reading, name));
    list.push_back({{"dim", step.dim},
                    {"cells", factors_json(step.cells, name)},
                    {"cells_rms", factors_json(step.cells_rms, name)},
                    {"readings", std::move(readings)}});
  }
  return list;
}

Json spans_json(const std::optional<std::vector<ClockSpan>>& lit) {
  if (!lit) return {};
  Json spans = Json::array();
  for (const ClockSpan& span : *lit) spans.push_back({span.from_h, span.to_h});
  return spans;
}

Json sources_json(const Survey& survey) {
  const Scene& scene = survey.scene;
  const SourceShares& shares = survey.shares;
  Json list = Json::array();
  for (std::size_t i = 0; i < shares.sources; ++i) {
    const bool lamp = i < scene.lamps.size();
    const auto& lit = lamp ? scene.lamps[i].lit : scene.room->lit;
    list.push_back({{"name", scene.source_name(i)},
                    {"is_lamp", lamp},
                    {"dim", lamp ? scene.lamps[i].dim : 1.0},
                    {"reference", shares.reference[i]},
                    {"lit", spans_json(lit)},
                    {"hours", lit ? Json(total_hours(*lit)) : Json()},
                    {"ramp_h", lamp ? scene.lamps[i].ramp_h : 0.0},
                    {"steps", steps_json(shares.steps[i], scene.source_name(i))}});
  }
  return list;
}

Json hottest_json(const HottestPlace& place, const std::string& what) {
  Json list = Json::array();
  for (const double share : place.by_source) list.push_back(six_digits(share, what));
  return list;
}

}  // namespace

nlohmann::ordered_json page_quantities_json(bool has_day) {
  Json list = Json::array();
  for (const QuantityInfo& about : all_quantities()) {
    Json one = {{"name", about.name},
                {"label", about.label},
                {"heading", heading_name(about.quantity)},
                {"unit", pretty_unit(about.quantity)},
                {"meaning", about.meaning},
                {"step", finest_step(about.quantity)}};
    if (is_day_quantity(about.quantity)) {
      if (!has_day) continue;
      one["of"] = info(about.of).name;
      one["per_hour"] = about.per_hour;
    }
    list.push_back(std::move(one));
  }
  return list;
}

Json page_light_json(const Survey& survey) {
  Json json = {{"quantities", page_quantities_json(survey.has_day)},
               {"instant", kInstant},
               {"has_day", survey.has_day},
               {"ramp", ramp_json()},
               {"style", style_json()},
               {"interval", kIntervalFactor}};
  for (const QuantityInfo& about : all_quantities()) {
    if (is_day_quantity(about.quantity) && !survey.has_day) continue;
    json["scales"][std::string(about.name)] = scale_json(survey, about.quantity);
    json["limits"][std::string(about.name)] = limits_json(survey.scene, about.quantity);
  }
  json["sources"] = sources_json(survey);
  json["readings"] = {{"replicates", kReplicates}, {"floats", packed_floats(survey.shares.reading_values)}};
  if (survey.hottest)
    json["hottest"] = {{"uvi", hottest_json(survey.hottest->uvi, "the hottest place")},
                       {"irradiance", hottest_json(survey.hottest->irradiance, "the hottest place")}};
  json["grid"] = page_grid_json(survey);
  return json;
}

}  // namespace boughlight
