// The column beside a map: colour scale with units, limits, signs.
#pragma once

#include <set>
#include <vector>

#include "report/map.h"
#include "report/map_scene.h"

namespace boughlight {

struct LegendLimit {
  MapLimit limit;
  bool in_view = false;  // whether its contour crosses this map
};

struct Legend {
  Quantity quantity = Quantity::uvi;
  ColourScale scale;
  std::vector<LegendLimit> limits;
  std::set<MapSign> signs;
};

inline constexpr double kLegendWidth = 218;          // px
inline constexpr std::size_t kMostLegendLimits = 9;  // further ones are counted, not listed

// How tall the legend is, px, with as many limits and signs as there are.
double legend_height(std::size_t limits, std::size_t signs);
// Draws it from `corner` down and returns the colour bar.
Rect draw_legend(Canvas& canvas, const Spot& corner, const Legend& legend);

// The line that a limit's contour is drawn with.
Stroke limit_stroke(MapLimit::Kind kind);
// The colour in which a thin line of equal value shows on the field at that value.
Rgb thin_line_colour(const ColourScale& scale, double value);

}  // namespace boughlight
