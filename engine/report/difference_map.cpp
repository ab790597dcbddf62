#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/judge.h"
#include "report/compare_report.h"
#include "report/map_frame.h"
#include "report/map_legend.h"
#include "report/map_scene.h"
#include "report/map_signs.h"
#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

namespace {

// Signs stand so far apart, px, and only where the colour is this share of the scale away from the middle.
constexpr double kSignSpacing = 34, kLeastShare = 0.04;

// One layout's figure and its standard error on a slice.
struct FigureOnSlice {
  SliceField value, se;
  FigureOnSlice(const Survey& survey, Quantity quantity, const Slice& slice)
      : value(survey, quantity, slice),
        se(
            survey, [quantity](const Cell& cell) { return cell.up[static_cast<std::size_t>(quantity)].se; },
            slice) {}
};

std::optional<double> difference(const std::optional<double>& first, const std::optional<double>& second) {
  if (!first || !second) return std::nullopt;
  return *second - *first;
}

// Plus and minus signs, which tell the two sides of the scale apart where the colours do not.
void put_signs(Canvas& canvas, const FigureOnSlice& first, const FigureOnSlice& second,
               const MapLayout& layout, const ColourScale& scale, LabelPlacer& placer,
               std::set<MapSign>& signs) {
  bool shifted = false;
  for (double y = layout.plot.y0 + kSignSpacing / 2; y < layout.plot.y1;
       y += kSignSpacing / 2, shifted = !shifted)
    for (double x = layout.plot.x0 + (shifted ? 0.75 : 0.25) * kSignSpacing; x < layout.plot.x1;
         x += kSignSpacing) {
      const double u = layout.u_at(x), v = layout.v_at(y);
      const auto change = difference(first.value.value(u, v), second.value.value(u, v));
      if (!change || std::abs(*change) < kLeastShare * scale.high) continue;
      const double se = std::hypot(first.se.value(u, v).value_or(0), second.se.value(u, v).value_or(0));
      if (std::abs(*change) <= kIntervalFactor * se || !placer.at({x, y}, 10, 10)) continue;
      draw_change_mark(canvas, {x, y}, *change > 0, thin_line_colour(scale, *change));
      signs.insert(*change > 0 ? MapSign::rises : MapSign::falls);
    }
}

// The cell of a grid that holds a place; nothing outside it.
const Cell* cell_at(const Survey& survey, const Vec3& place) {
  for (const GridBox& box : survey.grid) {
    std::array<int, 3> index{};
    bool inside = true;
    for (int axis = 0; axis < 3; ++axis) {
      const auto a = static_cast<std::size_t>(axis);
      index[a] = static_cast<int>(std::floor((place[axis] - box.corner[axis]) / box.cell[axis]));
      inside = inside && index[a] >= 0 && index[a] < box.count[a];
    }
    if (!inside) continue;
    const int row = index[1] + box.count[1] * index[2];
    return &survey.cells[box.first + static_cast<std::size_t>(index[0] + box.count[0] * row)];
  }
  return nullptr;
}

}  // namespace

ColourScale difference_scale(const Survey& first, const Survey& second, Quantity quantity) {
  std::vector<double> changes;
  for (const Cell& cell : second.cells) {
    const Cell* was = cell_at(first, cell.centre);
    if (!was || was->free_share <= 0 || cell.free_share <= 0) continue;
    const auto q = static_cast<std::size_t>(quantity);
    changes.push_back(cell.up[q].value - was->up[q].value);
  }
  return change_scale(changes);
}

MapPicture draw_difference(const Survey& first, const Survey& second, Quantity quantity, const Slice& slice,
                           const ColourScale& scale) {
  const double roomy = legend_height(0, static_cast<std::size_t>(MapSign::blocked) + 1);
  const MapLayout layout = layout_of(MapScene::extent_m(second, slice.view), roomy);
  MapPicture picture{layout, {}, Canvas(layout.width, layout.height, kPaper)};
  Canvas& canvas = picture.canvas;
  const FigureOnSlice was(first, quantity, slice), is(second, quantity, slice);
  const ShownField field{
      [&](double u, double v) { return difference(was.value.value(u, v), is.value.value(u, v)); },
      is.value.boxes()};
  const Lattice lattice = lattice_of(field, layout);
  const bool blocked = paint_field(canvas, field, lattice, layout, scale);
  MapScene scene(second, quantity, slice, layout);
  LabelPlacer placer(layout.plot);
  canvas.clip_to(layout.plot);
  // Lines of equal change: unbroken where it is more, dashed where it is less.
  std::vector<std::pair<double, std::vector<Path>>> lines;
  for (const double level : scale.ticks()) {
    if (level == 0) continue;
    Stroke stroke{1, thin_line_colour(scale, level), 0.7};
    if (level < 0) stroke.dash = stroke.gap = 5;
    lines.emplace_back(level, visible_contours(lattice, level));
    canvas.stroke(lines.back().second, stroke);
  }
  scene.draw_below(canvas);
  scene.draw_above(canvas, placer);
  for (const auto& [level, paths] : lines)
    label_contours(canvas, placer, paths, signed_tick_text(level),
                   {kSmallSize, thin_line_colour(scale, level), 2, scale.colour(level)}, 1, 12);
  Legend legend{quantity, scale, {}, scene.signs()};
  put_signs(canvas, was, is, layout, scale, placer, legend.signs);
  canvas.clip_to_all();
  if (blocked) legend.signs.insert(MapSign::blocked);
  picture.layout.height = height_with(layout.plot, legend_height(0, legend.signs.size()));
  canvas.crop_to_height(picture.layout.height);
  draw_axes(canvas, second, slice, layout);
  const auto [from, to] = layout_names(first, second);
  draw_words(canvas, second, "Change: " + map_heading(quantity), slice.caption, from + " to " + to,
             "Change of the means", picture.layout);
  picture.colour_bar = draw_legend(canvas, {layout.plot.x1 + 24, layout.plot.y0}, legend);
  return picture;
}

std::vector<MapFile> difference_maps(const Compared& compared) {
  if (compared.first.grid.empty()) return {};
  const std::vector<Slice> slices = slices_of(compared.second);
  std::array<ColourScale, kMappedQuantities.size()> scales;
  for (std::size_t q = 0; q < kMappedQuantities.size(); ++q)
    scales[q] = difference_scale(compared.first, compared.second, kMappedQuantities[q]);
  std::vector<MapFile> files(kMappedQuantities.size() * slices.size());
  tbb::parallel_for(std::size_t{0}, files.size(), [&](std::size_t i) {
    const std::size_t q = i / slices.size();
    const Slice& slice = slices[i % slices.size()];
    files[i].name = "change-" + std::string(info(kMappedQuantities[q]).name) + "-" + slice.name + ".png";
    files[i].bytes =
        draw_difference(compared.first, compared.second, kMappedQuantities[q], slice, scales[q]).canvas.png();
  });
  return files;
}

bool is_difference_map_name(const std::string& name) {
  constexpr std::string_view kStart = "change-";
  return name.starts_with(kStart) && is_map_file_name(name.substr(kStart.size()));
}

}  // namespace boughlight
