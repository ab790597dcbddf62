#include "report/map.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <regex>

#include "report/map_frame.h"
#include "report/map_legend.h"
#include "report/map_scene.h"
#include "report/map_signs.h"
#include "report/map_style.h"
#include "units/units.h"

namespace boughlight {

using namespace map_style;

namespace {

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

}  // namespace

MapPicture draw_map(const Survey& survey, Quantity quantity, const Slice& slice, const ColourScale& scale) {
  const std::vector<MapLimit> limits = limits_of(survey.scene, quantity);
  // Room for a legend with every sign; what is not needed is cut off at the end.
  const double roomy = legend_height(limits.size(), static_cast<std::size_t>(MapSign::blocked) + 1);
  const MapLayout layout = layout_of(MapScene::extent_m(survey, slice.view), roomy);
  MapPicture picture{layout, {}, Canvas(layout.width, layout.height, kPaper)};
  Canvas& canvas = picture.canvas;
  const SliceField values(survey, quantity, slice);
  const ShownField field{[&](double u, double v) { return values.value(u, v); }, values.boxes()};
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
                   6);
  }
  for (const auto& [level, paths] : thin) {
    const Rgb colour = thin_line_colour(scale, level), halo = scale.colour(level);
    label_contours(canvas, placer, paths, tick_text(level), {kSmallSize, colour, 2, halo}, 1, 12);
  }

  legend.signs = scene.signs();
  if (blocked) legend.signs.insert(MapSign::blocked);
  picture.layout.height = height_with(layout.plot, legend_height(limits.size(), legend.signs.size()));
  canvas.crop_to_height(picture.layout.height);
  draw_axes(canvas, survey, slice, layout);
  draw_words(canvas, survey, map_heading(quantity), slice.caption, survey.scene.title, "Means",
             picture.layout);
  picture.colour_bar = draw_legend(canvas, {layout.plot.x1 + 24, layout.plot.y0}, legend);
  return picture;
}

std::vector<MapFile> map_files(const Survey& survey) {
  const std::vector<Slice> slices = slices_of(survey);
  std::array<ColourScale, kMappedQuantities.size()> scales;
  for (std::size_t q = 0; q < kMappedQuantities.size(); ++q)
    scales[q] = map_scale(survey, kMappedQuantities[q]);
  std::vector<MapFile> files(kMappedQuantities.size() * slices.size());
  tbb::parallel_for(std::size_t{0}, files.size(), [&](std::size_t i) {
    const std::size_t q = i / slices.size();
    const Slice& slice = slices[i % slices.size()];
    files[i].name = std::string(info(kMappedQuantities[q]).name) + "-" + slice.name + ".png";
    files[i].bytes = draw_map(survey, kMappedQuantities[q], slice, scales[q]).canvas.png();
  });
  return files;
}

bool is_map_file_name(const std::string& name) {
  static const std::regex pattern = [] {
    std::string quantities;
    for (const Quantity quantity : kMappedQuantities)
      quantities += (quantities.empty() ? "" : "|") + std::string(info(quantity).name);
    return std::regex("(" + quantities + ")-(front|side|plan-z-?[0-9.]+(m|cm|mm|um|in|inch|ft))\\.png");
  }();
  return std::regex_match(name, pattern);
}

}  // namespace boughlight
