#include "plan/tune.h"

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>

#include "assess/survey.h"
#include "plan/tune_search.h"

namespace boughlight {

std::string_view tune_kind_name(TuneKind kind) {
  switch (kind) {
    case TuneKind::dim:
      return "dim";
    case TuneKind::gap:
      return "gap";
    case TuneKind::place:
      return "place";
    case TuneKind::aim:
      return "aim";
    case TuneKind::fixture:
      return "fixture";
  }
  return "";
}

namespace {

constexpr int kMostSurveys = 4;

std::string text_of(const Scene& scene, const FigureKey& key) {
  switch (key.kind) {
    case FigureKind::reading:
      return reading_name(scene, key.item);
    case FigureKind::reach:
      return "closest place";
    case FigureKind::share:
      return fmt::format("{}, {}", key.zone,
                         key.share == ZoneShare::volume  ? "volume"
                         : key.share == ZoneShare::perch ? "perches"
                                                         : "each level");
  }
  return "";
}

Surveyed surveyed(const Survey& survey, const Asks& asks) {
  Surveyed found;
  found.whole = survey.verdict;
  for (const FigureKey& key : asks.figures) {
    Figure figure;
    double doubt = 0;
    if (key.kind == FigureKind::reading) {
      figure = survey.readings[key.item].values.at(key.quantity);
      doubt = survey.doubt.readings[key.item].bands.at(key.quantity).log_sd;
    } else if (key.kind == FigureKind::reach) {
      if (!survey.hottest)
        throw InputError({{{survey.scene.file, 0, 0},
                           "",
                           "the animal gets to no place at all, so what it should never meet cannot be "
                           "judged: make animal.reach smaller"}});
      const bool uvi = key.quantity == Quantity::uvi;
      figure = (uvi ? survey.hottest->uvi : survey.hottest->irradiance).figure;
      const auto& band = uvi ? survey.doubt.hottest_uvi : survey.doubt.hottest_irradiance;
      doubt = band ? band->log_sd : 0;
    } else {
      for (const ZoneWantResult& want : survey.zone_wants)
        if (want.want.zone == key.zone && want.want.share == key.share) figure = want.figure;
    }
    found.figures.push_back(figure);
    // Where nothing is in doubt the solver's own error stands for it.
    found.doubt.push_back(std::max(doubt, survey.scene.survey.tolerance));
  }
  for (const Ask& ask : asks.asks) {
    const Margin margin = margin_of(found.figures[ask.figure], ask);
    found.verdicts.push_back(margin.met()       ? Verdict::met
                             : !margin.broken() ? Verdict::unsure
                             : ask.at_least     ? Verdict::below
                                                : Verdict::above);
  }
  return found;
}

}  // namespace

// Figures that are listed without a limit are of no interest here, but keep their place.
Asks Tuner::judged_asks(const Scene& scene) {
  Asks all = asks_of(scene), asks;
  for (const Ask& ask : all.asks) {
    const FigureKey& key = all.figures[ask.figure];
    auto at = std::find(asks.figures.begin(), asks.figures.end(), key);
    if (at == asks.figures.end()) at = asks.figures.insert(at, key);
    asks.asks.push_back({static_cast<std::size_t>(at - asks.figures.begin()), ask.at_least, ask.limit});
  }
  if (asks.asks.empty())
    throw InputError(
        {{{scene.file, 0, 0}, "", "asks for nothing: give wants, needs, zones or 'never' to tune for"}});
  return asks;
}

// A body would stay behind when its lamp moves.
Scene Tuner::without_bodies(const Scene& scene) {
  Scene bare = scene;
  for (Lamp& lamp : bare.lamps) {
    auto fixture = std::make_shared<Fixture>(*lamp.fixture);
    fixture->body.reset();
    lamp.fixture = fixture;
  }
  return bare;
}

Survey Tuner::survey(const Layout& layout) {
  Scene scene = planned_.scene;
  scene.lamps = layouts_.lamps(layout);
  ++tune_.surveys;
  SurveyControl control;
  const double from = done_, to = from + 0.25 * (0.97 - from);
  if (control_.progress)
    control.progress = [&](const std::string& stage, double share) {
      control_.progress("surveying: " + stage, from + share * (to - from));
    };
  done_ = to;
  return run_survey(scene, control);
}

void Tuner::put_asks(const Surveyed& before, const Surveyed& after) {
  tune_.before = before.whole, tune_.after = after.whole;
  tune_.slack_before = tune_.slack_after = HUGE_VAL;
  for (std::size_t i = 0; i < asks_.asks.size(); ++i) {
    const Ask& ask = asks_.asks[i];
    TunedAsk one{text_of(planned_.scene, asks_.figures[ask.figure]), asks_.figures[ask.figure], ask};
    one.before = before.figures[ask.figure].value, one.after = after.figures[ask.figure].value;
    one.verdict_before = before.verdicts[i], one.verdict_after = after.verdicts[i];
    one.slack_before = slack(ask, one.before, before.doubt[ask.figure]);
    one.slack_after = slack(ask, one.after, after.doubt[ask.figure]);
    tune_.slack_before = std::min(tune_.slack_before, one.slack_before);
    tune_.slack_after = std::min(tune_.slack_after, one.slack_after);
    if (one.verdict_after != Verdict::met) tune_.unmet.push_back(i);
    tune_.asks.push_back(std::move(one));
  }
}

void Tuner::put_changes(const Layout& layout) {
  const std::vector<Lamp> lamps = layouts_.lamps(layout);
  for (const Knob& knob : changed(layout)) {
    TunedChange change{knob.lamp, knob.kind, planned_.scene.lamps[knob.lamp], lamps[knob.lamp]};
    Layout without = layout;
    layouts_.reset(knob, without);
    const std::vector<double> figures_without = figures(without), figures_with = figures(layout);
    double most = -HUGE_VAL;
    for (std::size_t i = 0; i < asks_.asks.size(); ++i) {
      const Ask& ask = asks_.asks[i];
      // What it costs to leave it: a want lost counts for more than slack lost.
      const double now = slack(ask, figures_with[ask.figure], doubt_[ask.figure]),
                   then = slack(ask, figures_without[ask.figure], doubt_[ask.figure]);
      const double lost = std::min(now, 3.0) - std::min(then, 3.0) + (then < 0 && now >= 0 ? 10 : 0);
      if (lost > most) most = lost, change.ask = i, change.without = figures_without[ask.figure];
    }
    tune_.changes.push_back(std::move(change));
  }
}

// What stands in the way of the wants that stay unmet.
void Tuner::put_conflicts(const Layout& layout) {
  if (tune_.unmet.empty()) return;
  constexpr double kTight = 0.6;  // standard deviations
  for (std::size_t i = 0; i < tune_.asks.size(); ++i)
    if (tune_.asks[i].verdict_after == Verdict::met && tune_.asks[i].slack_after < kTight)
      tune_.against.push_back(i);
  for (const Knob& knob : layouts_.knobs()) {
    if (knob.kind != TuneKind::dim && knob.kind != TuneKind::gap) continue;
    std::vector<double> low, high;
    layouts_.bounds(knob, low, high);
    const double at = layouts_.get(knob, layout)[0];
    const std::string& name = planned_.scene.lamps[knob.lamp].name;
    if (knob.kind == TuneKind::dim && at > 0.995)
      tune_.at_bounds.push_back(fmt::format("the dimmer of '{}' is at 100 %", name));
    if (knob.kind == TuneKind::gap && at < low[0] + 1e-3)
      tune_.at_bounds.push_back(fmt::format("'{}' hangs as low as it may", name));
    if (knob.kind == TuneKind::gap && at > high[0] - 1e-3)
      tune_.at_bounds.push_back(fmt::format("'{}' hangs as high as was looked at", name));
  }
}

Tune Tuner::find() {
  const Surveyed before = surveyed(survey(layouts_.declared()), asks_);
  note(before);
  learn(layouts_.declared(), before);
  Surveyed best = before;
  Layout layout = layouts_.declared();
  const auto rank = [&](const Surveyed& found) {
    std::vector<double> values;
    for (const Figure& figure : found.figures) values.push_back(figure.value);
    return score(values);
  };
  bool done = before.whole == WholeVerdict::met && !control_.further;
  Layout from = layout;
  while (!done && tune_.surveys < kMostSurveys) {
    const Layout next = search(from);
    if (next == layout || (tune_.surveys > 1 && next == from)) break;
    const Surveyed found = surveyed(survey(next), asks_);
    const double was = rank(best);
    note(found);
    if (rank(found) > was + 1e-9) best = found, layout = next;
    learn(next, found);
    from = next;
    done = found.whole == WholeVerdict::met;
  }
  put_asks(before, best);
  if (!(layout == layouts_.declared())) put_changes(layout);
  put_conflicts(layout);
  return std::move(tune_);
}

Tune tune_lamps(const PlannedScene& planned, const TuneControl& control) {
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  std::vector<std::string> names;
  for (const Lamp& lamp : planned.scene.lamps) names.push_back(lamp.name);
  for (const std::string& name : control.keep)
    if (std::find(names.begin(), names.end(), name) == names.end())
      throw InputError({{{planned.scene.file, 0, 0},
                         "lamps",
                         fmt::format("there is no lamp '{}' to keep{}", name, did_you_mean(name, names))}});
  return Tuner(planned, control).find();
}

}  // namespace boughlight
