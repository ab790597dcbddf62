#include <algorithm>
#include <cctype>
#include <cmath>

#include "assess/judge.h"
#include "report/labels.h"
#include "report/map_style.h"
#include "report/outlook_report.h"
#include "report/text.h"
#include "units/units.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr double kOutlookLeft = 80, kOutlookRight = 96, kOutlookTop = 92, kOutlookGap = 46,
                 kOutlookPanel = 150, kOutlookAxis = 52, kOutlookNotes = 40;
constexpr std::size_t kMostLines = kLineStyles.size();

struct Line {
  std::string name;
  std::vector<double> values, errors;  // by month; errors may be empty
  std::optional<Limits> limits;
  std::optional<Failing> fails;
};

struct Chart {
  std::string heading;
  std::vector<Line> lines;
};

Line line_of(const Watched& watched) {
  Line line{watched_name(watched), {}, {}, watched.limits, watched.fails};
  for (const Figure& figure : watched.figures) {
    line.values.push_back(figure.value);
    line.errors.push_back(figure.se);
  }
  return line;
}

// One chart a quantity that is asked for (or, where nothing is, of each that is there): what fails soonest
// comes first.
void add_figures(const OutlookResult& outlook, std::vector<Chart>& charts) {
  const bool asked = std::any_of(outlook.watched.begin(), outlook.watched.end(),
                                 [](const Watched& watched) { return watched.limits.has_value(); });
  for (const QuantityInfo& about : all_quantities()) {
    std::vector<const Watched*> shown;
    for (const Watched& watched : outlook.watched)
      if (watched.quantity == about.quantity && (watched.limits || !asked)) shown.push_back(&watched);
    if (shown.empty()) continue;
    const auto month = [](const Watched* watched) {
      return watched->fails ? watched->fails->month : HUGE_VAL;
    };
    std::stable_sort(shown.begin(), shown.end(),
                     [&](const Watched* a, const Watched* b) { return month(a) < month(b); });
    shown.resize(std::min(shown.size(), kMostLines));
    const std::string unit = pretty_unit(about.quantity);
    Chart chart{heading_name(about.quantity) + (unit.empty() ? "" : ", " + unit), {}};
    chart.heading[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(chart.heading[0])));
    for (const Watched* watched : shown) chart.lines.push_back(line_of(*watched));
    charts.push_back(std::move(chart));
  }
}

void add_crowns_and_lamps(const OutlookResult& outlook, std::vector<Chart>& charts) {
  Chart crowns{"Crowns, times their radii as planted", {}};
  std::vector<const OutlookResult::PlantAhead*> plants;
  for (const auto& plant : outlook.plants) plants.push_back(&plant);
  std::stable_sort(plants.begin(), plants.end(), [](const auto* a, const auto* b) {
    return a->growth.back() / a->growth.front() > b->growth.back() / b->growth.front();
  });
  plants.resize(std::min(plants.size(), kMostLines));
  for (const auto* plant : plants)
    crowns.lines.push_back({printable(plant->name), plant->growth, {}, {}, {}});
  if (!crowns.lines.empty()) charts.push_back(std::move(crowns));

  Chart lamps{"Output of lamps, % of today's", {}};
  for (const LampAhead& lamp : outlook.lamps) {
    if (lamp.output.back() == 1 || lamps.lines.size() == kMostLines) continue;
    Line line{printable(lamp.name), lamp.output, {}, {}, {}};
    for (double& value : line.values) value *= 100;
    lamps.lines.push_back(std::move(line));
  }
  if (!lamps.lines.empty()) charts.push_back(std::move(lamps));
}

// From months and figures to pixels.
struct Axes {
  Rect plot;
  double last = 12, top = 1;

  double x(double month) const { return plot.x0 + month / last * plot.width(); }
  double y(double value) const { return plot.y1 - value / top * plot.height(); }
};

double chart_top(const Chart& chart) {
  double most = 0;
  for (const Line& line : chart.lines) {
    for (const double value : line.values) most = std::max(most, value);
    if (!line.limits) continue;
    // A limit far above all figures would flatten them.
    for (const auto& limit : {line.limits->min, line.limits->max})
      if (limit && *limit < 2.5 * *std::max_element(line.values.begin(), line.values.end()))
        most = std::max(most, *limit);
  }
  return most > 0 ? 1.15 * most : 1;
}

