#include "report/json_plan.h"

#include <cmath>
#include <filesystem>

#include "assess/judge.h"
#include "report/text.h"

namespace boughlight {
namespace {

Json figure_row(const Scene& scene, const Asks& asks, std::size_t figure, const Figure& value) {
  Json row = figure_key_json(scene, asks.figures[figure]);
  const Limits limits = limits_on(asks, figure);
  put_limits(row, limits);
  put_figure(row, {value.value, value.se, std::nullopt}, "a predicted figure");
  if (limits.min || limits.max) row["verdict"] = verdict_name(judge(value, limits));
  return row;
}

}  // namespace

Json plan_head(const Scene& scene) {
  return {{"boughlight", 1},           {"scene", std::filesystem::path(scene.file).filename().string()},
          {"title", scene.title},      {"version", BOUGHLIGHT_VERSION},
          {"seed", scene.survey.seed}, {"tolerance", six_digits(scene.survey.tolerance, "the tolerance")}};
}

Json numbers_json(const std::vector<double>& values) {
  return numbers_json(values, "a number of the map");
}

Json figure_key_json(const Scene& scene, const FigureKey& key) {
  switch (key.kind) {
    case FigureKind::reading:
      return {{"of", reading_name(scene, key.item)},
              {"quantity", info(key.quantity).name},
              {"unit", info(key.quantity).unit}};
    case FigureKind::reach:
      return {{"of", "reach"}, {"quantity", info(key.quantity).name}, {"unit", info(key.quantity).unit}};
    default:
      return {{"of", key.zone}, {"share", zone_share_name(key.share)}, {"unit", "1"}};
  }
}

Json ask_json(const Scene& scene, const Asks& asks, const Ask& ask, double limit) {
  Json json = figure_key_json(scene, asks.figures[ask.figure]);
  json[ask.at_least ? "min" : "max"] = six_digits(limit, "a limit");
  return json;
}

Json at_place_json(const Scene& scene, const Asks& asks, const std::vector<Figure>& figures) {
  Json rows = Json::array();
  for (std::size_t f = 0; f < figures.size(); ++f) rows.push_back(figure_row(scene, asks, f, figures[f]));
  return rows;
}

Json slack_json(const Scene& scene, const Asks& asks, const Slack& slack) {
  Json json = {{"distance", six_digits(slack.distance, "a slack")}};
  if (slack.ask) {
    const Ask& ask = asks.asks[*slack.ask];
    json["then_fails"] = ask_json(scene, asks, ask, ask.limit);
  } else {
    json["then"] = slack.ends ? "the map ends" : "another lamp is in the way";
  }
  return json;
}

void put_region(Json& json, const Scene& scene, const FigureField& field, const Region& region,
                const std::function<Json(std::size_t choice)>& place) {
  const Asks& asks = field.asks;
  json["binding"] = Json::array();
  for (const Binding& binding : region.bindings) {
    const Ask& ask = asks.asks[binding.ask];
    Json row = ask_json(scene, asks, ask, ask.limit);
    row["rules_out"] = binding.refused;
    row["alone"] = binding.alone;
    json["binding"].push_back(std::move(row));
  }
  if (region.allowed > 0) return;
  json["conflicts"] = Json::array();
  for (const std::vector<std::size_t>& set : region.conflicts) {
    Json members = Json::array();
    for (const std::size_t index : set)
      members.push_back(ask_json(scene, asks, asks.asks[index], asks.asks[index].limit));
    json["conflicts"].push_back(std::move(members));
  }
  json["openings"] = Json::array();
  for (const Opening& opening : region.openings) {
    Json row = {{"at", place(opening.choice)}, {"loosened", Json::array()}};
    for (const Opening::Loosened& loosened : opening.loosened) {
      const Ask& ask = asks.asks[loosened.ask];
      Json one = ask_json(scene, asks, ask, loosened.limit);
      one["instead_of"] = six_digits(ask.limit, "a limit");
      row["loosened"].push_back(std::move(one));
    }
    json["openings"].push_back(std::move(row));
  }
}

void put_region_maps(Json& json, const Scene& scene, const FigureField& field, const Region& region,
                     const std::vector<char>& changed) {
  json["state_names"] = {"allowed", "unsure", "refused", "impossible"};
  json["states"] = Json::array();
  for (const ChoiceState state : region.states) json["states"].push_back(static_cast<int>(state));
  // Where nothing fails anywhere there is no nearest place where something does.
  json["slack"] = Json::array();
  for (const double slack : region.slack)
    json["slack"].push_back(std::isfinite(slack) ? Json(six_digits(slack, "a slack")) : Json(nullptr));
  json["figures"] = Json::array();
  for (std::size_t f = 0; f < field.asks.figures.size(); ++f) {
    if (!changed[f]) continue;
    Json row = figure_key_json(scene, field.asks.figures[f]);
    put_limits(row, limits_on(field.asks, f));
    Json values = Json::array(), errors = Json::array();
    for (std::size_t choice = 0; choice < field.size(); ++choice) {
      values.push_back(six_digits(field.figure(choice, f).value, "a predicted figure"));
      errors.push_back(six_digits(field.figure(choice, f).se, "a standard error"));
    }
    row["values"] = std::move(values);
    row["se"] = std::move(errors);
    json["figures"].push_back(std::move(row));
  }
}

Json unchanged_json(const Scene& scene, const FigureField& field, const std::vector<char>& changed) {
  Json rows = Json::array();
  for (std::size_t f = 0; f < field.asks.figures.size(); ++f)
    if (!changed[f]) rows.push_back(figure_row(scene, field.asks, f, field.figure(0, f)));
  return rows;
}

}  // namespace boughlight
