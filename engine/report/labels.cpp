#include "report/labels.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace boughlight {

bool LabelPlacer::is_free(const Rect& rect) const {
  return area_.contains(rect) &&
         std::none_of(taken_.begin(), taken_.end(), [&](const Rect& other) { return other.overlaps(rect); });
}

std::optional<Rect> LabelPlacer::at(const Spot& spot, double width, double height) {
  const Rect rect{spot.x - width / 2, spot.y - height / 2, spot.x + width / 2, spot.y + height / 2};
  if (!is_free(rect)) return std::nullopt;
  block(rect);
  return rect;
}

std::optional<Rect> LabelPlacer::beside(const Rect& thing, double width, double height, double clearance) {
  // Right, left, above, below, then the slanted ways; y grows downwards.
  constexpr std::array<Spot, 12> kWays = {{{1, 0},
                                           {-1, 0},
                                           {0, -1},
                                           {0, 1},
                                           {0.8, -0.6},
                                           {0.8, 0.6},
                                           {-0.8, -0.6},
                                           {-0.8, 0.6},
                                           {0.4, -0.92},
                                           {0.4, 0.92},
                                           {-0.4, -0.92},
                                           {-0.4, 0.92}}};
  // The box's nearest side or corner is `off` pixels from the thing's, along the way.
  const auto moved = [](double way, double low, double high, double size, double off) {
    if (way > 0.3) return high + way * off + size / 2;
    if (way < -0.3) return low + way * off - size / 2;
    return (low + high) / 2;
  };
  for (double off = clearance; off < clearance + 240; off += 7) {
    for (const Spot& way : kWays) {
      const Spot centre{moved(way.x, thing.x0, thing.x1, width, off),
                        moved(way.y, thing.y0, thing.y1, height, off)};
      if (const std::optional<Rect> rect = at(centre, width, height)) return rect;
    }
  }
  return std::nullopt;
}

std::optional<Rect> LabelPlacer::on(const Path& path, double width, double height) {
  const int count = static_cast<int>(path.size()), middle = count / 2;
  for (int off = 0; off <= middle; ++off) {
    for (const int spot : {middle - off, middle + off}) {
      if (spot < 0 || spot >= count) continue;
      if (const std::optional<Rect> rect = at(path[static_cast<std::size_t>(spot)], width, height))
        return rect;
    }
  }
  return std::nullopt;
}

}  // namespace boughlight
