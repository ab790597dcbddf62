// Small plots over a rectangle of two axes, side by side on one picture. Private to this room.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "report/canvas.h"
#include "report/contour.h"

namespace boughlight {

// Values at the crossings of two rising lists, bilinear between them.
struct PlaneValues {
  const std::vector<double>* u = nullptr;
  const std::vector<double>* v = nullptr;
  std::vector<double> values;  // u runs fastest

  double at(double u_value, double v_value) const;  // held outside
};

// One plot: where it is on the picture, and what of the axes it shows.
struct Plot {
  Rect area;
  double u0 = 0, u1 = 1, v0 = 0, v1 = 1;

  Spot px(double u, double v) const {
    return {area.x0 + (u - u0) / (u1 - u0) * area.width(), area.y1 - (v - v0) / (v1 - v0) * area.height()};
  }
  double u_at(double x) const { return u0 + (x - area.x0) / area.width() * (u1 - u0); }
  double v_at(double y) const { return v0 + (area.y1 - y) / area.height() * (v1 - v0); }
};

// Every pixel by its place on the axes.
void paint_plot(Canvas& canvas, const Plot& plot,
                const std::function<Rgb(double u, double v, int x, int y)>& colour);
// Where `value` crosses a level; scraps are left out.
std::vector<Path> plot_contours(const Plot& plot, const std::function<double(double u, double v)>& value,
                                double level);

struct PlotTick {
  double at = 0;
  std::string text;
};
// Frame, ticks and numbers; the names of the axes where they are given.
void frame_plot(Canvas& canvas, const Plot& plot, const std::vector<PlotTick>& across,
                const std::vector<PlotTick>& up, const std::string& u_name, const std::string& v_name);

}  // namespace boughlight
