#include "report/day_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/labels.h"
#include "report/map_style.h"
#include "report/text.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr double kDayLeft = 170, kDayRight = 30, kDayTop = 92, kDayRow = 26, kDayGap = 44, kDayPanel = 138,
                 kDayAxis = 50, kDayNotes = 34;
constexpr std::size_t kMostRows = 8, kMostPerches = kLineStyles.size(), kMostPlants = 3;
constexpr Rgb kNight{232, 231, 226};

struct Curve {
  std::string name;
  const std::vector<double>* values;
  std::size_t style;
};

struct Graph {
  std::string heading;
  std::vector<Curve> lines;
};

double x_of(double hour) {
  return kDayLeft + hour / 24 * (kChartWidth - kDayLeft - kDayRight);
}

double hour_of(std::size_t moment) {
  return static_cast<double>(moment) * 24 / kClockMoments;
}

double most(const std::vector<double>& values) {
  return *std::max_element(values.begin(), values.end());
}

std::size_t position_of(Quantity quantity) {
  return static_cast<std::size_t>(std::find(kClockQuantities.begin(), kClockQuantities.end(), quantity) -
                                  kClockQuantities.begin());
}

// Readings of a kind, in the survey's order.
std::vector<std::size_t> readings_of(const Survey& survey, ReadingKind kind) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < survey.readings.size(); ++i)
    if (survey.readings[i].kind == kind) found.push_back(i);
  return found;
}

std::vector<std::size_t> shown_perches(const Survey& survey) {
  std::vector<std::size_t> perches = readings_of(survey, ReadingKind::perch);
  const auto& clock = survey.day.clock.readings;
  const auto rank = [&](std::size_t i) {
    return std::pair(most(clock[i][position_of(Quantity::uvi)]), most(clock[i][position_of(Quantity::lux)]));
  };
  std::stable_sort(perches.begin(), perches.end(),
                   [&](std::size_t a, std::size_t b) { return rank(a) > rank(b); });
  perches.resize(std::min(perches.size(), kMostPerches));
  std::sort(perches.begin(), perches.end());
  return perches;
}

std::vector<std::size_t> shown_plants(const Survey& survey) {
  std::vector<std::size_t> plants = readings_of(survey, ReadingKind::plant);
  if (plants.size() <= kMostPlants) return plants;
  const auto& clock = survey.day.clock.readings;
  const std::size_t ppfd = position_of(Quantity::ppfd);
  std::stable_sort(plants.begin(), plants.end(),
                   [&](std::size_t a, std::size_t b) { return most(clock[a][ppfd]) > most(clock[b][ppfd]); });
  return {plants.front(), plants[plants.size() / 2], plants.back()};
}

std::vector<Graph> panels_of(const Survey& survey) {
  const auto lines = [&](const std::vector<std::size_t>& readings, Quantity quantity) {
    std::vector<Curve> made;
    for (std::size_t i = 0; i < readings.size(); ++i)
      made.push_back({printable(survey.readings[readings[i]].name),
                      &survey.day.clock.readings[readings[i]][position_of(quantity)], i});
    return made;
  };
  std::vector<Graph> panels;
  const auto add = [&](const std::string& heading, const std::vector<std::size_t>& readings,
                       Quantity quantity) {
    if (!readings.empty()) panels.push_back({heading, lines(readings, quantity)});
  };
  const auto perches = shown_perches(survey);
  add("UV index on the perches", perches, Quantity::uvi);
  add("Light on the perches, lx", perches, Quantity::lux);
  add("Light and heat on the perches, W/m²", perches, Quantity::irradiance);
  add("Light in the plants, µmol/(m² s)", shown_plants(survey), Quantity::ppfd);
  return panels;
}

void shade_night(Canvas& canvas, const Survey& survey, const Rect& plot) {
  const auto& dark = survey.day.clock.longest_dark;
  if (!dark) return;
  const auto shade = [&](double from_h, double to_h) {
    if (to_h > from_h) canvas.fill(Rect{x_of(from_h), plot.y0, x_of(to_h), plot.y1}, kNight);
  };
  shade(dark->from_h, std::min(dark->to_h, 24.0));
  shade(0, dark->to_h - 24);
}

