#include "plan/window.h"

#include <oneapi/tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "assess/facts.h"
#include "assess/judge.h"
#include "plan/prospect.h"

namespace boughlight {
namespace {

constexpr double kWindowJoins = 4e6;  // to the lamp, for each depth
constexpr double kLeastOutput = 0.25, kMostOutput = 4;
// Outputs at which the sensor is turned, the greatest within reach is looked for and shares are counted; what
// lies between follows from these by arithmetic.
constexpr std::array<double, 5> kLookedAt = {0.25, 0.5, 1, 2, 4};

double usual_step(const Scene& scene) {
  const bool inches = is_of_inches(scene.length_unit);
  return inches ? size_of_unit("in", Dimension::length) : 0.025;
}

void add_sorted(std::vector<double>& values, double value) {
  constexpr double kSame = 1e-4;
  std::erase_if(values, [&](double other) { return std::abs(other - value) < kSame; });
  values.insert(std::upper_bound(values.begin(), values.end(), value), value);
}

std::vector<double> usual_window_gaps(const Scene& scene, const std::optional<Hang>& present) {
  constexpr int kFirst = 1, kLast = 16;
  std::vector<double> gaps;
  for (int i = kFirst; i <= kLast; ++i) gaps.push_back(i * usual_step(scene));
  if (present) add_sorted(gaps, present->gap);
  return gaps;
}

std::vector<double> usual_depths(const Scene& scene, double present, std::pair<double, double> room) {
  constexpr int kWays = 4, kSteps = 2;  // so many either way, of two usual steps each
  std::vector<double> depths;
  for (int i = -kWays; i <= kWays; ++i) {
    const double lower = i * kSteps * usual_step(scene);
    if (-lower >= room.first - 1e-9 && -lower <= room.second + 1e-9) depths.push_back(present + lower);
  }
  add_sorted(depths, present);
  return depths;
}

// Outlooks at the outputs that are looked at, for one gap and depth.
using Looks = std::array<Prospect::Outlook, kLookedAt.size()>;

Figure between(const Looks& looks, const FigureKey& key, std::size_t figure, double output) {
  std::size_t high = 1;
  while (high + 1 < kLookedAt.size() && kLookedAt[high] < output) ++high;
  const double share = (output - kLookedAt[high - 1]) / (kLookedAt[high] - kLookedAt[high - 1]);
  const Prospect::Outlook &below = looks[high - 1], &above = looks[high];
  if (key.kind == FigureKind::share) {
    const Figure &a = below.figures[figure], &b = above.figures[figure];
    return {std::lerp(a.value, b.value, share), std::max(a.se, b.se), {}};
  }
  const Figure a = below.splits[figure]->figure(output), b = above.splits[figure]->figure(output);
  // Either place is one that can be reached.
  if (key.kind == FigureKind::reach) return a.value > b.value ? a : b;
  return {std::lerp(a.value, b.value, share), std::lerp(a.se, b.se, share), {}};
}

std::vector<char> changed_figures(const FigureField& field) {
  std::vector<char> changed;
  for (std::size_t f = 0; f < field.asks.figures.size(); ++f) {
    constexpr double kLeastPart = 0.005;
    double low = field.figure(0, f).value, high = low;
    for (std::size_t choice = 0; choice < field.size(); ++choice) {
      low = std::min(low, field.figure(choice, f).value);
      high = std::max(high, field.figure(choice, f).value);
    }
    const double limit = nearest_limit(limits_on(field.asks, f), high);
    const bool is_share = field.asks.figures[f].kind == FigureKind::share;
    changed.push_back(high - low > kLeastPart * (is_share ? 1 : limit > 0 ? limit : high));
  }
  return changed;
}

OutputRange range_at(const Window& window, std::size_t gap, std::size_t depth) {
  const FigureField& field = window.field;
  OutputRange range{field.axes[0][gap], field.axes[1][depth], {}, {}, {}, {}};
  // What is nearest to the declared output first.
  std::optional<std::size_t> start;
  for (std::size_t i = 0; i < field.axes[2].size(); ++i) {
    if (window.region.states[field.at({gap, depth, i})] != ChoiceState::allowed) continue;
    const auto off = [&](std::size_t k) { return std::abs(std::log(field.axes[2][k])); };
    if (!start || off(i) < off(*start)) start = i;
  }
  if (!start) return range;
  const std::size_t choice = field.at({gap, depth, *start});
  const Slack down = slack_along(field, choice, 2, false), up = slack_along(field, choice, 2, true);
  range.least = down.end, range.below = down.ask;
  range.most = up.end, range.above = up.ask;
  return range;
}

}  // namespace

std::vector<double> window_outputs() {
  constexpr int kSteps = 32;
  std::vector<double> outputs;
  for (int i = 0; i <= kSteps; ++i)
    outputs.push_back(kLeastOutput * std::pow(kMostOutput / kLeastOutput, static_cast<double>(i) / kSteps));
  return outputs;
}

std::optional<std::size_t> perch_for(const Scene& scene, std::size_t lamp) {
  double uvi = 0;
  for (const LampPart& part : scene.lamps[lamp].fixture->parts)
    uvi += part.radiant_flux_w * part.per_watt.total(Quantity::uvi);
  std::optional<std::size_t> best;
  double most = 0;
  std::size_t count = 0;
  for (std::size_t i = 0; i < scene.perches.size(); ++i) {
    std::size_t own = 0;
    for (const Want& want : scene.perches[i].wants) {
      const double least = want.limits.min.value_or(0);
      own += least > 0;
      if (want.quantity == Quantity::uvi && uvi > 0 && least > most) most = least, best = i;
    }
    if (most == 0 && (!best || own > count)) best = i, count = own;
  }
  return best;
}

std::vector<LampReading> lamp_readings(const Lamp& lamp) {
  constexpr double kUsual = 0.3;  // m; common practice, no source
  // A part that gives less than this is not what the lamp is for.
  constexpr double kLeastUvi = 0.05, kLeastLux = 100;
  const Fixture& fixture = *lamp.fixture;
  const auto total = [&](Quantity quantity) {
    double sum = 0;
    for (const LampPart& part : fixture.parts) sum += part.radiant_flux_w * part.per_watt.total(quantity);
    return sum;
  };
  // Where the part that gives most of a quantity is declared.
  const auto distance_for = [&](Quantity quantity) {
    double most = 0;
    std::optional<double> distance;
    for (const LampPart& part : fixture.parts)
      if (const double own = part.radiant_flux_w * part.per_watt.total(quantity); own > most)
        most = own, distance = part.anchor_m;
    return std::max(distance.value_or(kUsual), 1.01 * fixture.emitter->extent(Vec3::UnitZ()));
  };
  std::vector<LampReading> readings;
  const auto add = [&](Quantity quantity, double least) {
    const double distance = distance_for(quantity);
    const double value = total(quantity) * fixture.emitter->on_axis(distance);
    if (value > least) readings.push_back({quantity, distance, value});
  };
  add(Quantity::uvi, kLeastUvi);
  add(Quantity::lux, kLeastLux);
  add(Quantity::ppfd, 0);
  add(Quantity::irradiance, 0);
  return readings;
}

Window find_window(const Scene& scene, std::size_t lamp, const WindowChoice& choice,
                   const SurveyControl& control) {
  const auto begin = std::chrono::steady_clock::now();
  std::optional<tbb::global_control> threads;
  if (control.threads > 0)
    threads.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(control.threads));
  Window window;
  window.scene = scene;
  window.lamp = lamp;
  window.top = top_of(scene);
  window.seat = seat_of(scene, choice.perch ? *choice.perch : perch_for(scene, lamp).value());
  const std::optional<Hang> present = hang_of(scene.lamps[lamp], window.top);
  const double depth_now = depth_of(scene, window.seat.perch, window.top);
  FigureField& field = window.field;
  field.axes = {choice.gaps.empty() ? usual_window_gaps(scene, present) : choice.gaps,
                choice.depths.empty()
                    ? usual_depths(scene, depth_now, room_to_move(scene, window.seat, window.top))
                    : choice.depths,
                window_outputs()};
  field.metres = {1, 1, 0};
  const std::vector<double>&gaps = field.axes[0], &depths = field.axes[1], &outputs = field.axes[2];
  const Lattice3 range{{scene.lamps[lamp].at.x()}, {scene.lamps[lamp].at.y()}, gaps};
  RayCount rays;
  for (std::size_t d = 0; d < depths.size(); ++d) {
    const auto tell = [&](const std::string& stage, double share) {
      if (control.progress)
        control.progress(stage, (static_cast<double>(d) + share) / static_cast<double>(depths.size()));
    };
    const Scene moved = with_seat_moved(scene, window.seat, depth_now - depths[d]);
    const Prospect prospect(moved, lamp, range, kWindowJoins,
                            [&](const std::string& stage, double share) { tell(stage, 0.85 * share); });
    if (d == 0) {
      field.asks = prospect.asks();
      field.figures.resize(field.size() * field.asks.figures.size());
    }
    std::vector<RayCount> counts(gaps.size());
    tbb::parallel_for(std::size_t{0}, gaps.size(), [&](std::size_t g) {
      Looks looks;
      for (std::size_t i = 0; i < looks.size(); ++i)
        looks[i] = prospect.best_at(range.hang(g), counts[g], kLookedAt[i]);
      for (std::size_t o = 0; o < outputs.size(); ++o)
        for (std::size_t f = 0; f < field.asks.figures.size(); ++f)
          field.figures[field.at({g, d, o}) * field.asks.figures.size() + f] =
              between(looks, field.asks.figures[f], f, outputs[o]);
    });
    rays += prospect.standing().setting().spent;
    for (const RayCount& count : counts) rays += count;
  }
  field.blocked.assign(field.size(), 0);
  for (std::size_t g = 0; g < gaps.size(); ++g) {
    const Lamp there = hung(scene.lamps[lamp], window.top, range.hang(g));
    const bool touches = !lamp_in_the_way(scene, lamp, there).empty();
    for (std::size_t d = 0; touches && d < depths.size(); ++d)
      for (std::size_t o = 0; o < outputs.size(); ++o) field.blocked[field.at({g, d, o})] = 1;
  }
  window.changed = changed_figures(field);
  for (const Ask& ask : field.asks.asks) field.counts.push_back(window.changed[ask.figure]);
  window.now = {present ? present->gap : gaps.front(), depth_now, 1};
  window.region = region_of(field, window.now);

