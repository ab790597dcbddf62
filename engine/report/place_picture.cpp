// The picture of `boughlight place`.
#include <algorithm>
#include <cmath>

#include "report/ask_words.h"
#include "report/map_legend.h"
#include "report/map_signs.h"
#include "report/map_style.h"
#include "report/place_report.h"
#include "report/region_picture.h"
#include "report/text.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr double kPlaceTop = 96, kPlaceHead = 26;

// Plots in rows of three, all of the top's shape.
class Tiles {
 public:
  Tiles(const PlaceMap& map, double top)
      : map_(map),
        top_(top),
        width_(region_plot_width()),
        height_(std::clamp(std::round(width_ * (map.top.y1 - map.top.y0) / (map.top.x1 - map.top.x0)), 80.0,
                           420.0)) {}
  Plot plot(std::size_t number) const {
    const std::size_t row = number / kRegionColumns;
    const double x = kRegionLeft + static_cast<double>(number % kRegionColumns) * (width_ + kRegionBetween);
    const double y = top_ + kPlaceHead + static_cast<double>(row) * pitch();
    return {{x, y, x + width_, y + height_}, map_.top.x0, map_.top.x1, map_.top.y0, map_.top.y1};
  }
  double bottom(std::size_t count) const {
    return top_ + std::ceil(static_cast<double>(count) / static_cast<double>(kRegionColumns)) * pitch();
  }

 private:
  double pitch() const { return kPlaceHead + height_ + kRegionAxis; }
  const PlaceMap& map_;
  double top_, width_, height_;
};

void frame(Canvas& canvas, const PlaceMap& map, const Plot& plot, bool leftmost, bool named) {
  const LengthUnit unit(map.scene.length_unit);
  const auto ticks = [&](double low, double high, double pixels, double spacing) {
    std::vector<PlotTick> list;
    for (const double at : unit.ticks_m(low, high, std::max(2, static_cast<int>(pixels / spacing))))
      list.push_back({at, tick_text(unit.from_m(at))});
    return list;
  };
  frame_plot(canvas, plot, ticks(plot.u0, plot.u1, plot.area.width(), 50),
             leftmost ? ticks(plot.v0, plot.v1, plot.area.height(), 36) : std::vector<PlotTick>{},
             named ? "x: left to right, " + unit.name() : "",
             leftmost ? "y: front to back, " + unit.name() : "");
}

// The other lamps, as seen from above.
void draw_others(Canvas& canvas, const PlaceMap& map, const Plot& plot) {
  const double px_per_m = plot.area.width() / (plot.u1 - plot.u0);
  canvas.clip_to(plot.area);
  for (std::size_t i = 0; i < map.scene.lamps.size(); ++i) {
    if (i == map.lamp) continue;
    const Lamp& lamp = map.scene.lamps[i];
    const Spot centre = plot.px(lamp.at.x(), lamp.at.y());
    Path outline;
    for (const Spot& corner : lamp_outline(lamp, View::plan))
      outline.push_back({centre.x + corner.x * px_per_m, centre.y - corner.y * px_per_m});
    canvas.stroke(closed(outline), {3.5, kPaper, 0.75});
    canvas.stroke(closed(outline), {1.4, kLampEdge});
  }
  canvas.clip_to_all();
}

void draw_marks(Canvas& canvas, const PlaceMap& map, const Plot& plot, double gap) {
  constexpr double kSame = 1e-6;
  if (map.present && std::abs(map.present->gap - gap) < kSame)
    draw_present_mark(canvas, plot.px(map.present->x, map.present->y));
  if (map.spot && std::abs(map.spot->gap - gap) < kSame)
    draw_best_mark(canvas, plot.px(map.spot->x, map.spot->y));
}

std::size_t shown_layer(const PlaceMap& map) {
  if (!map.spot) return 0;
  const auto found = std::find(map.lattice.gap.begin(), map.lattice.gap.end(), map.spot->gap);
  return static_cast<std::size_t>(found - map.lattice.gap.begin());
}

// One figure over the top at the shown gap, with its limits.
void draw_figure(Canvas& canvas, const PlaceMap& map, const Plot& plot, std::size_t figure) {
  const FigureKey& key = map.field.asks.figures[figure];
  const double size = key.kind == FigureKind::share ? 100 : 1;
  PlaneValues values{&map.lattice.x, &map.lattice.y, {}};
  const std::size_t first = shown_layer(map) * map.lattice.in_layer();
  for (std::size_t i = 0; i < map.lattice.in_layer(); ++i)
    values.values.push_back(std::max(0.0, size * map.field.figure(first + i, figure).value));
  const auto [low, high] = std::minmax_element(values.values.begin(), values.values.end());
  // From the least to the greatest on this map, since what moving changes is what it is for; but a tenth at
  // least, so that what is left to chance has no colour.
  const ColourScale scale{Spacing::linear, std::min(*low, 0.9 * *high), std::max(*high, 1e-9)};
  paint_plot(canvas, plot, [&](double u, double v, int, int) { return scale.colour(values.at(u, v)); });
  canvas.clip_to(plot.area);
  LabelPlacer placer(plot.area);
  const auto value = [&](double u, double v) { return values.at(u, v); };
  const auto label = [&](const std::vector<Path>& paths, const std::string& text, const TextStyle& style) {
    for (std::size_t i = 0; i < std::min<std::size_t>(2, paths.size()); ++i)
      if (const auto box = placer.on(paths[i], text_width(text, style.size) + 4, text_height(style.size)))
        canvas.text({box->x0 + 2, box->y0}, text, style);
  };
  std::vector<std::pair<std::vector<Path>, std::string>> limits;
  for (const Ask& ask : map.field.asks.asks) {
    if (ask.figure != figure) continue;
    const std::vector<Path> paths = plot_contours(plot, value, size * ask.limit);
    stroke_cased(canvas, paths,
                 limit_stroke(ask.at_least ? MapLimit::Kind::at_least : MapLimit::Kind::at_most));
    limits.emplace_back(paths, (ask.at_least ? "≥ " : "≤ ") + print_number(size * ask.limit));
  }
  for (const auto& [paths, text] : limits) label(paths, text, {kSmallSize, kInk, 3, kPaper});
  for (const double level : nice_ticks(*low, *high, 5)) {
    const bool is_limit =
        std::any_of(map.field.asks.asks.begin(), map.field.asks.asks.end(), [&](const Ask& ask) {
          return ask.figure == figure && std::abs(size * ask.limit - level) < 1e-9 * level;
        });
    if (is_limit || level <= *low || *high < 1.02 * *low) continue;
    const std::vector<Path> paths = plot_contours(plot, value, level);
    canvas.stroke(paths, {1, thin_line_colour(scale, level), 0.7});
    label(paths, tick_text(level), {kSmallSize, thin_line_colour(scale, level), 2, scale.colour(level)});
  }
  canvas.clip_to_all();
}

