#include "plan/compare.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "assess/judge.h"
#include "assess/output.h"
#include "plan/replicates.h"

namespace boughlight {
namespace {

double room_of(double value, const Limits& limits) {
  const auto size = [](double limit) { return limit == 0 ? 1.0 : std::abs(limit); };
  double room = std::numeric_limits<double>::infinity();
  if (limits.min && *limits.min > 0) room = (value - *limits.min) / size(*limits.min);
  if (limits.max) room = std::min(room, (*limits.max - value) / size(*limits.max));
  return room;
}

// Greater is worse.
int rank(Verdict verdict) {
  return verdict == Verdict::met ? 0 : verdict == Verdict::unsure ? 1 : 2;
}

// One layout with what its figures are weighed by.
struct WeighedLayout {
  const Survey& survey;
  std::vector<QuantityBins> outputs, full;
  DayOutputs day;

  explicit WeighedLayout(const Survey& of)
      : survey(of),
        outputs(source_outputs(of.scene, Power::as_declared)),
        full(source_outputs(of.scene, Power::full)),
        day(day_outputs(of.scene, Power::as_declared)) {}

  Replicates replicates(const Response& response, Quantity quantity, bool at_full) const {
    return facing_replicates(response, quantity_weights(quantity, at_full ? full : outputs, day));
  }
};

void settle(FigureChange& change) {
  change.change = change.second.value - change.first.value;
  if (!change.first_asked || !change.second_asked) return;
  const Asked &was = *change.first_asked, &is = *change.second_asked;
  if (rank(was.verdict) != rank(is.verdict)) {
    change.turn = rank(is.verdict) < rank(was.verdict) ? Turn::better : Turn::worse;
    return;
  }
  const double gained = is.room - was.room;
  if (!change.clear() || !(std::abs(gained) >= kNoticeable)) return;
  change.turn = gained > 0 ? Turn::better : Turn::worse;
}

double paired_se(const Replicates& first, const Replicates& second) {
  Replicates difference;
  for (std::size_t k = 0; k < difference.size(); ++k) difference[k] = second[k] - first[k];
  return figure_of(difference).se;
}

std::optional<Asked> asked_of(const Reading& reading, Quantity quantity) {
  for (const WantResult& want : reading.wants)
    if (want.want.quantity == quantity)
      return Asked{want.want.limits, want.verdict, room_of(want.figure.value, want.want.limits)};
  return std::nullopt;
}

void compare_readings(const WeighedLayout& first, const WeighedLayout& second, Comparison& comparison) {
  const auto& before = first.survey.readings;
  const auto& after = second.survey.readings;
  for (std::size_t i = 0; i < after.size(); ++i) {
    const auto match = std::find_if(before.begin(), before.end(), [&](const Reading& reading) {
      return reading.kind == after[i].kind && reading.name == after[i].name;
    });
    if (match == before.end()) continue;
    const auto at = static_cast<std::size_t>(match - before.begin());
    for (const auto& [quantity, figure] : after[i].values) {
      const auto was = match->values.find(quantity);
      if (was == match->values.end()) continue;
      FigureChange change;
      change.name = after[i].name;
      change.reading = after[i].kind;
      change.quantity = quantity;
      change.first = was->second;
      change.second = figure;
      change.paired = true;
      change.se = paired_se(first.replicates(first.survey.responses[at], quantity, false),
                            second.replicates(second.survey.responses[i], quantity, false));
      change.first_asked = asked_of(*match, quantity);
      change.second_asked = asked_of(after[i], quantity);
      settle(change);
      comparison.figures.push_back(std::move(change));
    }
  }
}

void compare_hottest(const WeighedLayout& first, const WeighedLayout& second, Comparison& comparison) {
  if (!first.survey.hottest || !second.survey.hottest) return;
  const auto asked = [](const HottestPlace& place) -> std::optional<Asked> {
    if (!place.limit || !place.verdict) return std::nullopt;
    const Limits limits{std::nullopt, place.limit};
    return Asked{limits, *place.verdict, room_of(place.figure.value, limits)};
  };
  const auto add = [&](const HottestPlace& was, const HottestPlace& is, bool at_full) {
    FigureChange change;
    change.kind = ChangedKind::hottest;
    change.quantity = is.quantity;
    change.at_full = at_full;
    change.first = was.figure;
    change.second = is.figure;
    change.paired = true;
    change.se = paired_se(first.replicates(was.response, was.quantity, at_full),
                          second.replicates(is.response, is.quantity, at_full));
    if (!at_full) {
      change.first_asked = asked(was);
      change.second_asked = asked(is);
    }
    settle(change);
    comparison.figures.push_back(std::move(change));
  };
  const Hottest &was = *first.survey.hottest, &is = *second.survey.hottest;
  add(was.uvi, is.uvi, false);
  add(was.irradiance, is.irradiance, false);
  add(was.uvi_at_full, is.uvi_at_full, true);
  add(was.irradiance_at_full, is.irradiance_at_full, true);
}

struct ZoneFigure {
  std::string zone;
  ZoneShare share = ZoneShare::volume;
  Figure figure;
  std::optional<Asked> asked;
};

// Every share that is known, and those that are asked for.
std::vector<ZoneFigure> zone_figures(const Survey& survey) {
  std::vector<ZoneFigure> figures;
  for (const auto& [name, fraction] : survey.zones) {
    figures.push_back({name, ZoneShare::volume, fraction.volume, {}});
    if (fraction.perch) figures.push_back({name, ZoneShare::perch, *fraction.perch, {}});
  }
  for (const ZoneWantResult& want : survey.zone_wants) {
    const Asked asked{want.want.limits, want.verdict, room_of(want.figure.value, want.want.limits)};
    const auto known = std::find_if(figures.begin(), figures.end(), [&](const ZoneFigure& figure) {
      return figure.zone == want.want.zone && figure.share == want.want.share;
    });
    if (known != figures.end()) {
      known->asked = asked;
    } else {
      figures.push_back({want.want.zone, want.want.share, want.figure, asked});
    }
  }
  return figures;
}

void compare_zones(const Survey& first, const Survey& second, Comparison& comparison) {
  const std::vector<ZoneFigure> before = zone_figures(first);
  for (const ZoneFigure& is : zone_figures(second)) {
    const auto was = std::find_if(before.begin(), before.end(), [&](const ZoneFigure& figure) {
      return figure.zone == is.zone && figure.share == is.share;
    });
    if (was == before.end()) continue;
    FigureChange change;
    change.kind = ChangedKind::zone;
    change.name = is.zone;
    change.share = is.share;
    change.first = was->figure;
    change.second = is.figure;
    change.se = std::hypot(was->figure.se, is.figure.se);
    change.first_asked = was->asked;
    change.second_asked = is.asked;
    settle(change);
    comparison.figures.push_back(std::move(change));
  }
}

// --- things

// By name: what only one list has, and what both have and `same` says is not the same.
template <class Thing, class Same>
void compare_things(const std::string& kind, const std::vector<Thing>& first,
                    const std::vector<Thing>& second, const Same& same, Comparison& comparison) {
  const auto find = [](const std::vector<Thing>& things, const std::string& name) {
    return std::find_if(things.begin(), things.end(), [&](const Thing& t) { return t.name == name; });
  };
  for (const Thing& thing : first)
    if (find(second, thing.name) == second.end()) comparison.only.push_back({kind, thing.name, false});
  for (const Thing& thing : second) {
    const auto was = find(first, thing.name);
    if (was == first.end()) {
      comparison.only.push_back({kind, thing.name, true});
    } else if (!same(*was, thing)) {
      comparison.altered.push_back({kind, thing.name, true});
    }
  }
}

bool same_lamp(const Lamp& a, const Lamp& b) {
  const auto spans = [](const Lamp& lamp) {
    std::vector<double> ends;
    if (lamp.lit)
      for (const ClockSpan& span : *lamp.lit) ends.insert(ends.end(), {span.from_h, span.to_h});
    return ends;
  };
  return a.fixture->name == b.fixture->name && a.at == b.at && a.aim == b.aim && a.along == b.along &&
         a.dim == b.dim && a.burned_h == b.burned_h && a.lit.has_value() == b.lit.has_value() &&
         spans(a) == spans(b) && a.ramp_h == b.ramp_h;
}

void compare_scenes(const Scene& first, const Scene& second, Comparison& comparison) {
  // Materials are numbered scene by scene, so they are told apart by name.
  const auto material = [](const Scene& scene, int index) {
    return index < 0 ? std::string("open") : scene.materials[static_cast<std::size_t>(index)].name;
  };
  const auto same_material = [&](int a, int b) { return material(first, a) == material(second, b); };
  const auto same_facing = [](const Facing& a, const Facing& b) {
    return a.brightest == b.brightest && a.direction == b.direction;
  };
  compare_things(
      "perch", first.perches, second.perches,
      [&](const Perch& a, const Perch& b) {
        return a.at == b.at && a.along == b.along && same_facing(a.facing, b.facing);
      },
      comparison);
  compare_things(
      "plant", first.plants, second.plants,
      [&](const Plant& a, const Plant& b) {
        return a.crown_centre == b.crown_centre && a.grown_radii() == b.grown_radii() &&
               a.grown_leaf_area() == b.grown_leaf_area() && a.seed == b.seed &&
               a.leaf_length == b.leaf_length && a.leaf_width == b.leaf_width &&
               same_material(a.leaf_material, b.leaf_material);
      },
      comparison);
  compare_things(
      "point", first.points, second.points,
      [&](const Point& a, const Point& b) { return a.at == b.at && same_facing(a.facing, b.facing); },
      comparison);
  compare_things(
      "branch", first.branches, second.branches,
      [&](const Branch& a, const Branch& b) {
        return a.path == b.path && a.diameter == b.diameter && same_material(a.material, b.material);
      },
      comparison);
  compare_things(
      "board", first.boards, second.boards,
      [&](const Board& a, const Board& b) {
        return a.corner == b.corner && a.edge_u == b.edge_u && a.edge_v == b.edge_v &&
               same_material(a.material, b.material);
      },
      comparison);
  compare_things(
      "model", first.models, second.models,
      [&](const Model& a, const Model& b) {
        return a.file == b.file && a.shell->low() == b.shell->low() && a.shell->high() == b.shell->high() &&
               same_material(a.material, b.material);
      },
      comparison);
  compare_things(
      "box", first.boxes, second.boxes,
      [&](const Box& a, const Box& b) {
        for (std::size_t side = 0; side < kSides.size(); ++side)
          if (!same_material(a.face[side], b.face[side])) return false;
        return a.corner == b.corner && a.size == b.size;
      },
      comparison);
  compare_things(
      "lamp", first.lamps, second.lamps, [](const Lamp&, const Lamp&) { return true; }, comparison);
  for (const Lamp& lamp : second.lamps)
    for (const Lamp& was : first.lamps)
      if (was.name == lamp.name && !same_lamp(was, lamp)) comparison.lamps.push_back({was, lamp});
  std::stable_sort(comparison.only.begin(), comparison.only.end(),
                   [](const OnlyIn& a, const OnlyIn& b) { return !a.in_second && b.in_second; });
}

}  // namespace

std::string_view turn_name(Turn turn) {
  return turn == Turn::better ? "better" : turn == Turn::worse ? "worse" : "none";
}

bool FigureChange::clear() const {
  return std::abs(change) > kIntervalFactor * se;
}

std::optional<double> FigureChange::in_errors() const {
  if (change == 0) return 0.0;
  if (!(se > 0)) return std::nullopt;
  return change / se;
}

Comparison compare_surveys(const Survey& first, const Survey& second) {
  Comparison comparison;
  comparison.same_seed = first.scene.survey.seed == second.scene.survey.seed;
  const WeighedLayout before(first), after(second);
  compare_hottest(before, after, comparison);
  compare_readings(before, after, comparison);
  compare_zones(first, second, comparison);
  compare_scenes(first.scene, second.scene, comparison);
  const auto place = [](const FigureChange& change) {
    if (change.verdict_changed() && change.turn != Turn::none) return change.turn == Turn::worse ? 0 : 1;
    return change.turn == Turn::worse ? 2 : change.turn == Turn::better ? 3 : 4;
  };
  const auto clearness = [](const FigureChange& change) {
    const auto errors = change.in_errors();
    return errors ? std::abs(*errors) : std::numeric_limits<double>::infinity();
  };
  std::stable_sort(comparison.figures.begin(), comparison.figures.end(),
                   [&](const FigureChange& a, const FigureChange& b) {
                     if (place(a) != place(b)) return place(a) < place(b);
                     return clearness(a) > clearness(b);
                   });
  return comparison;
}

}  // namespace boughlight
