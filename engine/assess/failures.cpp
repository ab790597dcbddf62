#include "assess/failures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

// One case before it is judged.
struct Change {
  FailureCase about;
  Reweighing how;
};

// --- the cases

class Cases {
 public:
  explicit Cases(const Setting& setting) : setting_(setting) {}

  Change& add(const std::string& kind, const std::string& name, const std::string& text) {
    list_.push_back({{kind, name, text, {}, {}, {}}, {setting_.outputs, setting_.day_outputs, {}, {}}});
    return list_.back();
  }
  // A case that changes lamps' dimmers or ages.
  template <class Edit>
  void add_lamps(const std::string& kind, const std::string& name, const std::string& text,
                 const Edit& edit) {
    Reweighing& how = add(kind, name, text).how;
    for (std::size_t i = 0; i < setting_.scene.lamps.size(); ++i) {
      const Lamp& declared = setting_.scene.lamps[i];
      Lamp lamp = declared;
      edit(lamp);
      if (lamp.dim == declared.dim && lamp.burned_h == declared.burned_h) continue;
      how.outputs[i] = lamp_output(lamp, lamp.dim);
      how.day_outputs[i] = lamp_day_output(lamp, lamp.dim);
    }
  }
  std::vector<Change>& list() { return list_; }

 private:
  const Setting& setting_;
  std::vector<Change> list_;
};

bool ages(const Lamp& lamp) {
  return std::any_of(lamp.fixture->parts.begin(), lamp.fixture->parts.end(), [&](const LampPart& part) {
    return part.ageing.at(lamp.burned_h) != part.ageing.at(0);
  });
}

std::vector<Change> changes_of(const Setting& setting) {
  const Scene& scene = setting.scene;
  Cases cases(setting);
  std::size_t dimmed = 0;
  for (const Lamp& lamp : scene.lamps) {
    const auto only = [&lamp](const auto& edit) {
      return [&lamp, edit](Lamp& other) {
        if (other.name == lamp.name) edit(other);
      };
    };
    if (lamp.dim != 1) {
      ++dimmed;
      cases.add_lamps("dimmer-full", lamp.name, fmt::format("the dimmer of '{}' goes to full", lamp.name),
                      only([](Lamp& l) { l.dim = 1; }));
    }
    if (ages(lamp))
      cases.add_lamps("fresh-lamp", lamp.name, fmt::format("'{}' is replaced by a fresh one", lamp.name),
                      only([](Lamp& l) { l.burned_h = 0; }));
    cases.add_lamps("lamp-out", lamp.name, fmt::format("'{}' goes out", lamp.name),
                    only([](Lamp& l) { l.dim = 0; }));
  }
  if (dimmed > 1)
    cases.add_lamps("dimmers-full", "", "every dimmer goes to full", [](Lamp& l) { l.dim = 1; });
  const std::vector<int> meshes = mesh_materials(setting.field.world());
  for (std::size_t mesh = 0; mesh < meshes.size(); ++mesh) {
    const std::string& name = scene.materials[static_cast<std::size_t>(meshes[mesh])].name;
    cases.add("mesh-off", name, fmt::format("one layer of '{}' is taken off", name)).how.mesh_off = mesh;
  }
  if (!meshes.empty())
    cases
        .add("dusty-mesh", "",
             fmt::format("dust leaves {:.0f} % of what the meshes let through", 100 * kDustyMesh))
        .how.mesh_factors.assign(meshes.size(), kDustyMesh);
  const auto add_air = [&](const char* kind, const std::optional<double>& air_c) {
    if (air_c)
      cases.add(kind, "", fmt::format("the room is at {} C", print_number(*air_c))).about.air_c = air_c;
  };
  if (scene.air) {
    add_air("hot-room", scene.air->hot_c);
    add_air("cold-morning", scene.air->cold_c);
  }
  return std::move(cases.list());
}

// --- judging

bool is_broken(Verdict verdict) {
  return verdict == Verdict::below || verdict == Verdict::above;
}

// How far beyond its limit, as the size of the logarithm of their ratio.
double excess(const BrokenLimit& broken) {
  return broken.figure.value > 0 ? std::abs(std::log(broken.figure.value / broken.limit)) : HUGE_VAL;
}

