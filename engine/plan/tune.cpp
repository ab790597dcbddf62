#include "plan/tune.h"

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlopt.hpp>

#include "assess/judge.h"
#include "assess/survey.h"
#include "plan/trial.h"
#include "plan/tune_layout.h"

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
constexpr std::size_t kMostKnobs = 6;
// A share of the enclosure has no band: a quarter of its limit, or 2 % of the whole where that is more,
// stands for it.
constexpr double kShareDoubt = 0.25, kLeastShareDoubt = 0.02;
// A slack this small in units of the doubt is nothing.
constexpr double kWorthwhile = 0.03;
// What a knob costs that is turned all the way, in units of slack: small changes before large ones.
constexpr double kTurned = 0.05;
// Half the interval of a survey's own error, and a little more, keeps a want from being too close to call.
constexpr double kSurely = 1.2;

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

// What a full survey says of the asks.
struct Surveyed {
  std::vector<Figure> figures;
  std::vector<double> doubt;      // by figure: standard deviation of its logarithm, of shares of itself
  std::vector<Verdict> verdicts;  // by ask
  WholeVerdict whole = WholeVerdict::met;
};

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

class Tuner {
 public:
  Tuner(const PlannedScene& planned, const TuneControl& control)
      : planned_(planned),
        control_(control),
        asks_(judged_asks(planned.scene)),
        layouts_(planned, control),
        room_(without_bodies(planned.scene), asks_) {}

  Tune find();

 private:
  static Asks judged_asks(const Scene& scene);
  static Scene without_bodies(const Scene& scene);

  // What a layout is worth: below 0 while wants are broken, else the least slack.
  struct Worth {
    double score = -HUGE_VAL;
    Layout layout;
  };
  const Trial& trial(const Layout& layout);
  std::vector<double> figures(const Layout& layout);
  double slack(const Ask& ask, double value, double doubt) const;
  double score(const std::vector<double>& figures) const;
  double score(const Layout& layout) { return score(figures(layout)); }
  double worth_of(const Layout& layout, const std::vector<Knob>& knobs) {
    double cost = 0;
    for (const Knob& knob : knobs) cost += kTurned * layouts_.turned(knob, layout);
    return score(layout) - cost;
  }
  bool all_met(const Layout& layout) { return score(layout) >= 0; }

  Survey survey(const Layout& layout);
  void note(const Surveyed& found);
  void learn(const Layout& layout, const Surveyed& found);
  Worth turned(const Layout& from, const std::vector<Knob>& knobs, int evaluations);
  Worth dimmed(const Layout& from);
  Worth screened(const Layout& from, const Knob& knob);
  Layout search(Layout from);
  Layout with_fewest(Layout layout);
  void say(const std::string& stage) {
    done_ += (0.97 - done_) * 0.04;
    if (control_.progress) control_.progress(stage, done_);
  }
  std::vector<Knob> changed(const Layout& layout) const;
  void put_asks(const Surveyed& before, const Surveyed& after);
  void put_changes(const Layout& layout);
  void put_conflicts(const Layout& layout);

  const PlannedScene& planned_;
  const TuneControl& control_;
  Asks asks_;
  Layouts layouts_;
  TrialRoom room_;
  std::map<std::vector<double>, Trial> trials_;  // by geometry
  // What a survey says over what a trial does, by figure: a factor, of shares a difference; and the doubt.
  std::vector<double> correction_, doubt_;
  std::vector<double> error_;  // of a survey: relative, of shares absolute
  double done_ = 0;
  Tune tune_;
};

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

const Trial& Tuner::trial(const Layout& layout) {
  std::vector<double> geometry;
  for (const LampLayout& lamp : layout)
    geometry.insert(geometry.end(), {static_cast<double>(lamp.fixture), lamp.x, lamp.y, lamp.gap,
                                     lamp.aim.x(), lamp.aim.y(), lamp.aim.z()});
  const auto known = trials_.find(geometry);
  if (known != trials_.end()) return known->second;
  constexpr std::size_t kMostKept = 64;
  if (trials_.size() >= kMostKept) trials_.clear();
  ++tune_.layouts;
  say("trying layouts");
  return trials_.emplace(geometry, room_.trial(layouts_.lamps(layout))).first->second;
}

std::vector<double> Tuner::figures(const Layout& layout) {
  std::vector<double> dims;
  for (const LampLayout& lamp : layout) dims.push_back(lamp.dim);
  std::vector<double> figures = trial(layout).figures(dims);
  for (std::size_t i = 0; i < figures.size(); ++i) {
    if (correction_.empty()) continue;
    if (asks_.figures[i].kind == FigureKind::share)
      figures[i] = std::clamp(figures[i] + correction_[i], 0.0, 1.0);
    else
      figures[i] *= correction_[i];
  }
  return figures;
}

