#include "plan/figure_field.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace boughlight {

Margin FigureField::margin(std::size_t choice) const {
  Margin least;
  for (std::size_t ask = 0; ask < asks.asks.size(); ++ask) {
    if (!counts[ask]) continue;
    const Margin own = margin(choice, ask);
    least.sure = std::min(least.sure, own.sure);
    least.maybe = std::min(least.maybe, own.maybe);
  }
  return least;
}

std::array<double, 3> FigureField::place(std::size_t choice) const {
  const std::array<std::size_t, 3> where = index(choice);
  std::array<double, 3> place{};
  for (std::size_t axis = 0; axis < 3; ++axis) place[axis] = metres[axis] * axes[axis][where[axis]];
  return place;
}

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// From an allowed choice to its neighbour that is not: at which share of the way the first ask fails, and
// which. A neighbour that is impossible counts from the choice on.
struct Crossing {
  double share = 1;
  std::optional<std::size_t> ask;
};
Crossing crossing(const FigureField& field, std::size_t from, std::size_t to) {
  if (field.blocked[to]) return {0, std::nullopt};
  Crossing first;
  for (std::size_t ask = 0; ask < field.asks.asks.size(); ++ask) {
    if (!field.counts[ask]) continue;
    const double there = field.margin(to, ask).sure;
    if (there >= 0) continue;
    const double here = std::max(0.0, field.margin(from, ask).sure);
    const double share = here / (here - there);
    if (!first.ask || share < first.share) first = {share, ask};
  }
  return first;
}

bool allowed(const FigureField& field, std::size_t choice) {
  return !field.blocked[choice] && field.margin(choice).met();
}

// Calls what(axis, up, neighbour) for every neighbour of a choice.
template <class What>
void for_neighbours(const FigureField& field, std::size_t choice, const What& what) {
  const std::array<std::size_t, 3> here = field.index(choice);
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (const bool up : {false, true}) {
      std::array<std::size_t, 3> there = here;
      if (up ? here[axis] + 1 >= field.axes[axis].size() : here[axis] == 0) continue;
      up ? ++there[axis] : --there[axis];
      what(axis, up, field.at(there));
    }
}

using Place = std::array<double, 3>;

double distance(const Place& a, const Place& b) {
  double square = 0;
  for (std::size_t axis = 0; axis < 3; ++axis) square += (a[axis] - b[axis]) * (a[axis] - b[axis]);
  return std::sqrt(square);
}

// Where asks fail first, along all edges of the lattice that leave the region and are a length.
std::vector<Place> rim_of(const FigureField& field, const std::vector<ChoiceState>& states) {
  std::vector<Place> rim;
  for (std::size_t choice = 0; choice < states.size(); ++choice) {
    if (states[choice] != ChoiceState::allowed) continue;
    for_neighbours(field, choice, [&](std::size_t axis, bool, std::size_t other) {
      if (states[other] == ChoiceState::allowed || field.metres[axis] == 0) return;
      const double share = crossing(field, choice, other).share;
      Place place = field.place(choice);
      place[axis] += share * (field.place(other)[axis] - place[axis]);
      rim.push_back(place);
    });
  }
  return rim;
}

// How far to the lattice's ends, m; infinity where no axis that is a length has two choices.
double to_the_ends(const FigureField& field, std::size_t choice) {
  const Place place = field.place(choice);
  double least = kInfinity;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    const std::vector<double>& values = field.axes[axis];
    if (values.size() < 2 || field.metres[axis] == 0) continue;
    least = std::min({least, place[axis] - field.metres[axis] * values.front(),
                      field.metres[axis] * values.back() - place[axis]});
  }
  return least;
}

std::vector<Binding> bindings_of(const FigureField& field, const std::vector<ChoiceState>& states) {
  std::vector<Binding> bindings(field.asks.asks.size());
  for (std::size_t ask = 0; ask < bindings.size(); ++ask) bindings[ask].ask = ask;
  for (std::size_t choice = 0; choice < states.size(); ++choice) {
    if (field.blocked[choice]) continue;
    std::size_t broken = 0, which = 0;
    for (std::size_t ask = 0; ask < bindings.size(); ++ask) {
      if (!field.counts[ask] || field.margin(choice, ask).met()) continue;
      ++broken, which = ask;
      ++bindings[ask].refused;
    }
    if (broken == 1) ++bindings[which].alone;
    if (broken > 0) continue;
    for_neighbours(field, choice, [&](std::size_t axis, bool up, std::size_t other) {
      if (states[other] == ChoiceState::allowed) return;
      if (const auto ask = crossing(field, choice, other).ask) ++bindings[*ask].rim[axis][up];
    });
  }
  std::erase_if(bindings, [](const Binding& binding) { return binding.refused == 0; });
  std::stable_sort(bindings.begin(), bindings.end(), [](const Binding& a, const Binding& b) {
    return a.alone != b.alone ? a.alone > b.alone : a.refused > b.refused;
  });
  return bindings;
}

}  // namespace

