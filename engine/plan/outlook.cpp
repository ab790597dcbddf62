#include "plan/outlook.h"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"
#include "assess/survey.h"
#include "plan/month_traces.h"

namespace boughlight {
namespace {

// Changes smaller than this share of a figure are not worth telling.
constexpr double kTold = 0.01;

std::vector<double> months_of(const MonthsAhead& ahead) {
  std::vector<double> months;
  constexpr double kRounding = 1e-9;
  for (int k = 0; k * ahead.step < ahead.months * (1 - kRounding); ++k) months.push_back(k * ahead.step);
  months.push_back(ahead.months);
  return months;
}

bool changes(const Figure& from, const Figure& to) {
  return std::abs(to.value - from.value) > kTold * from.value;
}

class Looker {
 public:
  Looker(const Scene& scene, const MonthsAhead& ahead, const OutlookControl& control)
      : scene_(scene), ahead_(ahead), control_(control) {
    result_.scene = scene;
    result_.ahead = ahead;
    result_.months = months_of(ahead);
  }

  OutlookResult look() {
    SurveyControl survey_control;
    survey_control.threads = control_.threads;
    const bool ends = !scene_.zone_wants.empty();
    const double today_share = 0.4, month_share = ends ? 0.6 : 0.95;
    survey_control.progress = [&](const std::string& stage, double share) {
      tell("today: " + stage, today_share * share);
    };
    const Survey today = run_survey(scene_, survey_control);
    MonthTraces traces(scene_, ahead_, today);
    traces_ = &traces;
    list_watched(today);
    for (std::size_t k = 0; k < result_.months.size(); ++k) {
      const double share = static_cast<double>(k) / static_cast<double>(result_.months.size());
      tell("the months ahead", today_share + (month_share - today_share) * share);
      weigh_month(k);
    }
    follow_lamps();
    follow_growth();
    for (Watched& watched : result_.watched) judge_months(watched);
    try_new_lamps();
    if (ends) {
      survey_control.progress = [&](const std::string& stage, double share) {
        tell("at the end: " + stage, month_share + (1 - month_share) * share);
      };
      judge_zones(today, run_survey(scene_at_end(), survey_control));
    }
    result_.has_meshes = traces.fouls();
    result_.traced_scenes = traces.traced();
    result_.tolerance = traces.tolerance();
    tell("done", 1);
    return std::move(result_);
  }

 private:
  void tell(const std::string& stage, double share) const {
    if (control_.progress) control_.progress(stage, share);
  }

  void add_watched(const Reading& reading, Quantity quantity, const std::optional<Limits>& limits) {
    for (const Watched& watched : result_.watched)
      if (!watched.hottest && watched.reading == reading.name && watched.quantity == quantity) return;
    Watched watched;
    watched.reading = reading.name;
    watched.kind = reading.kind;
    watched.quantity = quantity;
    watched.limits = limits;
    result_.watched.push_back(std::move(watched));
  }

  void list_watched(const Survey& today) {
    if (today.hottest)
      for (const HottestPlace* place : {&today.hottest->uvi, &today.hottest->irradiance}) {
        Watched watched;
        watched.hottest = true;
        watched.quantity = place->quantity;
        if (place->limit) watched.limits = Limits{std::nullopt, place->limit};
        result_.watched.push_back(std::move(watched));
      }
    for (const Reading& reading : today.readings) {
      for (const WantResult& want : reading.wants) add_watched(reading, want.want.quantity, want.want.limits);
      if (reading.kind == ReadingKind::plant) {
        add_watched(reading, today.has_day ? Quantity::dli : Quantity::ppfd, {});
      } else {
        add_watched(reading, Quantity::uvi, {});
        add_watched(reading, Quantity::irradiance, {});
      }
    }
    const Reweighing now = traces_->weighing(0);
    for (const Watched& watched : result_.watched) {
      const auto found = std::find_if(today.readings.begin(), today.readings.end(),
                                      [&](const Reading& r) { return r.name == watched.reading; });
      place_of_.push_back(static_cast<std::size_t>(found - today.readings.begin()));
      Today known;
      if (watched.hottest) {
        const HottestPlace& place =
            watched.quantity == Quantity::uvi ? today.hottest->uvi : today.hottest->irradiance;
        known.figure = place.figure;
        known.verdict = place.verdict;
      } else {
        known.figure = found->values.at(watched.quantity);
        for (const WantResult& want : found->wants)
          if (want.want.quantity == watched.quantity) known.verdict = want.verdict;
      }
      known.replicates = replicates(place_of_.size() - 1, now, 0, 0);
      today_.push_back(std::move(known));
    }
  }

