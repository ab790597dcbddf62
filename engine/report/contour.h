// Lines of equal value.
#pragma once

#include <vector>

#include "report/canvas.h"

namespace boughlight {

// Values at the knots of a square lattice, in pixels: knot (i, j) lies at origin + step x (i, j). NaN where
// there is no value.
struct Lattice {
  Spot origin;
  double step = 1;
  int columns = 0, rows = 0;
  std::vector<double> value;  // i runs fastest

  double at(int i, int j) const { return value[static_cast<std::size_t>(j) * columns + i]; }
};

// Where the lattice crosses `level`, by marching squares with straight interpolation along the lattice's
// edges: joined into paths, each as long as can be, a ring's first spot repeated as its last. Squares with a
// missing corner are left out. A knot exactly at the level counts as above it.
std::vector<Path> contour_lines(const Lattice& lattice, double level);

}  // namespace boughlight
