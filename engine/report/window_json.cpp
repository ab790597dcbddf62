// window-LAMP.json. Its names and shape are a contract with programs that read it.
#include "assess/judge.h"
#include "report/json_plan.h"
#include "report/json_text.h"
#include "report/text.h"
#include "report/window_report.h"

namespace boughlight {
namespace {

Json range_json(const Window& window, const OutputRange& range) {
  Json json = {{"gap", six_digits(range.gap, "a gap")}, {"depth", six_digits(range.depth, "a depth")}};
  const auto put_end = [&](const char* name, const std::optional<double>& output,
                           const std::optional<std::size_t>& ask) {
    if (!output) {
      json[name] = nullptr;
      return;
    }
    Json end = {{"output", six_digits(*output, "an output")}, {"readings", Json::array()}};
    for (const LampReading& reading : window.readings)
      end["readings"].push_back({{"quantity", info(reading.quantity).name},
                                 {"at", six_digits(reading.distance, "a distance")},
                                 {"value", six_digits(*output * reading.value, "a reading")},
                                 {"unit", info(reading.quantity).unit}});
    if (ask) {
      const Ask& failing = window.field.asks.asks[*ask];
      end["then_fails"] = ask_json(window.scene, window.field.asks, failing, failing.limit);
    } else {
      end["then"] = "the chart ends";
    }
    json[name] = std::move(end);
  };
  put_end("weakest", range.least, range.below);
  put_end("strongest", range.most, range.above);
  return json;
}

Json set_up_json(const Window& window, std::size_t choice) {
  const std::array<std::size_t, 3> at = window.field.index(choice);
  return {{"gap", six_digits(window.field.axes[0][at[0]], "a gap")},
          {"depth", six_digits(window.field.axes[1][at[1]], "a depth")},
          {"output", six_digits(window.field.axes[2][at[2]], "an output")}};
}

}  // namespace

std::string window_json(const Window& window) {
  const Scene& scene = window.scene;
  Json json = plan_head(scene);
  json["lamp"] = scene.lamps[window.lamp].name;
  json["perch"] = scene.perches[window.seat.perch].name;
  json["moves"] = Json::array();
  if (!window.seat.name.empty()) json["moves"].push_back(window.seat.name);
  for (const std::size_t perch : window.seat.perches) json["moves"].push_back(scene.perches[perch].name);
  json["allowed"] = window.region.allowed;
  json["unsure"] = window.region.unsure;
  json["touching_another_lamp"] = window.region.blocked;
  json["set_ups"] = window.field.size();
  json["now"] = {{"depth", six_digits(window.now[1], "a depth")}};
  if (window.as_it_is) json["now"] = range_json(window, *window.as_it_is);
  if (window.best) {
    Json best = range_json(window, *window.best);
    best["output"] = set_up_json(window, *window.region.spot)["output"];
    const std::array<std::array<const char*, 2>, 2> ways = {
        {{"lamp_lower", "lamp_higher"}, {"perch_higher", "perch_lower"}}};
    for (std::size_t axis = 0; axis < 2; ++axis)
      for (std::size_t up = 0; up < 2; ++up)
        best["slack"][ways[axis][up]] = slack_json(scene, window.field.asks, window.region.ways[axis][up]);
    json["best"] = std::move(best);
  }
  json["by_gap"] = Json::array();
  for (const OutputRange& range : window.by_gap) json["by_gap"].push_back(range_json(window, range));
  put_region(json, scene, window.field, window.region,
             [&](std::size_t choice) { return set_up_json(window, choice); });
  json["unchanged"] = unchanged_json(scene, window.field, window.changed);
  Json chart = {{"gap", numbers_json(window.field.axes[0])},
                {"depth", numbers_json(window.field.axes[1])},
                {"output", numbers_json(window.field.axes[2])},
                {"order", "gap runs fastest, then depth, then output"}};
  put_region_maps(chart, scene, window.field, window.region, window.changed);
  json["chart"] = std::move(chart);
  json["verdict"] = whole_verdict_name(verdict_of(window));
  return json_text(json);
}

}  // namespace boughlight