  // A watched figure with the scene in any state, replicate by replicate.
  std::vector<double> replicates(std::size_t watched, const Reweighing& how, double crowns_month,
                                 double animal_month) {
    const Watched& what = result_.watched[watched];
    if (!what.hottest)
      return reweighed_replicates(how, traces_->at(place_of_[watched], crowns_month, animal_month),
                                  what.quantity);
    std::vector<double> most(kReplicates, 0.0);
    for (std::size_t place = traces_->readings(); place < traces_->places(); ++place) {
      std::vector<double> here =
          reweighed_replicates(how, traces_->at(place, crowns_month, animal_month), what.quantity);
      if (figure_of(here).value > figure_of(most).value) most = std::move(here);
    }
    return most;
  }

  // The same, held to today's survey: its figure times what the rougher light of the months says has become
  // of it. What their errors have in common drops out.
  Figure figure(std::size_t watched, const Reweighing& how, double crowns_month, double animal_month) {
    std::vector<double> then = replicates(watched, how, crowns_month, animal_month);
    const Figure rough = figure_of(then);
    const Today& today = today_[watched];
    const double before = figure_of(today.replicates).value;
    if (!(before > 0) || !(rough.value > 0) || !(today.figure.value > 0)) return {rough.value, rough.se, {}};
    for (std::size_t k = 0; k < then.size(); ++k)
      then[k] = then[k] / rough.value - today.replicates[k] / before;
    const double value = today.figure.value * (rough.value / before);
    return {value, value * std::hypot(today.figure.se / today.figure.value, figure_of(then).se), {}};
  }

  void weigh_month(std::size_t k) {
    const double month = result_.months[k];
    const Reweighing how = traces_->weighing(month);
    for (std::size_t i = 0; i < result_.watched.size(); ++i)
      result_.watched[i].figures.push_back(figure(i, how, month, month));
  }

  void follow_lamps() {
    for (std::size_t i = 0; i < scene_.lamps.size(); ++i) {
      LampAhead lamp;
      lamp.name = scene_.lamps[i].name;
      lamp.has_hours = scene_.lamps[i].lit.has_value();
      // What the lamp is told by: ultraviolet, where there is any to speak of.
      const QuantityBins now = lamp_output(scene_.lamps[i], 1);
      const auto total = [](const QuantityBins& output, Quantity quantity) {
        return output.row(static_cast<int>(quantity)).sum();
      };
      constexpr double kLeastUviPerLux = 1e-6;
      const Quantity told = total(now, Quantity::uvi) > kLeastUviPerLux * total(now, Quantity::lux)
                                ? Quantity::uvi
                                : Quantity::lux;
      for (const double month : result_.months) {
        const Lamp later = scene_at(scene_, ahead_, month).lamps[i];
        lamp.burned_h.push_back(later.burned_h);
        const double before = total(now, told);
        lamp.output.push_back(before > 0 ? total(lamp_output(later, 1), told) / before : 1);
      }
      for (const LampPart& part : scene_.lamps[i].fixture->parts)
        lamp.ages = lamp.ages || part.ageing.at(lamp.burned_h.back()) != part.ageing.at(0);
      result_.lamps.push_back(std::move(lamp));
    }
  }

