// Finding room for labels so that none lies on another.
#pragma once

#include <optional>
#include <vector>

#include "report/canvas.h"

namespace boughlight {

class LabelPlacer {
 public:
  explicit LabelPlacer(const Rect& area) : area_(area) {}

  // Nothing placed later may touch this.
  void block(const Rect& rect) { taken_.push_back(rect); }
  bool is_free(const Rect& rect) const;

  // A box of the given size, `clearance` pixels from the thing to be named: to its right first, then around,
  // then further off. Blocks it. Nothing where there is no room within 240 pixels.
  std::optional<Rect> beside(const Rect& thing, double width, double height, double clearance);
  // A box centred on a spot, if it is free there. Blocks it.
  std::optional<Rect> at(const Spot& spot, double width, double height);
  // A box centred on one of the path's spots, from the middle of the path outwards. Blocks it.
  std::optional<Rect> on(const Path& path, double width, double height);

 private:
  Rect area_;
  std::vector<Rect> taken_;
};

}  // namespace boughlight
