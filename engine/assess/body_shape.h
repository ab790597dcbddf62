// The animal's outline on a perch, and what the stretches of light along a line say about it. No rays.
#pragma once

#include <optional>
#include <vector>

#include "assess/results_animal.h"

namespace boughlight {

struct BodyAxis {
  Vec3 direction = Vec3::UnitX();  // unit, its greatest component positive
  AxisOrigin origin = AxisOrigin::none;
};
// Which way the body lies: the perch's `along`; where it is not given the direction of the stretch of branch,
// or the longest edge of the board, that is nearest to the perch; x where there is neither. A sloping branch
// keeps its slope, so that the body stays beside it instead of cutting through it.
BodyAxis body_axis(const Scene& scene, const Perch& perch);

struct OutlinePlace {
  bool flank = false;
  double along = 0;  // m from `back` along the axis
  Vec3 at = Vec3::Zero();
};
inline constexpr int kOutlinePlaces = 9;  // on each of the two rows, ends included; odd: one is the middle

// Two rows over the body's length, centred on `back`: the line of the back, and the lower edge of the
// flattened flank, `height` from it straight down (square to the axis; away from `facing` where the axis is
// upright). Where that edge would be inside a branch or beyond a board it lies 5 mm clear of it, on the side
// that `facing` looks to. Places outside the enclosure or inside a branch are left out.
std::vector<OutlinePlace> body_outline(const Scene& scene, const Vec3& back, const Vec3& axis, double length,
                                       double height, const Vec3& facing);

// Evenly spaced places along the axis through `back`, `reach` to either side of it at most and no further
// than the enclosure; those inside a branch are left out. Sorted; `back` is among them.
std::vector<OutlinePlace> body_line(const Scene& scene, const Vec3& back, const Vec3& axis, double reach,
                                    double step);

// The stretch around the greatest value where it is at least half of that, its ends by straight lines between
// the places. `along` rises. Nothing where no value is above 0.
std::optional<Beam> beam_of(const std::vector<double>& along, const std::vector<double>& values);

inline constexpr double kNestedSlack = 5e-3;  // m that a stretch may stick out of another
// Whether the heat's stretch lies inside the ultraviolet's and that inside the bright light's; nothing where
// one of the three is missing.
std::optional<bool> beams_nested(const std::map<Quantity, Beam>& beams);

// Greatest and least of some values; at least one.
Spread spread_of(const std::vector<double>& values);

}  // namespace boughlight
