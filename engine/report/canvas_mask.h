// Inside of Canvas: the coverage of a shape before it is blended.
#pragma once

#include <algorithm>
#include <bit>
#include <cstdint>
#include <vector>

#include "report/canvas.h"

namespace boughlight {

struct Canvas::Mask {
  int x0 = 0, y0 = 0, width = 0, height = 0;  // in pixels of the canvas
  std::vector<float> cover;                   // 0..1, row by row; may be longer than that
  // Of each row, the 64ths of its width that may be covered, a bit each: most lines are thin, and lie across
  // a large rectangle.
  std::vector<std::uint64_t> touched;

  // The pixels from `from` up to, not with, `to` > from.
  void touch(int y, int from, int to) {
    const int first = (from - x0) / block(), last = (to - 1 - x0) / block();
    touched[static_cast<std::size_t>(y - y0)] |= (~std::uint64_t{0} >> (63 - (last - first))) << first;
  }
  // Calls visit(x, y) for every pixel that may be covered.
  template <class Visit>
  void each_touched(Visit&& visit) const {
    for (int y = y0; y < y0 + height; ++y)
      for (std::uint64_t left = touched[static_cast<std::size_t>(y - y0)]; left != 0; left &= left - 1) {
        const int from = x0 + std::countr_zero(left) * block(), to = std::min(from + block(), x0 + width);
        for (int x = from; x < to; ++x) visit(x, y);
      }
  }
  float& at(int x, int y) { return cover[place(x, y)]; }
  float at(int x, int y) const { return cover[place(x, y)]; }

 private:
  int block() const { return (width + 63) / 64; }
  std::size_t place(int x, int y) const { return static_cast<std::size_t>(y - y0) * width + (x - x0); }
};

}  // namespace boughlight