void draw_grid(Canvas& canvas, const Axes& axes, bool numbers) {
  for (const double month : nice_ticks(0, axes.last, 12)) {
    const double x = axes.x(month);
    canvas.stroke({{x, axes.plot.y0}, {x, axes.plot.y1}}, {1, kGrid});
    if (!numbers) continue;
    const std::string text = tick_text(month);
    canvas.stroke({{x, axes.plot.y1}, {x, axes.plot.y1 + 5}}, {1.2, kInk});
    canvas.text({x - text_width(text, kSmallSize) / 2, axes.plot.y1 + 7}, text, {kSmallSize, kInk});
  }
  for (const double tick : nice_ticks(0, axes.top, 4)) {
    const double y = axes.y(tick);
    canvas.stroke({{axes.plot.x0, y}, {axes.plot.x1, y}}, {1, kGrid});
    const std::string text = tick_text(tick);
    canvas.text({axes.plot.x0 - 9 - text_width(text, kSmallSize), y - text_height(kSmallSize) / 2}, text,
                {kSmallSize, kInk});
  }
  canvas.stroke({{axes.plot.x0, axes.plot.y1}, {axes.plot.x1, axes.plot.y1}}, {1, kInk});
}

// Limits as thin lines in their line's colour, their figures in the margin.
void draw_limits(Canvas& canvas, const Chart& chart, const Axes& axes) {
  LabelPlacer margin({axes.plot.x1, axes.plot.y0 - 20, kChartWidth, axes.plot.y1 + 20});
  for (std::size_t i = 0; i < chart.lines.size(); ++i) {
    const Line& line = chart.lines[i];
    if (!line.limits) continue;
    const auto draw = [&](const std::optional<double>& limit, const char* sign) {
      if (!limit || *limit <= 0 || *limit > axes.top) return;
      const Rgb colour = kLineStyles[i].colour;
      const double y = axes.y(*limit), height = text_height(kSmallSize);
      canvas.stroke({{axes.plot.x0, y}, {axes.plot.x1, y}}, {1.2, colour, 0.8, 2, 4});
      const std::string text = sign + print_number(*limit);
      const double width = text_width(text, kSmallSize);
      for (const double shift : {0.0, -14.0, 14.0, -28.0, 28.0})
        if (const auto box = margin.at({axes.plot.x1 + 8 + width / 2, y + shift}, width, height - 3)) {
          canvas.text({box->x0, box->centre().y - height / 2}, text, {kSmallSize, colour});
          break;
        }
    };
    draw(line.limits->min, "≥ ");
    draw(line.limits->max, "≤ ");
  }
}

// A figure's 95 % interval as a faint ribbon.
void draw_error(Canvas& canvas, const std::vector<double>& months, const Line& line, const Axes& axes,
                Rgb colour) {
  if (line.errors.empty()) return;
  Path ribbon;
  for (std::size_t k = 0; k < months.size(); ++k)
    ribbon.push_back({axes.x(months[k]), axes.y(line.values[k] + kIntervalFactor * line.errors[k])});
  for (std::size_t k = months.size(); k-- > 0;)
    ribbon.push_back(
        {axes.x(months[k]), axes.y(std::max(0.0, line.values[k] - kIntervalFactor * line.errors[k]))});
  canvas.fill(ribbon, colour, 0.16);
}

// A cross where a limit is first passed, with the month beside it.
void draw_failing(Canvas& canvas, const Line& line, const Axes& axes, Rgb colour, LabelPlacer& placer) {
  if (!line.fails) return;
  const Spot spot{axes.x(line.fails->month),
                  std::clamp(axes.y(line.fails->month > 0 ? line.fails->limit : line.values.front()),
                             axes.plot.y0, axes.plot.y1)};
  constexpr double kArm = 6;
  const std::vector<Path> cross = {{{spot.x - kArm, spot.y - kArm}, {spot.x + kArm, spot.y + kArm}},
                                   {{spot.x - kArm, spot.y + kArm}, {spot.x + kArm, spot.y - kArm}}};
  canvas.stroke(cross, {5, kPaper, 0.9});
  canvas.stroke(cross, {2.6, colour});
  const std::string text = line.fails->month > 0 ? print_number(line.fails->month, 2) : "today";
  const Rect thing{spot.x - kArm, spot.y - kArm, spot.x + kArm, spot.y + kArm};
  if (const auto box = placer.beside(thing, text_width(text, kSmallSize) + 4, text_height(kSmallSize), 4))
    canvas.text({box->x0 + 2, box->y0}, text, {kSmallSize, colour, 3, kPaper});
}

