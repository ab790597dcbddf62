// Scoring layouts and looking for better ones.

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>

#include "assess/judge.h"
#include "plan/tune_search.h"

namespace boughlight {
namespace {

constexpr std::size_t kMostKnobs = 6;
// A share of the enclosure has no band: a quarter of its limit, or 2 % of the whole where that is more,
// stands for it.
constexpr double kShareDoubt = 0.25, kLeastShareDoubt = 0.02;
// A slack this small in units of the doubt is nothing.
constexpr double kWorthwhile = 0.03;
// What a knob costs that is turned all the way, in units of slack: small changes before large ones.
constexpr double kTurned = 0.2;
// Half the interval of a survey's own error, and a little more, keeps a want from being too close to call.
constexpr double kSurely = 1.2;

// Of layouts that lose the same wants the one with the most slack in the others, and the smallest changes.
constexpr double kOthers = 0.02;

}  // namespace

double Tuner::worth_of(const Layout& layout, const std::vector<Knob>& knobs) {
  double cost = 0;
  for (const Knob& knob : knobs) cost += kTurned * layouts_.turned(knob, layout);
  const double score_here = score(layout);
  return score_here - (score_here < 0 ? kOthers : 1.0) * cost;
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
  return broken > 0 ? std::min(-1e-6, kOthers * least_met - broken) : least;
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

Layout Tuner::search(const Layout& from) {
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

}  // namespace boughlight
