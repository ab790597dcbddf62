// Everything that a scene asks for, as a flat list of figures and of one-sided limits on them, so that a plan
// can weigh them against each other. Plain data.
#pragma once

#include <limits>
#include <vector>

#include "assess/figure.h"
#include "scene/model.h"

namespace boughlight {

enum class FigureKind {
  reading,  // of a perch, a plant or a point
  reach,    // the greatest within the animal's reach
  share     // of a zone
};

// One figure that a plan predicts.
struct FigureKey {
  FigureKind kind = FigureKind::reading;
  std::size_t item = 0;                 // reading: place in the survey's order, perches, plants, points
  Quantity quantity = Quantity::uvi;    // reading and reach
  std::string zone;                     // share: "basking" or "refuge"
  ZoneShare share = ZoneShare::volume;  // share
  bool operator==(const FigureKey&) const = default;
};

// One side of a limit.
struct Ask {
  std::size_t figure = 0;  // index into Asks::figures
  bool at_least = false;   // else at most
  double limit = 0;        // in the figure's unit, inclusive
};

struct Asks {
  std::vector<FigureKey> figures;
  std::vector<Ask> asks;
};

// Of perches, plants, points, `never` and zones, in this order. Figures without a limit that a keeper wants
// to see all the same are listed too: the greatest UVI within reach, and the share of refuge by volume.
Asks asks_of(const Scene& scene);

// Both sides of what is asked of a figure; neither where nothing is.
Limits limits_on(const Asks& asks, std::size_t figure);

// The name of the reading at a place in the survey's order.
const std::string& reading_name(const Scene& scene, std::size_t item);

// How far a figure is from breaking a limit, in shares of the limit (of 1 where the limit is 0).
struct Margin {
  double sure =
      std::numeric_limits<double>::infinity();  // >= 0: kept, even at the far end of the 95 % interval
  double maybe = std::numeric_limits<double>::infinity();  // < 0: broken, even at the near end of it
  bool met() const { return sure >= 0; }
  bool broken() const { return maybe < 0; }
};
// Agrees with judge() of assess/judge.h: met, unsure (neither), or broken.
Margin margin_of(const Figure& figure, const Ask& ask);

// The same over all asks: the least of each.
Margin least_margin(const std::vector<Figure>& figures, const Asks& asks);

}  // namespace boughlight
