// Maps: one quantity on one slice of the enclosure, as a labelled picture.
//
// What is shown is what the grid holds: cells facing up. Colours and contours are bilinear between the cells'
// middles (see SliceField), which reads better than flat blocks; the cells' size stands under every map,
// since nothing finer than a cell is known. Cells without free volume are hatched. Every map of a quantity
// has the same colour scale.
#pragma once

#include <string>
#include <vector>

#include "assess/results.h"
#include "report/canvas.h"
#include "report/slice.h"

namespace boughlight {

// A limit that the scene puts on a quantity somewhere: drawn as a contour.
struct MapLimit {
  double value = 0;
  enum class Kind { at_least, at_most, never } kind = Kind::at_least;
  std::vector<std::string> who;  // "sun perch", "basking", ...
};
// Of perches, points, plants, basking, refuge and never; equal ones merged, rising by value. A lower limit of
// 0 is none.
std::vector<MapLimit> limits_of(const Scene& scene, Quantity quantity);

// The scale that all maps of a quantity share: every free cell and the limits.
ColourScale map_scale(const Survey& survey, Quantity quantity);

// From metres on a slice to pixels of its map.
struct MapLayout {
  int width = 0, height = 0;  // of the whole picture
  Rect plot;                  // where the slice is drawn
  double px_per_m = 1;
  double u0 = 0, v0 = 0;  // the plot's lower left corner, m

  Spot px(double u, double v) const { return {plot.x0 + (u - u0) * px_per_m, plot.y1 - (v - v0) * px_per_m}; }
  double u_at(double x) const { return u0 + (x - plot.x0) / px_per_m; }
  double v_at(double y) const { return v0 + (plot.y1 - y) / px_per_m; }
};

struct MapPicture {
  MapLayout layout;
  Rect colour_bar;  // of the legend: low at the bottom
  Canvas canvas;
};
MapPicture draw_map(const Survey& survey, Quantity quantity, const Slice& slice, const ColourScale& scale);

struct MapFile {
  std::string name;   // "uvi-plan-z143cm.png"
  std::string bytes;  // PNG
};
// UVI, PPFD and irradiance on every slice of slices_of().
std::vector<MapFile> map_files(const Survey& survey);
// Whether a file name is one that map_files() may give.
bool is_map_file_name(const std::string& name);

}  // namespace boughlight