Slack slack_along(const FigureField& field, std::size_t choice, std::size_t axis, bool up) {
  const std::vector<double>& values = field.axes[axis];
  std::array<std::size_t, 3> here = field.index(choice);
  const double start = values[here[axis]];
  Slack slack;
  for (;;) {
    slack.end = values[here[axis]];
    slack.ends = up ? here[axis] + 1 >= values.size() : here[axis] == 0;
    if (slack.ends) break;
    std::array<std::size_t, 3> there = here;
    up ? ++there[axis] : --there[axis];
    if (!allowed(field, field.at(there))) {
      const Crossing first = crossing(field, field.at(here), field.at(there));
      slack.end += first.share * (values[there[axis]] - slack.end);
      slack.ask = first.ask;
      slack.blocks = !first.ask;
      break;
    }
    here = there;
  }
  slack.distance = field.metres[axis] * std::abs(slack.end - start);
  return slack;
}

Region region_of(const FigureField& field, const std::optional<std::array<double, 3>>& now) {
  Region region;
  const std::size_t size = field.size();
  region.states.resize(size);
  std::vector<double> margins(size);
  for (std::size_t choice = 0; choice < size; ++choice) {
    const Margin margin = field.margin(choice);
    margins[choice] = margin.sure;
    region.states[choice] = field.blocked[choice] ? ChoiceState::blocked
                            : margin.met()        ? ChoiceState::allowed
                            : margin.broken()     ? ChoiceState::refused
                                                  : ChoiceState::unsure;
    region.allowed += region.states[choice] == ChoiceState::allowed;
    region.unsure += region.states[choice] == ChoiceState::unsure;
    region.blocked += region.states[choice] == ChoiceState::blocked;
  }
  region.bindings = bindings_of(field, region.states);
  region.slack.assign(size, 0);
  if (region.allowed == 0) {
    region.conflicts = conflicts_of(field);
    region.openings = openings_of(field);
    return region;
  }
  const std::vector<Place> rim = rim_of(field, region.states);
  std::vector<double> room(size, -1);
  double most_room = 0, most_slack = 0;
  for (std::size_t choice = 0; choice < size; ++choice) {
    if (region.states[choice] != ChoiceState::allowed) continue;
    double& slack = region.slack[choice] = kInfinity;
    const Place place = field.place(choice);
    for (const Place& end : rim) slack = std::min(slack, distance(place, end));
    room[choice] = std::min(slack, to_the_ends(field, choice));
    most_room = std::max(most_room, room[choice]);
    most_slack = std::max(most_slack, slack);
  }
  // Where all of it lies at the lattice's ends only the rim counts.
  if (most_room == 0) room = region.slack, most_room = most_slack;
  std::array<double, 2> best{-kInfinity, -kInfinity};
  for (std::size_t choice = 0; choice < size; ++choice) {
    constexpr double kAsGood = 0.9;
    if (region.states[choice] != ChoiceState::allowed || room[choice] < kAsGood * most_room) continue;
    std::array<double, 2> merit{margins[choice], 0};
    if (now) {
      // Along axes that are no length it is the change that counts among equals.
      Place here{};
      double change = 0;
      for (std::size_t axis = 0; axis < 3; ++axis) {
        here[axis] = field.metres[axis] * (*now)[axis];
        if (field.metres[axis] == 0)
          change += std::abs(field.axes[axis][field.index(choice)[axis]] - (*now)[axis]);
      }
      merit = {-distance(field.place(choice), here), -change};
    }
    if (merit > best) best = merit, region.spot = choice;
  }
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (const bool up : {false, true}) region.ways[axis][up] = slack_along(field, *region.spot, axis, up);
  return region;
}

}  // namespace boughlight
