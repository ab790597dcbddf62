// Inside of Canvas: the coverage of a shape before it is blended.
#pragma once

#include <vector>

#include "report/canvas.h"

namespace boughlight {

struct Canvas::Mask {
  int x0 = 0, y0 = 0, width = 0, height = 0;  // in pixels of the canvas
  std::vector<float> cover;                   // 0..1, row by row

  float& at(int x, int y) { return cover[static_cast<std::size_t>(y - y0) * width + (x - x0)]; }
};

}  // namespace boughlight