void draw_hours(Canvas& canvas, const Rect& plot, bool numbers) {
  for (int hour = 0; hour <= 24; hour += 3) {
    const double x = x_of(hour);
    canvas.stroke({{x, plot.y0}, {x, plot.y1}}, {1, kGrid});
    if (!numbers) continue;
    const std::string text = print_clock_time(hour);
    canvas.stroke({{x, plot.y1}, {x, plot.y1 + 5}}, {1.2, kInk});
    canvas.text({x - text_width(text, kSmallSize) / 2, plot.y1 + 7}, text, {kSmallSize, kInk});
  }
}

void draw_sources(Canvas& canvas, const Survey& survey, const Rect& plot) {
  const auto& sources = survey.day.clock.sources;
  shade_night(canvas, survey, plot);
  draw_hours(canvas, plot, false);
  const std::size_t rows = std::min(sources.size(), kMostRows);
  for (std::size_t i = 0; i < rows; ++i) {
    const double low = plot.y0 + kDayRow * static_cast<double>(i + 1) - 4, height = kDayRow - 9;
    const std::string name =
        text_that_fits(printable(survey.scene.source_name(i)), kSmallSize, kDayLeft - 40);
    canvas.text(
        {kDayLeft - 14 - text_width(name, kSmallSize), low - height + (height - text_height(kSmallSize)) / 2},
        name, {kSmallSize, kInk});
    canvas.stroke({{plot.x0, low}, {plot.x1, low}}, {1, kGrid});
    Path shape;
    const bool ramped = i < survey.scene.lamps.size() && survey.scene.lamps[i].ramp_h > 0;
    for (std::size_t k = 0; k < kClockMoments; ++k) {
      if (!ramped && k > 0) shape.push_back({x_of(hour_of(k)), low - height * sources[i][k - 1]});
      shape.push_back({x_of(hour_of(k)), low - height * sources[i][k]});
    }
    shape.push_back({plot.x1, low - height * sources[i].back()});
    shape.push_back({plot.x1, low});
    shape.push_back({plot.x0, low});
    canvas.fill(shape, kLamp);
    shape.resize(shape.size() - 2);
    canvas.stroke(shape, {1.4, kLampEdge});
  }
}

// Moments at which a source is switched, rather than ramped.
std::vector<bool> switches_of(const Survey& survey) {
  const auto& sources = survey.day.clock.sources;
  std::vector<bool> switches(kClockMoments, false);
  for (std::size_t i = 0; i < sources.size(); ++i) {
    if (i < survey.scene.lamps.size() && survey.scene.lamps[i].ramp_h > 0) continue;
    for (std::size_t k = 1; k < kClockMoments; ++k)
      switches[k] = switches[k] || sources[i][k] != sources[i][k - 1];
  }
  return switches;
}

// A switch is upright, a ramp slants.
Path line_path(const std::vector<double>& values, const std::vector<bool>& switches, const Rect& plot,
               double top) {
  const auto y = [&](double value) { return plot.y1 - value / top * plot.height(); };
  Path path;
  for (std::size_t k = 0; k < kClockMoments; ++k) {
    if (switches[k]) path.push_back({x_of(hour_of(k)), y(values[k - 1])});
    path.push_back({x_of(hour_of(k)), y(values[k])});
  }
  path.push_back({plot.x1, y(values.back())});
  return path;
}

void draw_labels(Canvas& canvas, const Graph& panel, const std::vector<Path>& paths, const Rect& plot) {
  LabelPlacer placer({plot.x0, plot.y0 - 4, plot.x1, plot.y1});
  for (const Path& path : paths)
    for (std::size_t i = 1; i < path.size(); ++i)
      placer.block(Rect{path[i - 1].x, std::min(path[i - 1].y, path[i].y) - 2, path[i].x + 0.1,
                        std::max(path[i - 1].y, path[i].y) + 2});
  const double height = text_height(kSmallSize);
  for (std::size_t i = 0; i < panel.lines.size(); ++i) {
    const Stroke& style = kLineStyles[panel.lines[i].style];
    const std::string name = text_that_fits(panel.lines[i].name, kSmallSize, 180);
    const double width = text_width(name, kSmallSize) + 6;
    const double peak = most(*panel.lines[i].values);
    if (!(peak > 0)) continue;
    // Along the line where it is high: above it, below it, else beside its last high spot.
    double highest = plot.y1;
    for (const Spot& spot : paths[i]) highest = std::min(highest, spot.y);
    Path high;
    for (const Spot& spot : paths[i])
      if (spot.y <= std::lerp(highest, plot.y1, 0.4)) high.push_back(spot);
    std::optional<Rect> box;
    for (const double side : {-1.0, 1.0}) {
      Path spots = high;
      for (Spot& spot : spots) spot.y += side * (height / 2 + 4);
      if (!box) box = placer.on(spots, width, height);
    }
    if (!box)
      box = placer.beside(Rect{high.back().x, high.back().y, high.back().x, high.back().y}, width, height, 8);
    if (box) canvas.text({box->x0 + 3, box->y0}, name, {kSmallSize, style.colour, 3, kPaper});
  }
}

