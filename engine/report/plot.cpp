#include "report/plot.h"

#include <algorithm>
#include <cmath>

#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

namespace {

// The list's entry below a value, and the share of the way to the next.
std::pair<std::size_t, double> step_of(const std::vector<double>& list, double value) {
  if (list.size() < 2) return {0, 0};
  const auto above = std::upper_bound(list.begin() + 1, list.end() - 1, value);
  const auto high = static_cast<std::size_t>(above - list.begin());
  return {high - 1, std::clamp((value - list[high - 1]) / (list[high] - list[high - 1]), 0.0, 1.0)};
}

}  // namespace

double PlaneValues::at(double u_value, double v_value) const {
  const auto [i, s] = step_of(*u, u_value);
  const auto [j, t] = step_of(*v, v_value);
  const std::size_t right = s > 0 ? i + 1 : i, above = t > 0 ? j + 1 : j, columns = u->size();
  return std::lerp(std::lerp(values[j * columns + i], values[j * columns + right], s),
                   std::lerp(values[above * columns + i], values[above * columns + right], s), t);
}

void paint_plot(Canvas& canvas, const Plot& plot,
                const std::function<Rgb(double u, double v, int x, int y)>& colour) {
  for (int y = static_cast<int>(plot.area.y0); y < static_cast<int>(plot.area.y1); ++y)
    for (int x = static_cast<int>(plot.area.x0); x < static_cast<int>(plot.area.x1); ++x)
      canvas.set(x, y, colour(plot.u_at(x + 0.5), plot.v_at(y + 0.5), x, y));
}

std::vector<Path> plot_contours(const Plot& plot, const std::function<double(double u, double v)>& value,
                                double level) {
  Lattice lattice{{plot.area.x0, plot.area.y0}, 2, 0, 0, {}};
  lattice.columns = static_cast<int>(plot.area.width() / lattice.step) + 1;
  lattice.rows = static_cast<int>(plot.area.height() / lattice.step) + 1;
  for (int j = 0; j < lattice.rows; ++j)
    for (int i = 0; i < lattice.columns; ++i)
      lattice.value.push_back(value(plot.u_at(lattice.origin.x + lattice.step * i),
                                    plot.v_at(lattice.origin.y + lattice.step * j)));
  std::vector<Path> paths = contour_lines(lattice, level);
  std::erase_if(paths, [](const Path& path) { return path.size() < 4; });
  return paths;
}

void frame_plot(Canvas& canvas, const Plot& plot, const std::vector<PlotTick>& across,
                const std::vector<PlotTick>& up, const std::string& u_name, const std::string& v_name) {
  const Rect& area = plot.area;
  canvas.stroke(closed(rect_path(area)), {1, kInk});
  const double height = text_height(kSmallSize);
  for (const PlotTick& tick : across) {
    const double x = plot.px(tick.at, 0).x;
    canvas.stroke({{x, area.y1}, {x, area.y1 + 4}}, {1.2, kInk});
    canvas.text({x - text_width(tick.text, kSmallSize) / 2, area.y1 + 5}, tick.text, {kSmallSize, kInk});
  }
  for (const PlotTick& tick : up) {
    const double y = plot.px(0, tick.at).y;
    canvas.stroke({{area.x0 - 4, y}, {area.x0, y}}, {1.2, kInk});
    canvas.text({area.x0 - 7 - text_width(tick.text, kSmallSize), y - height / 2}, tick.text,
                {kSmallSize, kInk});
  }
  canvas.text({area.centre().x - text_width(u_name, kSmallSize) / 2, area.y1 + 5 + height}, u_name,
              {kSmallSize, kMuted});
  TextStyle upward{kSmallSize, kMuted};
  upward.upward = true;
  canvas.text({area.x0 - 52, area.centre().y - text_width(v_name, kSmallSize) / 2}, v_name, upward);
}

}  // namespace boughlight