  const auto nearest = [](const std::vector<double>& values, double value) {
    const auto at = std::min_element(values.begin(), values.end(), [&](double a, double b) {
      return std::abs(a - value) < std::abs(b - value);
    });
    return static_cast<std::size_t>(at - values.begin());
  };
  const std::size_t depth_index = nearest(depths, depth_now);
  if (present) window.as_it_is = range_at(window, nearest(gaps, present->gap), depth_index);
  for (std::size_t g = 0; g < gaps.size(); ++g) window.by_gap.push_back(range_at(window, g, depth_index));
  if (window.region.spot) {
    const std::array<std::size_t, 3> spot = field.index(*window.region.spot);
    window.best = range_at(window, spot[0], spot[1]);
  }
  window.readings = lamp_readings(scene.lamps[lamp]);
  // What most limits here is what such a lamp is bought by.
  const auto limiting = [&](const LampReading& reading) {
    std::size_t refused = 0;
    for (const Binding& binding : window.region.bindings) {
      const FigureKey& key = field.asks.figures[field.asks.asks[binding.ask].figure];
      if (key.kind == FigureKind::share) continue;
      const Quantity instant = info(key.quantity).of;
      if ((instant == Quantity::infrared ? Quantity::irradiance : instant) == reading.quantity)
        refused += binding.refused;
    }
    return refused;
  };
  std::stable_sort(window.readings.begin(), window.readings.end(),
                   [&](const LampReading& a, const LampReading& b) { return limiting(a) > limiting(b); });
  window.effort.rays = static_cast<double>(rays.shadow + rays.closest);
  window.effort.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return window;
}

}  // namespace boughlight
