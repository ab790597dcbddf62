#include "report/map_frame.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "report/map_legend.h"
#include "report/map_signs.h"
#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

namespace {

// Room around the plot for the headings, the axes, the legend and the notes, px.
constexpr double kMapLeft = 70, kMapRight = kLegendWidth + 40, kMapTop = 92, kMapAxis = 46, kMapNotes = 54;
constexpr int kLeastWidth = 640;
// px; cells are several times as large.
constexpr double kKnotsApart = 4;

// The pixels of the plot whose middles lie in a box: [x0, x1) x [y0, y1).
struct PixelBox {
  int x0, x1, y0, y1;
};
PixelBox pixels_in(const Rect& box, const MapLayout& layout) {
  const int left = static_cast<int>(layout.plot.x0), right = static_cast<int>(layout.plot.x1);
  const int top = static_cast<int>(layout.plot.y0), bottom = static_cast<int>(layout.plot.y1);
  PixelBox pixels{left, right, top, bottom};
  while (pixels.x0 < right && layout.u_at(pixels.x0 + 0.5) < box.x0) ++pixels.x0;
  while (pixels.x1 > left && layout.u_at(pixels.x1 - 0.5) > box.x1) --pixels.x1;
  while (pixels.y0 < bottom && layout.v_at(pixels.y0 + 0.5) > box.y1) ++pixels.y0;
  while (pixels.y1 > top && layout.v_at(pixels.y1 - 0.5) < box.y0) --pixels.y1;
  return pixels;
}

}  // namespace

int height_with(const Rect& plot, double legend) {
  return static_cast<int>(std::max(plot.y1 + kMapAxis, plot.y0 + legend + 12) + kMapNotes);
}

MapLayout layout_of(const Rect& extent, double legend) {
  MapLayout layout;
  layout.px_per_m = std::min((kLongSide - kMapLeft - kMapRight) / extent.width(),
                             (kLongSide - kMapTop - kMapAxis - kMapNotes) / extent.height());
  layout.u0 = extent.x0;
  layout.v0 = extent.y0;
  layout.plot = {kMapLeft, kMapTop, kMapLeft + std::round(extent.width() * layout.px_per_m),
                 kMapTop + std::round(extent.height() * layout.px_per_m)};
  layout.width = std::max(kLeastWidth, static_cast<int>(layout.plot.x1 + kMapRight));
  layout.height = height_with(layout.plot, legend);
  return layout;
}

Lattice lattice_of(const ShownField& field, const MapLayout& layout) {
  Lattice lattice{{layout.plot.x0, layout.plot.y0}, kKnotsApart, 0, 0, {}};
  lattice.columns = static_cast<int>(layout.plot.width() / lattice.step) + 1;
  lattice.rows = static_cast<int>(layout.plot.height() / lattice.step) + 1;
  for (int j = 0; j < lattice.rows; ++j) {
    for (int i = 0; i < lattice.columns; ++i) {
      const double u = layout.u_at(lattice.origin.x + lattice.step * i);
      const double v = layout.v_at(lattice.origin.y + lattice.step * j);
      lattice.value.push_back(field.value(u, v).value_or(std::numeric_limits<double>::quiet_NaN()));
    }
  }
  return lattice;
}

bool paint_field(Canvas& canvas, const ShownField& field, const Lattice& lattice, const MapLayout& layout,
                 const ColourScale& scale) {
  bool blocked = false;
  // The knots' places on the ramp, which straight lines join as well as they join the values: knots lie
  // close. A missing knot is not a number, nor is what is joined to it.
  Lattice places = lattice;
  for (double& place : places.value)
    if (!std::isnan(place)) place = scale.share(place) * (kRampSteps - 1);
  const auto along = [&lattice](int pixel, double origin, int knots) {
    const double at = (pixel + 0.5 - origin) / lattice.step;
    const int before = std::min(static_cast<int>(at), knots - 2);
    return std::pair(before, at - before);
  };
  const Ramp& ramp = scale.ramp();
  std::vector<std::pair<int, double>> across;
  std::vector<double> knots(static_cast<std::size_t>(lattice.columns));
  for (const Rect& box : field.boxes) {
    const PixelBox pixels = pixels_in(box, layout);
    across.clear();
    for (int x = pixels.x0; x < pixels.x1; ++x) across.push_back(along(x, lattice.origin.x, lattice.columns));
    for (int y = pixels.y0; y < pixels.y1; ++y) {
      const auto [j, t] = along(y, lattice.origin.y, lattice.rows);
      for (int i = 0; i < lattice.columns; ++i)
        knots[static_cast<std::size_t>(i)] = places.at(i, j) + t * (places.at(i, j + 1) - places.at(i, j));
      const std::span<Rgb> row = canvas.row(y);
      for (int x = pixels.x0; x < pixels.x1; ++x) {
        const auto [i, s] = across[static_cast<std::size_t>(x - pixels.x0)];
        const double* const knot = knots.data() + i;
        const double place = knot[0] + s * (knot[1] - knot[0]);
        Rgb& pixel = row[static_cast<std::size_t>(x)];
        if (!std::isnan(place)) {
          const int step = std::clamp(static_cast<int>(place + 0.5), 0, kRampSteps - 1);
          pixel = ramp[static_cast<std::size_t>(step)];
        } else if (const auto value = field.value(layout.u_at(x + 0.5), layout.v_at(y + 0.5))) {
          // At the rim of a box or of a blocked cell a knot is missing.
          pixel = scale.colour(*value);
        } else {
          blocked = true;
          pixel = is_hatch_line(x, y) ? kHatch : kHatchGround;
        }
      }
    }
  }
  return blocked;
}