void draw_names(Canvas& canvas, const Chart& chart, const std::vector<Path>& paths, const Axes& axes,
                LabelPlacer& placer) {
  const double height = text_height(kSmallSize);
  for (std::size_t i = 0; i < chart.lines.size(); ++i) {
    const std::string name = text_that_fits(chart.lines[i].name, kSmallSize, 220);
    const double width = text_width(name, kSmallSize) + 6;
    std::optional<Rect> box;
    for (const double side : {-1.0, 1.0, -2.2, 2.2}) {
      Path spots;
      for (double share = 0.06; share < 0.95; share += 0.02) {
        const double x = std::lerp(axes.plot.x0, axes.plot.x1, share);
        const auto next = std::find_if(paths[i].begin() + 1, paths[i].end() - 1,
                                       [&](const Spot& spot) { return spot.x >= x; });
        const Spot &a = *(next - 1), &b = *next;
        spots.push_back({x, std::lerp(a.y, b.y, (x - a.x) / (b.x - a.x)) + side * (height / 2 + 4)});
      }
      if (!box) box = placer.on(spots, width, height);
    }
    if (box) canvas.text({box->x0 + 3, box->y0}, name, {kSmallSize, kLineStyles[i].colour, 3, kPaper});
  }
}

void draw_chart(Canvas& canvas, const OutlookResult& outlook, const Chart& chart, const Rect& plot,
                bool last) {
  const Axes axes{plot, outlook.months.back(), chart_top(chart)};
  canvas.text({plot.x0, plot.y0 - text_height(kLabelSize) - 6}, chart.heading, {kLabelSize, kInk});
  draw_grid(canvas, axes, last);
  draw_limits(canvas, chart, axes);
  LabelPlacer placer({plot.x0, plot.y0 - 6, plot.x1, plot.y1});
  std::vector<Path> paths;
  for (std::size_t i = 0; i < chart.lines.size(); ++i) {
    draw_error(canvas, outlook.months, chart.lines[i], axes, kLineStyles[i].colour);
    Path path;
    for (std::size_t k = 0; k < outlook.months.size(); ++k)
      path.push_back({axes.x(outlook.months[k]), axes.y(chart.lines[i].values[k])});
    canvas.stroke(path, kLineStyles[i]);
    // Names keep off all lines.
    for (std::size_t k = 1; k < path.size(); ++k)
      for (double share = 0; share < 1; share += 0.125) {
        const double y = std::lerp(path[k - 1].y, path[k].y, share);
        const double x = std::lerp(path[k - 1].x, path[k].x, share);
        placer.block(Rect{x, y - 2, x + (path[k].x - path[k - 1].x) / 8, y + 2});
      }
    paths.push_back(std::move(path));
  }
  for (std::size_t i = 0; i < chart.lines.size(); ++i)
    draw_failing(canvas, chart.lines[i], axes, kLineStyles[i].colour, placer);
  draw_names(canvas, chart, paths, axes, placer);
}

}  // namespace

Canvas draw_outlook(const OutlookResult& outlook) {
  std::vector<Chart> charts;
  add_figures(outlook, charts);
  add_crowns_and_lamps(outlook, charts);
  const double height = kOutlookTop + static_cast<double>(charts.size()) * (kOutlookGap + kOutlookPanel) +
                        kOutlookAxis + kOutlookNotes;
  Canvas canvas(kChartWidth, static_cast<int>(height), kPaper);
  const double left = 22, room = kChartWidth - 2 * left;
  canvas.text({left, 12}, "The months ahead, if nothing is done", {kTitleSize, kInk});
  canvas.text(
      {left, 39},
      "Dotted: limits. Cross: the month at which one is first passed. Ribbon: 95 % by the error of the "
      "computation.",
      {kCaptionSize, kInk});
  canvas.text({left, 61}, text_that_fits(outlook.scene.title, kSmallSize, room), {kSmallSize, kMuted});
  Rect plot{kOutlookLeft, 0, kChartWidth - kOutlookRight, kOutlookTop - 16};
  for (std::size_t i = 0; i < charts.size(); ++i) {
    plot.y0 = plot.y1 + kOutlookGap;
    plot.y1 = plot.y0 + kOutlookPanel;
    draw_chart(canvas, outlook, charts[i], plot, i + 1 == charts.size());
  }
  const std::string months = "months from today";
  canvas.text({(plot.x0 + plot.x1 - text_width(months, kSmallSize)) / 2, plot.y1 + 26}, months,
              {kSmallSize, kMuted});
  canvas.text({left, height - 26}, "Estimates: the meter decides. Every figure is in outlook.csv.",
              {kSmallSize, kInk});
  return canvas;
}

}  // namespace boughlight