double Tuner::slack(const Ask& ask, double value, double doubt) const {
  constexpr double kMost = 20;
  double spare = 0;
  if (asks_.figures[ask.figure].kind == FigureKind::share || !(ask.limit > 0)) {
    const double size = std::max(kShareDoubt * ask.limit, kLeastShareDoubt);
    spare = (ask.at_least ? value - ask.limit : ask.limit - value) / size;
  } else {
    const double ratio = value > 0 ? std::log(value / ask.limit) : -HUGE_VAL;
    spare = (ask.at_least ? ratio : -ratio) / doubt;
  }
  return std::clamp(spare, -kMost, kMost);
}

double Tuner::score(const std::vector<double>& figures) const {
  // A want that cannot be met counts as one want lost, however far it is off: so no two others are given for
  // it. What the animal may reach goes before everything.
  constexpr double kNever = 10;
  double broken = 0, least = HUGE_VAL, least_met = 3;
  for (const Ask& ask : asks_.asks) {
    const double doubt = doubt_[ask.figure];
    // Sure to be met, when surveyed.
    const double error = kSurely * kIntervalFactor * error_[ask.figure];
    const double sure = asks_.figures[ask.figure].kind == FigureKind::share
                            ? error / std::max(kShareDoubt * ask.limit, kLeastShareDoubt)
                            : error / doubt;
    const double spare = slack(ask, figures[ask.figure], doubt) - sure;
    least = std::min(least, spare);
    if (spare >= 0) {
      least_met = std::min(least_met, spare);
      continue;
    }
    const double loss = -spare / (1 - spare);
    broken += (asks_.figures[ask.figure].kind == FigureKind::reach ? kNever : 1.0) * (0.1 + loss);
  }
  // Of layouts that lose the same wants the one with the most slack in the others.
  constexpr double kOthers = 0.02;
  return broken > 0 ? std::min(-1e-6, kOthers * least_met - broken) : least;
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

void Tuner::note(const Surveyed& found) {
  doubt_ = found.doubt;
  error_.clear();
  for (std::size_t i = 0; i < found.figures.size(); ++i) {
    const Figure& figure = found.figures[i];
    const bool share = asks_.figures[i].kind == FigureKind::share;
    error_.push_back(share ? figure.se : figure.value > 0 ? std::min(1.0, figure.se / figure.value) : 0);
  }
}

void Tuner::learn(const Layout& layout, const Surveyed& found) {
  correction_.clear();
  const std::vector<double> rough = figures(layout);
  note(found);
  for (std::size_t i = 0; i < rough.size(); ++i) {
    const double value = found.figures[i].value;
    if (asks_.figures[i].kind == FigureKind::share)
      correction_.push_back(value - rough[i]);
    else
      correction_.push_back(rough[i] > 0 && value > 0 ? value / rough[i] : 1);
  }
}

// The best that these knobs together can do (none of them a fixture), by a subspace simplex.
Tuner::Worth Tuner::turned(const Layout& from, const std::vector<Knob>& knobs, int evaluations) {
  std::vector<double> values, low, high, step;
  for (const Knob& knob : knobs) {
    std::vector<double> l, h;
    layouts_.bounds(knob, l, h);
    const std::vector<double> at = layouts_.get(knob, from);
    for (std::size_t i = 0; i < l.size(); ++i) {
      low.push_back(l[i]), high.push_back(h[i]);
      values.push_back(std::clamp(at[i], l[i], h[i]));
      step.push_back(std::max(1e-4, 0.15 * (h[i] - l[i])));
    }
  }
  Worth best{worth_of(from, knobs), from};
  struct About {
    Tuner* tuner;
    const Layout* from;
    const std::vector<Knob>* knobs;
    Worth* best;
  } about{this, &from, &knobs, &best};
  const auto objective = [](const std::vector<double>& x, std::vector<double>&, void* data) {
    About& about = *static_cast<About*>(data);
    Layout layout = *about.from;
    std::size_t at = 0;
    for (const Knob& knob : *about.knobs) {
      about.tuner->layouts_.set(knob, &x[at], layout);
      at += Layouts::size(knob.kind);
    }
    constexpr double kImpossible = -1e3;
    if (!about.tuner->layouts_.possible(layout)) return kImpossible;
    const double worth = about.tuner->worth_of(layout, *about.knobs);
    if (worth > about.best->score) *about.best = {worth, layout};
    return worth;
  };
  nlopt::opt solver(nlopt::LN_SBPLX, static_cast<unsigned>(values.size()));
  solver.set_lower_bounds(low);
  solver.set_upper_bounds(high);
  solver.set_initial_step(step);
  solver.set_max_objective(objective, &about);
  solver.set_xtol_abs(2e-3);
  solver.set_maxeval(evaluations);
  double worth = 0;
  try {
    solver.optimize(values, worth);
  } catch (const nlopt::roundoff_limited&) {
    // The best so far is kept.
  }
  return best;
}

// All dimmers together: no light is traced for that.
Tuner::Worth Tuner::dimmed(const Layout& from) {
  std::vector<Knob> dimmers;
  for (const Knob& knob : layouts_.knobs())
    if (knob.kind == TuneKind::dim) dimmers.push_back(knob);
  if (dimmers.empty()) return {score(from), from};
  return turned(from, dimmers, static_cast<int>(40 * dimmers.size() + 20));
}

// One knob at a few settings, all dimmers set for the best at each.
Tuner::Worth Tuner::screened(const Layout& from, const Knob& knob) {
  Worth best;
  const auto consider = [&](const Layout& layout) {
    if (!layouts_.possible(layout)) return;
    Worth here = dimmed(layout);
    here.score -= kTurned * layouts_.turned(knob, layout);
    if (here.score > best.score) best = std::move(here);
  };
  if (knob.kind == TuneKind::fixture) {
    for (std::size_t choice = 0; choice < layouts_.choices(knob.lamp); ++choice) {
      Layout layout = from;
      layout[knob.lamp].fixture = choice;
      if (choice != from[knob.lamp].fixture) consider(layout);
    }
    return best;
  }
  std::vector<double> low, high;
  layouts_.bounds(knob, low, high);
  const std::vector<double> now = layouts_.get(knob, from);
  const auto try_at = [&](std::vector<double> values) {
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = std::clamp(values[i], low[i], high[i]);
    Layout layout = from;
    layouts_.set(knob, values.data(), layout);
    if (!(layout == from)) consider(layout);
  };
  if (now.size() == 1) {
    for (const double share : {0.05, 0.25, 0.5, 0.75, 1.0}) try_at({low[0] + share * (high[0] - low[0])});
    return best;
  }
  for (const auto& [u, v] : {std::pair{0.2, 0.0}, {-0.2, 0.0}, {0.0, 0.2}, {0.0, -0.2}})
    try_at({now[0] + u * (high[0] - low[0]), now[1] + v * (high[1] - low[1])});
  return best;
}

std::vector<Knob> Tuner::changed(const Layout& layout) const {
  std::vector<Knob> knobs;
  for (const Knob& knob : layouts_.knobs())
    if (layouts_.turned(knob, layout) > 1e-6) knobs.push_back(knob);
  return knobs;
}

// Takes changes back that are not needed, and then turns the rest for the greatest slack.
Layout Tuner::with_fewest(Layout layout) {
  const double target = score(layout);
  const auto as_good = [&](double score) { return target >= 0 ? score >= 0 : score >= target - kWorthwhile; };
  bool again = true;
  while (again) {
    again = false;
    Worth best;
    for (const Knob& knob : changed(layout)) {
      Layout less = layout;
      layouts_.reset(knob, less);
      if (!layouts_.possible(less)) continue;
      // The dimmers that are turned may make up for it.
      std::vector<Knob> left;
      for (const Knob& other : changed(less))
        if (other.kind == TuneKind::dim) left.push_back(other);
      Worth here =
          left.empty() ? Worth{score(less), less} : turned(less, left, static_cast<int>(30 * left.size()));
      here.score = score(here.layout);
      if (as_good(here.score) && here.score > best.score) best = std::move(here);
    }
    if (best.score == -HUGE_VAL) break;
    layout = best.layout;
    again = true;
  }
  std::vector<Knob> knobs;
  for (const Knob& knob : changed(layout))
    if (knob.kind != TuneKind::fixture) knobs.push_back(knob);
  if (knobs.empty()) return layout;
  const bool moves =
      std::any_of(knobs.begin(), knobs.end(), [](const Knob& k) { return k.kind != TuneKind::dim; });
  layout = turned(layout, knobs, moves ? 30 : static_cast<int>(60 * knobs.size())).layout;
  const Layout round = layouts_.rounded(layout, knobs);
  return as_good(score(round)) && layouts_.possible(round) ? round : layout;
}

Layout Tuner::search(Layout from) {
  Worth best = dimmed(from);
  best.score = score(best.layout);
  std::vector<Knob> used;
  while (best.score < (control_.further ? HUGE_VAL : 0.0) && used.size() < kMostKnobs) {
    // The two that promise most are looked at closely.
    std::vector<std::pair<Worth, Knob>> tried;
    for (const Knob& knob : layouts_.knobs())
      if (knob.kind != TuneKind::dim) tried.emplace_back(screened(best.layout, knob), knob);
    std::stable_sort(tried.begin(), tried.end(),
                     [](const auto& a, const auto& b) { return a.first.score > b.first.score; });
    Worth next;
    for (std::size_t i = 0; i < std::min<std::size_t>(2, tried.size()); ++i) {
      const auto& [start, knob] = tried[i];
      if (start.score == -HUGE_VAL) continue;
      Worth here = start;
      if (knob.kind != TuneKind::fixture) {
        here = turned(start.layout, {knob}, 12);
        here = dimmed(here.layout);
      }
      here.score = score(here.layout);
      if (here.score > next.score) next = std::move(here);
    }
    if (next.score < best.score + kWorthwhile) break;
    best = std::move(next);
    used.emplace_back();
  }
  return with_fewest(best.layout);
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

}  // namespace

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
