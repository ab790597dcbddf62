#include "report/map.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <regex>

#include "report/contour.h"
#include "report/labels.h"
#include "report/map_legend.h"
#include "report/map_scene.h"
#include "report/map_signs.h"
#include "report/map_style.h"
#include "units/units.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr std::array<Quantity, 3> kMapped = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};

// Room around the plot for the headings, the axes, the legend and the notes, px.
constexpr double kLeft = 70, kRight = kLegendWidth + 40, kTop = 92, kAxis = 46, kNotes = 54;
constexpr int kLeastWidth = 640;

int height_with(const Rect& plot, double legend) {
  return static_cast<int>(std::max(plot.y1 + kAxis, plot.y0 + legend + 12) + kNotes);
}

MapLayout layout_of(const Rect& extent, double legend) {
  MapLayout layout;
  layout.px_per_m = std::min((kLongSide - kLeft - kRight) / extent.width(),
                             (kLongSide - kTop - kAxis - kNotes) / extent.height());
  layout.u0 = extent.x0;
  layout.v0 = extent.y0;
  layout.plot = {kLeft, kTop, kLeft + std::round(extent.width() * layout.px_per_m),
                 kTop + std::round(extent.height() * layout.px_per_m)};
  layout.width = std::max(kLeastWidth, static_cast<int>(layout.plot.x1 + kRight));
  layout.height = height_with(layout.plot, legend);
  return layout;
}