void draw_panel(Canvas& canvas, const Survey& survey, const Graph& panel, const Rect& plot, bool last) {
  double peak = 0;
  for (const Curve& line : panel.lines) peak = std::max(peak, most(*line.values));
  // Room above the highest line for its name.
  const double top = peak > 0 ? 1.2 * peak : 1;
  canvas.text({plot.x0, plot.y0 - text_height(kLabelSize) - 5}, panel.heading, {kLabelSize, kInk});
  shade_night(canvas, survey, plot);
  draw_hours(canvas, plot, last);
  for (const double tick : nice_ticks(0, top, 4)) {
    const double y = plot.y1 - tick / top * plot.height();
    canvas.stroke({{plot.x0, y}, {plot.x1, y}}, {1, kGrid});
    const std::string text = tick_text(tick);
    canvas.text({plot.x0 - 9 - text_width(text, kSmallSize), y - text_height(kSmallSize) / 2}, text,
                {kSmallSize, kInk});
  }
  canvas.stroke({{plot.x0, plot.y1}, {plot.x1, plot.y1}}, {1, kInk});
  const std::vector<bool> switches = switches_of(survey);
  std::vector<Path> paths;
  for (const Curve& line : panel.lines) {
    paths.push_back(line_path(*line.values, switches, plot, top));
    canvas.stroke(paths.back(), kLineStyles[line.style]);
  }
  draw_labels(canvas, panel, paths, plot);
}

std::string caption(const Survey& survey) {
  const auto& dark = survey.day.clock.longest_dark;
  std::string text = "Each lamp at its dim, by its own hours";
  if (dark && dark->to_h > dark->from_h)
    text += fmt::format("; shaded: the longest dark, {} h", print_number(dark->to_h - dark->from_h));
  return text + ".";
}

}  // namespace

std::optional<Canvas> draw_day(const Survey& survey) {
  const auto& sources = survey.day.clock.sources;
  if (sources.empty()) return std::nullopt;
  const std::vector<Graph> panels = panels_of(survey);
  const double strip = kDayRow * static_cast<double>(std::min(sources.size(), kMostRows));
  const double height =
      kDayTop + strip + static_cast<double>(panels.size()) * (kDayGap + kDayPanel) + kDayAxis + kDayNotes;
  Canvas canvas(kChartWidth, static_cast<int>(height), kPaper);
  const double left = 22, room = kChartWidth - 2 * left;
  canvas.text({left, 12}, "The day by the clock", {kTitleSize, kInk});
  canvas.text({left, 39}, caption(survey), {kCaptionSize, kInk});
  canvas.text({left, 61}, text_that_fits(survey.scene.title, kSmallSize, room), {kSmallSize, kMuted});
  Rect plot{kDayLeft, kDayTop, kChartWidth - kDayRight, kDayTop + strip};
  draw_sources(canvas, survey, plot);
  for (std::size_t i = 0; i < panels.size(); ++i) {
    plot.y0 = plot.y1 + kDayGap;
    plot.y1 = plot.y0 + kDayPanel;
    draw_panel(canvas, survey, panels[i], plot, i + 1 == panels.size());
  }
  canvas.text({left, height - 28}, "Estimates: the meter decides. Every perch and plant is in day.csv.",
              {kSmallSize, kInk});
  return canvas;
}

std::optional<MapFile> day_chart(const Survey& survey) {
  const std::optional<Canvas> canvas = draw_day(survey);
  return canvas ? std::optional(MapFile{kDayChartName, canvas->png()}) : std::nullopt;
}

}  // namespace boughlight
