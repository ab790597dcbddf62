// Inside of Canvas: the coverage of a shape before it is blended.
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

#include "report/canvas.h"

namespace boughlight {

struct Canvas::Mask {
  int x0 = 0, y0 = 0, width = 0, height = 0;  // in pixels of the canvas
  std::vector<float> cover;                   // 0..1, row by row
  // Of each row, the pixels that may be covered: from the first up to, not with, the second. Most lines are
  // thin, and lie across a large rectangle.
  std::vector<std::pair<int, int>> touched;

  void touch(int y, int from, int to) {
    auto& [first, end] = touched[static_cast<std::size_t>(y - y0)];
    first = std::min(first, from), end = std::max(end, to);
  }
  float& at(int x, int y) { return cover[place(x, y)]; }
  float at(int x, int y) const { return cover[place(x, y)]; }

 private:
  std::size_t place(int x, int y) const { return static_cast<std::size_t>(y - y0) * width + (x - x0); }
};

}  // namespace boughlight