Lattice lattice_of(const SliceField& field, const MapLayout& layout) {
  Lattice lattice{{layout.plot.x0, layout.plot.y0}, 2, 0, 0, {}};
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

// Colours every pixel of the plot that lies in a box; returns whether any was without a value. Between the
// lattice's knots, two pixels apart, the field is as good as bilinear.
bool paint_field(Canvas& canvas, const SliceField& field, const Lattice& lattice, const MapLayout& layout,
                 const ColourScale& scale) {
  bool blocked = false;
  const int x0 = static_cast<int>(layout.plot.x0), y0 = static_cast<int>(layout.plot.y0);
  for (int y = y0; y < static_cast<int>(layout.plot.y1); ++y) {
    const double t = (y + 0.5 - lattice.origin.y) / lattice.step;
    const int j = std::min(static_cast<int>(t), lattice.rows - 2);
    for (int x = x0; x < static_cast<int>(layout.plot.x1); ++x) {
      const double s = (x + 0.5 - lattice.origin.x) / lattice.step;
      const int i = std::min(static_cast<int>(s), lattice.columns - 2);
      const double upper = std::lerp(lattice.at(i, j), lattice.at(i + 1, j), s - i);
      const double lower = std::lerp(lattice.at(i, j + 1), lattice.at(i + 1, j + 1), s - i);
      std::optional<double> value = std::lerp(upper, lower, t - j);
      // At the rim of a box or of a blocked cell a knot is missing.
      const double u = layout.u_at(x + 0.5), v = layout.v_at(y + 0.5);
      if (std::isnan(*value)) value = field.value(u, v);
      if (value) {
        canvas.set(x, y, scale.colour(*value));
      } else if (field.inside(u, v)) {
        blocked = true;
        canvas.set(x, y, is_hatch_line(x, y) ? kHatch : kHatchGround);
      }
    }
  }
  return blocked;
}

// Values of the thin lines: the scale's ticks; where at most one of them lies in this slice, round values of
// its own.
std::vector<double> thin_levels(const Lattice& lattice, const ColourScale& scale) {
  double low = std::numeric_limits<double>::max(), high = 0;
  for (const double value : lattice.value) {
    if (std::isnan(value)) continue;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  std::vector<double> levels;
  for (const double tick : scale.ticks()) {
    if (tick > low && tick < high) levels.push_back(tick);
  }
  // A field that varies by less than a tenth has no shape worth lines.
  return levels.size() > 1 || high <= 1.1 * low ? levels : nice_ticks(low, high, 5);
}

// Contours of which short scraps, as where a line grazes a wall, are left out.
std::vector<Path> visible_contours(const Lattice& lattice, double level) {
  std::vector<Path> paths = contour_lines(lattice, level);
  std::erase_if(paths, [](const Path& path) { return path.size() < 4; });
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

void draw_words(Canvas& canvas, const Survey& survey, Quantity quantity, const Slice& slice,
                const MapLayout& layout) {
  const double left = 22, room = layout.width - 2 * left;
  const std::string unit = pretty_unit(quantity);
  const std::string heading = heading_name(quantity) + (unit.empty() ? "" : ", " + unit);
  canvas.text({left, 12}, text_that_fits(heading, kTitleSize, room), {kTitleSize, kInk});
  canvas.text({left, 39}, text_that_fits(slice.caption, kCaptionSize, room), {kCaptionSize, kInk});
  canvas.text({left, 61}, text_that_fits(survey.scene.title, kSmallSize, room), {kSmallSize, kMuted});

  const LengthUnit length(survey.scene.length_unit);
  const Vec3 cell = survey.grid.front().cell;
  const std::string cells =
      length.number(cell.x()) + " x " + length.number(cell.y()) + " x " + length.text(cell.z());
  canvas.text(
      {left, layout.height - 46.0},
      text_that_fits("Means over cells of " + cells + ", sensor facing up, smoothed.", kSmallSize, room),
      {kSmallSize, kMuted});
  canvas.text({left, layout.height - 26.0}, "Estimates: the meter decides.", {kSmallSize, kInk});
}

}  // namespace

MapPicture draw_map(const Survey& survey, Quantity quantity, const Slice& slice, const ColourScale& scale) {
  const std::vector<MapLimit> limits = limits_of(survey.scene, quantity);
  // Room for a legend with every sign; what is not needed is cut off at the end.
  const double roomy = legend_height(limits.size(), static_cast<std::size_t>(MapSign::blocked) + 1);
  const MapLayout layout = layout_of(MapScene::extent_m(survey, slice.view), roomy);
  MapPicture picture{layout, {}, Canvas(layout.width, layout.height, kPaper)};
  Canvas& canvas = picture.canvas;
  const SliceField field(survey, quantity, slice);
  const Lattice lattice = lattice_of(field, layout);

  const bool blocked = paint_field(canvas, field, lattice, layout, scale);
  MapScene scene(survey, quantity, slice, layout);
  LabelPlacer placer(layout.plot);
  canvas.clip_to(layout.plot);

  std::vector<std::pair<double, std::vector<Path>>> thin;
  for (const double level : thin_levels(lattice, scale)) {
    const bool is_limit = std::any_of(limits.begin(), limits.end(), [&](const MapLimit& limit) {
      return std::abs(limit.value - level) < 1e-9 * level;
    });
    if (is_limit) continue;
    thin.emplace_back(level, visible_contours(lattice, level));
    canvas.stroke(thin.back().second, {1, thin_line_colour(scale, level), 0.6});
  }
  scene.draw_below(canvas);

  Legend legend{quantity, scale, {}, {}};
  std::vector<std::vector<Path>> thick;
  for (const MapLimit& limit : limits) {
    thick.push_back(visible_contours(lattice, limit.value));
    legend.limits.push_back({limit, !thick.back().empty()});
    stroke_cased(canvas, thick.back(), limit_stroke(limit.kind));
  }
  if (legend.limits.size() > kMostLegendLimits) {
    // What is cut off the list should not be what matters most here.
    const auto weight = [](const LegendLimit& l) {
      return l.limit.kind == MapLimit::Kind::never ? 0 : l.in_view ? 1 : 2;
    };
    std::stable_sort(legend.limits.begin(), legend.limits.end(),
                     [&](const LegendLimit& a, const LegendLimit& b) { return weight(a) < weight(b); });
  }
  scene.draw_above(canvas, placer);
  for (std::size_t i = 0; i < limits.size(); ++i) {
    label_contours(canvas, placer, thick[i], print_number(limits[i].value), {kLabelSize, kInk, 3, kPaper}, 3,
                   12);
  }
  for (const auto& [level, paths] : thin) {
    const Rgb colour = thin_line_colour(scale, level), halo = scale.colour(level);
    label_contours(canvas, placer, paths, tick_text(level), {kSmallSize, colour, 2, halo}, 1, 25);
  }

  legend.signs = scene.signs();
  if (blocked) legend.signs.insert(MapSign::blocked);
  picture.layout.height = height_with(layout.plot, legend_height(limits.size(), legend.signs.size()));
  canvas.crop_to_height(picture.layout.height);
  draw_axes(canvas, survey, slice, layout);
  draw_words(canvas, survey, quantity, slice, picture.layout);
  picture.colour_bar = draw_legend(canvas, {layout.plot.x1 + 24, layout.plot.y0}, legend);
  return picture;
}

std::vector<MapFile> map_files(const Survey& survey) {
  const std::vector<Slice> slices = slices_of(survey);
  std::array<ColourScale, kMapped.size()> scales;
  for (std::size_t q = 0; q < kMapped.size(); ++q) scales[q] = map_scale(survey, kMapped[q]);
  std::vector<MapFile> files(kMapped.size() * slices.size());
  tbb::parallel_for(std::size_t{0}, files.size(), [&](std::size_t i) {
    const std::size_t q = i / slices.size();
    const Slice& slice = slices[i % slices.size()];
    files[i].name = std::string(info(kMapped[q]).name) + "-" + slice.name + ".png";
    files[i].bytes = draw_map(survey, kMapped[q], slice, scales[q]).canvas.png();
  });
  return files;
}

bool is_map_file_name(const std::string& name) {
  static const std::regex pattern(
      "(uvi|ppfd|irradiance)-(front|side|plan-z-?[0-9.]+(m|cm|mm|um|in|inch|ft))\\.png");
  return std::regex_match(name, pattern);
}

}  // namespace boughlight
