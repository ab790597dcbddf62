// The picture of `boughlight window`.
#include <algorithm>
#include <cmath>

#include "report/ask_words.h"
#include "report/map_style.h"
#include "report/region_picture.h"
#include "report/text.h"
#include "report/window_report.h"

namespace boughlight {

using namespace map_style;

namespace {

constexpr double kWindowTop = 110, kWindowHead = 44, kPlotHeight = 230;
constexpr std::size_t kPlots = 6;

// Outputs with something to show: the best and the declared one among them, in even steps of their order.
std::vector<std::size_t> shown_outputs(const Window& window) {
  const std::vector<double>& outputs = window.field.axes[2];
  const std::size_t layer = window.field.axes[0].size() * window.field.axes[1].size();
  const auto declared = static_cast<std::size_t>(
      std::min_element(outputs.begin(), outputs.end(),
                       [](double a, double b) { return std::abs(std::log(a)) < std::abs(std::log(b)); }) -
      outputs.begin());
  std::size_t first = declared, last = declared;
  for (std::size_t o = 0; o < outputs.size(); ++o)
    for (std::size_t i = 0; i < layer; ++i)
      if (window.region.states[o * layer + i] == ChoiceState::allowed)
        first = std::min(first, o), last = std::max(last, o);
  if (last - first + 1 < kPlots) {
    // Nothing serves, or next to nothing: what lies around is worth seeing.
    first = declared >= outputs.size() / 2 ? outputs.size() / 2 : declared;
    first = first > outputs.size() / 2 - 2 ? outputs.size() / 4 : first;
    last = std::min(outputs.size() - 1, first + outputs.size() / 2);
  }
  std::vector<std::size_t> shown;
  for (std::size_t i = 0; i < kPlots; ++i)
    shown.push_back(first + (2 * i * (last - first) + kPlots - 1) / (2 * (kPlots - 1)));
  // The nearest one gives way to what must be there.
  const auto insist = [&](std::size_t wanted) {
    *std::min_element(shown.begin(), shown.end(), [&](std::size_t a, std::size_t b) {
      const auto off = [&](std::size_t k) { return k > wanted ? k - wanted : wanted - k; };
      return off(a) < off(b);
    }) = wanted;
  };
  insist(declared);
  if (window.region.spot) insist(window.field.index(*window.region.spot)[2]);
  std::sort(shown.begin(), shown.end());
  shown.erase(std::unique(shown.begin(), shown.end()), shown.end());
  return shown;
}

std::string reading_of(const Window& window, double output) {
  if (window.readings.empty()) return "";
  const LampReading& reading = window.readings.front();
  const std::string unit = pretty_unit(reading.quantity);
  return (reading.quantity == Quantity::uvi ? "UVI " : "") + print_number(output * reading.value, 2) +
         (unit.empty() ? "" : " " + unit) + " at " +
         LengthUnit(window.scene.length_unit).text(reading.distance);
}

}  // namespace

Canvas draw_window(const Window& window) {
  const LengthUnit unit(window.scene.length_unit);
  const FigureField& field = window.field;
  const RegionPicture region(field, window.region, unit);
  const std::vector<std::size_t> shown = shown_outputs(window);
  const std::size_t rows = (shown.size() + kRegionColumns - 1) / kRegionColumns;
  const double width = region_plot_width();
  const double legend =
      kWindowTop + static_cast<double>(rows) * (kWindowHead + kPlotHeight + kRegionAxis) + 6;
  Canvas canvas(kRegionWidth,
                static_cast<int>(legend + std::max(66.0, region.legend_height()) + kRegionNotes), kPaper);
  const double room = kRegionWidth - 2 * kRegionMargin;
  const std::string lamp = printable(window.scene.lamps[window.lamp].name),
                    perch = printable(window.scene.perches[window.seat.perch].name);
  canvas.text({kRegionMargin, 12},
              text_that_fits("How strong may “" + lamp + "” be, how high, and how deep “" + perch + "”?",
                             kTitleSize, room),
              {kTitleSize, kInk});
  canvas.text({kRegionMargin, 39},
              "One chart an output; every want holds inside the line, everything else as it is",
              {kCaptionSize, kInk});
  canvas.text({kRegionMargin, 61}, text_that_fits(window.scene.title, kSmallSize, room),
              {kSmallSize, kMuted});
  const auto ticks = [&](const std::vector<double>& values, double pixels, double spacing) {
    std::vector<PlotTick> list;
    for (const double at :
         unit.ticks_m(values.front(), values.back(), std::max(2, static_cast<int>(pixels / spacing))))
      list.push_back({at, tick_text(unit.from_m(at))});
    return list;
  };
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const std::size_t column = i % kRegionColumns, row = i / kRegionColumns;
    const double x = kRegionLeft + static_cast<double>(column) * (width + kRegionBetween);
    const double y =
        kWindowTop + kWindowHead + static_cast<double>(row) * (kWindowHead + kPlotHeight + kRegionAxis);
    // Deeper is further down.
    const Plot plot{{x, y, x + width, y + kPlotHeight},
                    field.axes[0].front(),
                    field.axes[0].back(),
                    field.axes[1].back(),
                    field.axes[1].front()};
    const double output = field.axes[2][shown[i]];
    const std::string share = print_number(std::round(100 * output)) + " % of the declared output";
    canvas.text({x, y - 2 * text_height(kSmallSize) - 5}, reading_of(window, output), {kLabelSize, kInk});
    canvas.text({x, y - text_height(kSmallSize) - 3}, share, {kSmallSize, kMuted});
    region.draw(canvas, plot, shown[i]);
    if (std::abs(output - 1) < 1e-9 && window.as_it_is)
      draw_present_mark(canvas, plot.px(window.now[0], window.now[1]));
    if (window.region.spot && field.index(*window.region.spot)[2] == shown[i]) {
      const std::array<std::size_t, 3> at = field.index(*window.region.spot);
      draw_best_mark(canvas, plot.px(field.axes[0][at[0]], field.axes[1][at[1]]));
    }
    const bool leftmost = i % kRegionColumns == 0;
    frame_plot(canvas, plot, ticks(field.axes[0], width, 50),
               leftmost ? ticks(field.axes[1], kPlotHeight, 36) : std::vector<PlotTick>{},
               i + kRegionColumns >= shown.size() ? "gap above the top, " + unit.name() : "",
               leftmost ? "back below the top, " + unit.name() : "");
  }
  region.draw_legend(canvas, {kRegionMargin, legend}, room * 0.62,
                     [&](const Ask& ask) { return ask_text(window.scene, field.asks, ask); });
  double y = legend;
  const double x = kRegionMargin + room * 0.66;
  const auto sign = [&](const auto& draw, const std::string& text) {
    draw(canvas, Spot{x + 10, y + 8});
    canvas.text({x + 28, y}, text, {kSmallSize, kInk});
    y += 22;
  };
  if (window.region.spot) sign(draw_best_mark, "the most room");
  if (window.as_it_is) sign(draw_present_mark, "as it is now");
  canvas.text({kRegionMargin, canvas.height() - 26.0},
              "Readings: bare lamp, new and at 100 %, on its axis, no screen. Estimates: the meter decides.",
              {kSmallSize, kInk});
  return canvas;
}

}  // namespace boughlight
