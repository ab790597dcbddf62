// Asked figures over a lattice of choices (places of a lamp, or gaps, depths and outputs), and where among
// them all asks hold. Plain data and counting; no rays.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "plan/asks.h"

namespace boughlight {

struct FigureField {
  // The choices along each axis, rising, at least one; the first runs fastest, then the second.
  std::array<std::vector<double>, 3> axes;
  // What one unit along each axis is as a length, m; 0 where it is none.
  std::array<double, 3> metres{1, 1, 1};
  Asks asks;
  // By ask: whether the choice has a say in it. The others are left out of account.
  std::vector<char> counts;
  std::vector<Figure> figures;  // by choice, then as asks.figures
  std::vector<char> blocked;    // by choice: impossible, whatever the figures

  std::size_t size() const { return axes[0].size() * axes[1].size() * axes[2].size(); }
  std::size_t at(const std::array<std::size_t, 3>& index) const {
    return (index[2] * axes[1].size() + index[1]) * axes[0].size() + index[0];
  }
  std::array<std::size_t, 3> index(std::size_t choice) const {
    return {choice % axes[0].size(), choice / axes[0].size() % axes[1].size(),
            choice / (axes[0].size() * axes[1].size())};
  }
  const Figure& figure(std::size_t choice, std::size_t figure) const {
    return figures[choice * asks.figures.size() + figure];
  }
  Margin margin(std::size_t choice, std::size_t ask) const {
    return margin_of(figure(choice, asks.asks[ask].figure), asks.asks[ask]);
  }
  // Over all asks that count.
  Margin margin(std::size_t choice) const;
  // In lengths along the axes, m; axes that are none count for nothing.
  std::array<double, 3> place(std::size_t choice) const;
};

// All asks hold; too close to call; at least one is broken; impossible.
enum class ChoiceState : unsigned char { allowed, unsure, refused, blocked };

// How far a choice may be off along one axis, one way.
struct Slack {
  double distance = 0;             // m; 0 along an axis that is no length
  double end = 0;                  // on the axis, in its own unit
  std::optional<std::size_t> ask;  // which fails first beyond it; nothing: none does up to there
  bool ends = false;               // the lattice ends there
  bool blocks = false;             // it is impossible beyond
};

// What one ask takes away.
struct Binding {
  std::size_t ask = 0;
  std::size_t refused = 0;  // choices where it does not hold for sure
  std::size_t alone = 0;    // of these, where every other ask holds
  // Along each axis, down and up: how often it is the first to fail at the region's rim.
  std::array<std::array<std::size_t, 2>, 3> rim{};
};

// Limits that would have to give way for one choice to be allowed.
struct Opening {
  struct Loosened {
    std::size_t ask = 0;
    double limit = 0;  // at which it holds there for sure, rounded outwards
    double share = 0;  // by how much of the present limit it is looser
  };
  std::size_t choice = 0;
  std::vector<Loosened> loosened;
  double share = 0;  // sum of theirs
};

struct Region {
  std::vector<ChoiceState> states;
  std::size_t allowed = 0, unsure = 0, blocked = 0;
  // By choice, m: how far to the nearest one where an ask fails, between the lattice's choices as the margins
  // go; 0 where it is not allowed, infinity where none fails anywhere.
  std::vector<double> slack;
  // Of the allowed choices that are, within a tenth, the furthest from where an ask fails and from the
  // lattice's ends, the one next to where it is now; the one of the greatest margin where that is not known.
  std::optional<std::size_t> spot;
  std::array<std::array<Slack, 2>, 3> ways;  // from the spot: along each axis, down and up
  std::vector<Binding> bindings;             // those that take anything away, the greatest `alone` first
  // Where nothing is allowed: asks that no choice keeps, else the smallest sets of asks that no choice keeps
  // together (at most kMostConflicts of them).
  std::vector<std::vector<std::size_t>> conflicts;
  // Where nothing is allowed: the least loosening that opens the region, then those of single asks.
  std::vector<Opening> openings;
};
inline constexpr std::size_t kMostConflicts = 6, kMostOpenings = 4;

// `now`: the present place along the axes, in their own units.
Region region_of(const FigureField& field, const std::optional<std::array<double, 3>>& now = {});

// From a choice along one axis, one way, to where an ask fails.
Slack slack_along(const FigureField& field, std::size_t choice, std::size_t axis, bool up);

// Parts of region_of() where nothing is allowed.
std::vector<std::vector<std::size_t>> conflicts_of(const FigureField& field);
std::vector<Opening> openings_of(const FigureField& field);

}  // namespace boughlight