void judge_want(const Want& want, Verdict declared, const std::string& reading, const Figure& figure,
                std::vector<BrokenLimit>& breaks) {
  const Verdict verdict = judge(figure, want.limits);
  if (!is_broken(verdict)) return;
  const double limit = verdict == Verdict::below ? *want.limits.min : *want.limits.max;
  breaks.push_back({reading, want.quantity, figure, limit, verdict, declared == verdict});
}

void judge_never(const Survey& survey, const Change& change, const std::vector<TracedSpot>& hottest,
                 std::vector<BrokenLimit>& breaks) {
  if (!survey.hottest) return;
  for (const HottestPlace* place : {&survey.hottest->uvi, &survey.hottest->irradiance}) {
    if (!place->limit) continue;
    Figure most;
    for (const TracedSpot& at : hottest) {
      const Figure figure = reweighed(change.how, at, place->quantity);
      if (figure.value > most.value) most = figure;
    }
    judge_want({place->quantity, {std::nullopt, place->limit}, {}}, place->verdict.value_or(Verdict::met), "",
               most, breaks);
  }
}

// Whether a change touches any figure that carries a limit by more than a hundredth.
bool matters(const Setting& setting, const Survey& survey, const Change& change,
             const std::vector<TracedSpot>& readings, const std::vector<TracedSpot>& hottest) {
  constexpr double kTouched = 0.01;
  const Reweighing declared{setting.outputs, setting.day_outputs, {}, {}};
  const auto touched = [&](const TracedSpot& at, Quantity quantity) {
    const double before = reweighed(declared, at, quantity).value;
    return std::abs(reweighed(change.how, at, quantity).value - before) > kTouched * before;
  };
  for (std::size_t i = 0; i < readings.size(); ++i)
    for (const WantResult& want : survey.readings[i].wants)
      if (touched(readings[i], want.want.quantity)) return true;
  return std::any_of(hottest.begin(), hottest.end(), [&](const TracedSpot& at) {
    return touched(at, Quantity::uvi) || touched(at, Quantity::irradiance);
  });
}

std::size_t fresh_breaks(const FailureCase& about) {
  return static_cast<std::size_t>(std::count_if(about.breaks.begin(), about.breaks.end(),
                                                [](const BrokenLimit& broken) { return !broken.already; }));
}

}  // namespace

std::vector<FailureCase> failure_cases(const Setting& setting, const Survey& survey,
                                       const std::vector<TracedSpot>& readings,
                                       const std::vector<TracedSpot>& hottest) {
  std::vector<FailureCase> cases;
  for (Change& change : changes_of(setting)) {
    if (change.how.mesh_off && !matters(setting, survey, change, readings, hottest)) continue;
    FailureCase& about = change.about;
    judge_never(survey, change, hottest, about.breaks);
    for (std::size_t i = 0; i < readings.size(); ++i) {
      about.irradiance_w_m2.push_back(reweighed_irradiance(change.how, *readings[i].spot));
      for (const WantResult& want : survey.readings[i].wants)
        judge_want(want.want, want.verdict, survey.readings[i].name,
                   reweighed(change.how, readings[i], want.want.quantity), about.breaks);
    }
    std::stable_sort(about.breaks.begin(), about.breaks.end(),
                     [](const BrokenLimit& a, const BrokenLimit& b) {
                       if (a.already != b.already) return b.already;
                       if (a.reading.empty() != b.reading.empty()) return a.reading.empty();
                       return excess(a) > excess(b);
                     });
    cases.push_back(std::move(about));
  }
  // What harms the animal at the closest place comes first, then whatever breaks most.
  const auto harms = [](const FailureCase& about) {
    return std::any_of(about.breaks.begin(), about.breaks.end(),
                       [](const BrokenLimit& b) { return b.reading.empty() && !b.already; });
  };
  std::stable_sort(cases.begin(), cases.end(), [&](const FailureCase& a, const FailureCase& b) {
    if (harms(a) != harms(b)) return harms(a);
    return fresh_breaks(a) > fresh_breaks(b);
  });
  return cases;
}

}  // namespace boughlight