std::string heading(const PlaceMap& map, std::size_t figure) {
  const FigureKey& key = map.field.asks.figures[figure];
  const std::string unit = key.kind == FigureKind::share ? "%" : pretty_unit(key.quantity);
  return figure_name(map.scene, key) + (unit.empty() ? "" : ", " + unit);
}

}  // namespace

Canvas draw_place(const PlaceMap& map) {
  const LengthUnit unit(map.scene.length_unit);
  const RegionPicture region(map.field, map.region, unit);
  const std::size_t layers = map.lattice.gap.size();
  std::vector<std::size_t> figures;
  for (std::size_t f = 0; f < map.changed.size(); ++f)
    if (map.changed[f]) figures.push_back(f);

  const Tiles tops(map, kPlaceTop);
  const double legend = tops.bottom(layers) + 6;
  const double second = legend + std::max(region.legend_height(), 3 * 21.0) + 44;
  const Tiles tiles(map, second);
  const double bottom = figures.empty() ? legend + region.legend_height() : tiles.bottom(figures.size());
  Canvas canvas(kRegionWidth, static_cast<int>(bottom + kRegionNotes), kPaper);
  const double room = kRegionWidth - 2 * kRegionMargin;
  const std::string name = printable(map.scene.lamps[map.lamp].name);
  canvas.text({kRegionMargin, 12}, text_that_fits("Where may “" + name + "” hang?", kTitleSize, room),
              {kTitleSize, kInk});
  canvas.text({kRegionMargin, 39},
              "The top seen from above, the back at the top of each map, everything else as it is",
              {kCaptionSize, kInk});
  canvas.text({kRegionMargin, 61}, text_that_fits(map.scene.title, kSmallSize, room), {kSmallSize, kMuted});

  for (std::size_t layer = 0; layer < layers; ++layer) {
    const Plot plot = tops.plot(layer);
    canvas.text({plot.area.x0, plot.area.y0 - text_height(kLabelSize) - 3},
                "Gap " + unit.text(map.lattice.gap[layer]), {kLabelSize, kInk});
    region.draw(canvas, plot, layer);
    draw_others(canvas, map, plot);
    draw_marks(canvas, map, plot, map.lattice.gap[layer]);
    frame(canvas, map, plot, layer % 3 == 0, layer + 3 >= layers);
  }
  region.draw_legend(canvas, {kRegionMargin, legend}, room * 0.62,
                     [&](const Ask& ask) { return ask_text(map.scene, map.field.asks, ask); });
  // What the marks are, to the right of it.
  double y = legend;
  const double x = kRegionMargin + room * 0.66;
  const auto sign = [&](const auto& draw, const std::string& text) {
    draw(canvas, Spot{x + 10, y + 8});
    canvas.text({x + 28, y}, text_that_fits(text, kSmallSize, kRegionWidth - kRegionMargin - x - 28),
                {kSmallSize, kInk});
    y += 22;
  };
  if (map.spot)
    sign(draw_best_mark, map.region.allowed > 0 ? "best place" : "where the least has to give way");
  if (map.present) sign(draw_present_mark, "where it hangs now");
  if (map.scene.lamps.size() > 1)
    sign(
        [](Canvas& on, const Spot& spot) {
          on.stroke(closed(rect_path({spot.x - 8, spot.y - 4, spot.x + 8, spot.y + 4})), {1.4, kLampEdge});
        },
        "other lamps");

  if (!figures.empty())
    canvas.text({kRegionMargin, second - 30},
                "What each figure would be with the lamp hung there, at a gap of " +
                    unit.text(map.lattice.gap[shown_layer(map)]),
                {kCaptionSize, kInk});
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Plot plot = tiles.plot(i);
    canvas.text({plot.area.x0, plot.area.y0 - text_height(kSmallSize) - 4},
                text_that_fits(heading(map, figures[i]), kSmallSize, plot.area.width()), {kSmallSize, kInk});
    draw_figure(canvas, map, plot, figures[i]);
    draw_marks(canvas, map, plot, map.lattice.gap[shown_layer(map)]);
    frame(canvas, map, plot, i % 3 == 0, i + 3 >= figures.size());
  }
  canvas.text({kRegionMargin, canvas.height() - 26.0}, "Estimates: the meter decides.", {kSmallSize, kInk});
  return canvas;
}

}  // namespace boughlight