std::vector<Path> visible_contours(const Lattice& lattice, double level) {
  std::vector<Path> paths = contour_lines(lattice, level);
  std::erase_if(paths, [](const Path& path) { return path.size() < 3; });
  std::stable_sort(paths.begin(), paths.end(),
                   [](const Path& a, const Path& b) { return a.size() > b.size(); });
  return paths;
}

void label_contours(Canvas& canvas, LabelPlacer& placer, const std::vector<Path>& paths,
                    const std::string& text, const TextStyle& style, std::size_t at_most,
                    std::size_t least_spots) {
  const double width = text_width(text, style.size) + 4, height = text_height(style.size);
  for (std::size_t i = 0; i < std::min(at_most, paths.size()); ++i) {
    if (paths[i].size() < least_spots) break;
    if (const std::optional<Rect> box = placer.on(paths[i], width, height)) {
      canvas.text({box->x0 + 2, box->y0}, text, style);
    }
  }
}

void draw_axes(Canvas& canvas, const Survey& survey, const Slice& slice, const MapLayout& layout) {
  const LengthUnit unit(survey.scene.length_unit);
  const Rect& plot = layout.plot;
  const double bottom = plot.y1 + 4, left = plot.x0 - 4;
  canvas.stroke({{plot.x0, bottom}, {plot.x1, bottom}}, {1, kInk});
  canvas.stroke({{left, plot.y0}, {left, plot.y1}}, {1, kInk});
  const double height = text_height(kSmallSize);
  const auto ticks = [&](double low, double pixels, double spacing) {
    return unit.ticks_m(low, low + pixels / layout.px_per_m, std::max(2, static_cast<int>(pixels / spacing)));
  };
  for (const double u : ticks(layout.u0, plot.width(), 55)) {
    const double x = layout.px(u, 0).x;
    const std::string text = tick_text(unit.from_m(u));
    canvas.stroke({{x, bottom}, {x, bottom + 5}}, {1.2, kInk});
    canvas.text({x - text_width(text, kSmallSize) / 2, bottom + 6}, text, {kSmallSize, kInk});
  }
  for (const double v : ticks(layout.v0, plot.height(), 40)) {
    const double y = layout.px(0, v).y;
    const std::string text = tick_text(unit.from_m(v));
    canvas.stroke({{left - 5, y}, {left, y}}, {1.2, kInk});
    canvas.text({left - 8 - text_width(text, kSmallSize), y - height / 2}, text, {kSmallSize, kInk});
  }
  const std::string u_name = slice.view == View::side ? "y: front to back, " : "x: left to right, ";
  const std::string v_name = slice.view == View::plan ? "y: front to back, " : "z: height, ";
  const std::string across = u_name + unit.name(), up = v_name + unit.name();
  canvas.text({plot.centre().x - text_width(across, kSmallSize) / 2, bottom + 8 + height}, across,
              {kSmallSize, kMuted});
  TextStyle upward{kSmallSize, kMuted};
  upward.upward = true;
  canvas.text({10, plot.centre().y - text_width(up, kSmallSize) / 2}, up, upward);
}

void draw_words(Canvas& canvas, const Survey& survey, const std::string& heading, const std::string& caption,
                const std::string& title, const std::string& what, const MapLayout& layout) {
  const double left = 22, room = layout.width - 2 * left;
  canvas.text({left, 12}, text_that_fits(heading, kTitleSize, room), {kTitleSize, kInk});
  canvas.text({left, 39}, text_that_fits(caption, kCaptionSize, room), {kCaptionSize, kInk});
  canvas.text({left, 61}, text_that_fits(title, kSmallSize, room), {kSmallSize, kMuted});

  const LengthUnit length(survey.scene.length_unit);
  const Vec3 cell = survey.grid.front().cell;
  const std::string cells =
      length.number(cell.x()) + " x " + length.number(cell.y()) + " x " + length.text(cell.z());
  canvas.text(
      {left, layout.height - 46.0},
      text_that_fits(what + " over cells of " + cells + ", sensor facing up, smoothed.", kSmallSize, room),
      {kSmallSize, kMuted});
  canvas.text({left, layout.height - 26.0}, "Estimates: the meter decides.", {kSmallSize, kInk});
}

std::string map_heading(Quantity quantity) {
  const std::string unit = pretty_unit(quantity);
  return heading_name(quantity) + (unit.empty() ? "" : ", " + unit);
}

}  // namespace boughlight