  void follow_growth() {
    for (const Plant& plant : scene_.plants) {
      const auto curve = ahead_.growing.find(plant.name);
      if (curve == ahead_.growing.end()) continue;
      OutlookResult::PlantAhead ahead;
      ahead.name = plant.name;
      for (const double month : result_.months)
        ahead.growth.push_back(curve->second.after(plant.growth, month));
      ahead.touches = crown_touches(scene_, plant, curve->second, ahead_.months);
      result_.plants.push_back(std::move(ahead));
    }
    if (traces_->animal_grows())
      for (const double month : result_.months)
        result_.backs.push_back(scene_at(scene_, ahead_, month).animal->back);
  }

  void judge_months(Watched& watched) {
    if (!watched.limits) return;
    const std::size_t index = static_cast<std::size_t>(&watched - result_.watched.data());
    for (const Figure& figure : watched.figures) {
      const bool first = watched.verdicts.empty() && today_[index].verdict;
      watched.verdicts.push_back(first ? *today_[index].verdict : judge(figure, *watched.limits));
      result_.verdict = worse(result_.verdict, watched.verdicts.back());
    }
    watched.fails = first_failing(result_.months, watched.figures, *watched.limits);
    if (watched.fails) find_remedies(index, *watched.fails);
  }

  std::vector<std::size_t> aged_lamps(double month) const {
    const Scene later = scene_at(scene_, ahead_, month);
    std::vector<std::size_t> aged;
    for (std::size_t i = 0; i < later.lamps.size(); ++i)
      for (const LampPart& part : later.lamps[i].fixture->parts)
        if (part.ageing.at(later.lamps[i].burned_h) != part.ageing.at(0)) {
          aged.push_back(i);
          break;
        }
    return aged;
  }

  void find_remedies(std::size_t index, Failing& fails) {
    const Watched& watched = result_.watched[index];
    const double month = result_.months[fails.seen_at];
    const Figure& now = watched.figures[fails.seen_at];
    const auto add = [&](RemedyKind kind, const std::string& lamp, const Reweighing& how, double crowns,
                         double animal) {
      const Figure then = figure(index, how, crowns, animal);
      if (changes(now, then)) fails.remedies.push_back({kind, lamp, then, judge(then, *watched.limits)});
    };
    const std::vector<std::size_t> aged = aged_lamps(month);
    for (const std::size_t lamp : aged)
      add(RemedyKind::new_lamp, scene_.lamps[lamp].name, traces_->weighing(month, {lamp}, false), month,
          month);
    if (traces_->fouls() && month > 0)
      add(RemedyKind::clean, "", traces_->weighing(month, {}, true), month, month);
    if (traces_->crowns_grow() && month > 0) add(RemedyKind::trim, "", traces_->weighing(month), 0, month);
    // A branch lowered by as much as the back has risen.
    const bool lowers =
        traces_->animal_grows() && month > 0 && watched.kind == ReadingKind::perch && !watched.hottest;
    if (lowers) add(RemedyKind::lower, "", traces_->weighing(month), month, 0);
    if (fails.remedies.size() > 1)
      add(RemedyKind::everything, "", traces_->weighing(month, aged, true), 0, lowers ? 0 : month);
    std::stable_sort(fails.remedies.begin(), fails.remedies.end(), [](const Remedy& a, const Remedy& b) {
      return (a.verdict == Verdict::met) > (b.verdict == Verdict::met);
    });
  }

  void try_new_lamps() {
    for (std::size_t lamp = 0; lamp < result_.lamps.size(); ++lamp) {
      if (!result_.lamps[lamp].ages) continue;
      NewLamp fresh;
      fresh.lamp = result_.lamps[lamp].name;
      // When a keeper would do it: at the first want that it mends, else at the end.
      fresh.month_index = result_.months.size() - 1;
      for (const Watched& watched : result_.watched)
        if (watched.fails)
          for (const Remedy& remedy : watched.fails->remedies)
            if (remedy.kind == RemedyKind::new_lamp && remedy.lamp == fresh.lamp &&
                remedy.verdict == Verdict::met)
              fresh.month_index = std::min(fresh.month_index, watched.fails->seen_at);
      const double month = result_.months[fresh.month_index];
      const Reweighing how = traces_->weighing(month, {lamp}, false);
      for (std::size_t i = 0; i < result_.watched.size(); ++i) {
        const Watched& watched = result_.watched[i];
        const Figure aged = watched.figures[fresh.month_index], then = figure(i, how, month, month);
        if (!changes(aged, then)) continue;
        fresh.changes.push_back(
            {i, aged, then, watched.limits ? judge(then, *watched.limits) : Verdict::met});
      }
      result_.new_lamps.push_back(std::move(fresh));
    }
  }

