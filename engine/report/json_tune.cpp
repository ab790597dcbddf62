#include <filesystem>

#include "assess/facts.h"
#include "report/json_parts.h"
#include "report/json_text.h"
#include "report/text.h"
#include "report/tune_report.h"

namespace boughlight {
namespace {

Json setting_json(const Scene& scene, const Lamp& lamp, TuneKind kind) {
  const std::string what = "lamp " + lamp.name;
  switch (kind) {
    case TuneKind::dim:
      return six_digits(lamp.dim, what);
    case TuneKind::gap: {
      const auto gap = gap_above_enclosure(scene, lamp);
      return gap ? Json(six_digits(*gap, what)) : Json(nullptr);
    }
    case TuneKind::place:
      return place_json(lamp.at, what);
    case TuneKind::aim:
      return place_json(lamp.aim, what);
    case TuneKind::fixture:
      return lamp.fixture->name;
  }
  return nullptr;
}

Json tuned_ask_json(const TunedAsk& ask) {
  const bool share = ask.key.kind == FigureKind::share;
  Json json = {{"about", ask.about}};
  json["kind"] = ask.key.kind == FigureKind::reading ? "reading" : share ? "share" : "never";
  if (!share) json["quantity"] = info(ask.key.quantity).name;
  json[ask.ask.at_least ? "min" : "max"] = six_digits(ask.ask.limit, ask.about);
  json["before"] = {{"value", six_digits(ask.before, ask.about)},
                    {"verdict", verdict_name(ask.verdict_before)},
                    {"slack_sd", six_digits(ask.slack_before, ask.about)}};
  json["after"] = {{"value", six_digits(ask.after, ask.about)},
                   {"verdict", verdict_name(ask.verdict_after)},
                   {"slack_sd", six_digits(ask.slack_after, ask.about)}};
  return json;
}

}  // namespace

std::string tune_json(const Scene& scene, const Tune& tune, const std::string& written) {
  Json json = {
      {"boughlight", 1},
      {"scene", std::filesystem::path(scene.file).filename().string()},
      {"title", scene.title},
      {"written", written.empty() ? Json(nullptr) : Json(std::filesystem::path(written).filename().string())},
      {"verdict_before", whole_verdict_name(tune.before)},
      {"verdict", whole_verdict_name(tune.after)},
      {"slack_sd_before", six_digits(tune.slack_before, "slack")},
      {"slack_sd", six_digits(tune.slack_after, "slack")}};
  Json& changes = json["changes"] = Json::array();
  for (const TunedChange& change : tune.changes) {
    const TunedAsk& ask = tune.asks[change.ask];
    changes.push_back({{"lamp", change.before.name},
                       {"what", tune_kind_name(change.kind)},
                       {"from", setting_json(scene, change.before, change.kind)},
                       {"to", setting_json(scene, change.after, change.kind)},
                       {"because_of", change.ask},
                       {"without", six_digits(change.without, ask.about)}});
  }
  Json& asks = json["wants"] = Json::array();
  for (const TunedAsk& ask : tune.asks) asks.push_back(tuned_ask_json(ask));
  json["unmet"] = tune.unmet;
  json["against"] = tune.against;
  json["at_bounds"] = tune.at_bounds;
  return json_text(json);
}

}  // namespace boughlight