  Scene scene_at_end() const {
    Scene end = scene_at(scene_, ahead_, ahead_.months);
    for (Material& material : end.materials)
      if (material.kind == SurfaceKind::mesh)
        material.soiling *= std::pow(ahead_.mesh_factor(material.name, ahead_.months), material.layers);
    return end;
  }

  void judge_zones(const Survey& today, const Survey& end) {
    for (std::size_t i = 0; i < today.zone_wants.size(); ++i) {
      const ZoneWantResult &was = today.zone_wants[i], &will = end.zone_wants[i];
      result_.zones.push_back({was.want, was.figure, will.figure, was.verdict, will.verdict});
      result_.verdict = worse(worse(result_.verdict, was.verdict), will.verdict);
    }
  }

  const Scene& scene_;
  const MonthsAhead& ahead_;
  const OutlookControl& control_;
  OutlookResult result_;
  MonthTraces* traces_ = nullptr;
  std::vector<std::size_t> place_of_;  // beside `watched`; of the closest place none
  // As surveyed today, and what the months' light gives for today.
  struct Today {
    Figure figure;
    std::optional<Verdict> verdict;
    std::vector<double> replicates;
  };
  std::vector<Today> today_;  // beside `watched`
};

// The month at which a series first passes a limit, on straight lines between the months.
std::optional<std::pair<double, std::size_t>> crossing(const std::vector<double>& months,
                                                       const std::vector<double>& values, double limit,
                                                       bool falls) {
  const auto beyond = [&](double value) { return falls ? value < limit : value > limit; };
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (!beyond(values[k])) continue;
    if (k == 0) return std::pair(months[0], k);
    const double share = (limit - values[k - 1]) / (values[k] - values[k - 1]);
    return std::pair(std::lerp(months[k - 1], months[k], share), k);
  }
  return std::nullopt;
}

}  // namespace

std::string_view remedy_name(RemedyKind kind) {
  switch (kind) {
    case RemedyKind::new_lamp:
      return "new-lamp";
    case RemedyKind::clean:
      return "clean";
    case RemedyKind::trim:
      return "trim";
    case RemedyKind::lower:
      return "lower";
    default:
      return "everything";
  }
}

bool Watched::ever_unsure() const {
  return std::any_of(verdicts.begin(), verdicts.end(),
                     [](Verdict verdict) { return verdict == Verdict::unsure; });
}

std::optional<Failing> first_failing(const std::vector<double>& months, const std::vector<Figure>& figures,
                                     const Limits& limits) {
  std::optional<Failing> first;
  const auto look = [&](double limit, bool falls) {
    const auto shifted = [&](double errors) {
      std::vector<double> values;
      for (const Figure& figure : figures) values.push_back(figure.value + errors * figure.se);
      return values;
    };
    const auto crossed = crossing(months, shifted(0), limit, falls);
    if (!crossed || (first && first->month <= crossed->first)) return;
    const double towards = falls ? -kIntervalFactor : kIntervalFactor;
    Failing failing;
    failing.month = crossed->first;
    failing.seen_at = crossed->second;
    failing.earliest = crossing(months, shifted(towards), limit, falls)->first;
    if (const auto sure = crossing(months, shifted(-towards), limit, falls)) failing.latest = sure->first;
    failing.limit = limit;
    failing.verdict = falls ? Verdict::below : Verdict::above;
    first = failing;
  };
  if (limits.min && *limits.min > 0) look(*limits.min, true);
  if (limits.max) look(*limits.max, false);
  return first;
}

OutlookResult look_ahead(const Scene& scene, const MonthsAhead& ahead, const OutlookControl& control) {
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  return Looker(scene, ahead, control).look();
}

}  // namespace boughlight
