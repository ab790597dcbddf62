// The terminal's text of `boughlight window`: plain ASCII but for names.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"
#include "report/ask_words.h"
#include "report/region_words.h"
#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "report/window_report.h"

namespace boughlight {
namespace {

std::string output_text(double output) {
  return unbroken(fmt::format("{:.0f} %", 100 * output));
}

std::string set_up_text(const LengthUnit& unit, double gap, double depth) {
  return fmt::format("{}, {}", unbroken("gap " + unit.text(gap)),
                     unbroken("back " + unit.text(depth) + " below the top"));
}

// Rounded towards the inside, so that what is printed serves.
std::string range_text(double low, double high) {
  const auto rounded = [](double value, int digits, bool up) {
    const double step = std::pow(10.0, std::floor(std::log10(value)) - digits + 1);
    constexpr double kWhole = 1e-9;
    return step * (up ? std::ceil(value / step - kWhole) : std::floor(value / step + kWhole));
  };
  constexpr int kFewDigits = 2, kMoreDigits = 3;
  const int digits =
      rounded(low, kFewDigits, true) < rounded(high, kFewDigits, false) ? kFewDigits : kMoreDigits;
  return print_number(rounded(low, digits, true)) + " to " + print_number(rounded(high, digits, false));
}

// "UVI 3.1 to 4.6 at 30 cm"
std::string reading_text(const LengthUnit& unit, const LampReading& reading, const OutputRange& range) {
  const std::string_view measured_in = info(reading.quantity).unit;
  const std::string figures = range_text(*range.least * reading.value, *range.most * reading.value) +
                              (measured_in.empty() ? "" : " " + std::string(measured_in));
  return fmt::format("{} at {}", with_name(reading.quantity, figures), unbroken(unit.text(reading.distance)));
}

std::string end_text(const Window& window, const std::optional<std::size_t>& ask, std::string_view which) {
  if (!ask) return fmt::format("{}: as far as the chart goes", which);
  return fmt::format("{}: then it fails: {}", which,
                     ask_text(window.scene, window.field.asks, window.field.asks.asks[*ask]));
}

void put_range(std::string& out, const Window& window, const LengthUnit& unit, const OutputRange& range,
               const std::string& heading) {
  out += "\n";
  put_wrapped(out, fmt::format("{} ({})", heading, set_up_text(unit, range.gap, range.depth)), "", "");
  if (!range.least) {
    put_wrapped(out, "No output of this kind of lamp serves there.", "  ! ", "    ");
    return;
  }
  constexpr std::size_t kShown = 2;
  for (std::size_t i = 0; i < std::min(kShown, window.readings.size()); ++i)
    put_wrapped(out,
                reading_text(unit, window.readings[i], range) + (i == 0 ? ", bare lamp, new, at 100 %" : ""),
                i == 0 ? "  A lamp that reads  " : "                 or  ", std::string(21, ' '));
  put_wrapped(out,
              fmt::format("That is {} to {} of what this lamp is declared to give.",
                          output_text(*range.least), output_text(*range.most)),
              "  ", "  ");
  put_wrapped(out, end_text(window, range.below, "Weaker"), "  - ", "    ");
  put_wrapped(out, end_text(window, range.above, "Stronger"), "  - ", "    ");
}

void put_slack(std::string& out, const Window& window, const LengthUnit& unit) {
  constexpr std::array<std::array<std::string_view, 2>, 2> kWays = {
      {{"lamp lower", "lamp higher"}, {"perch higher", "perch lower"}}};
  const double output = window.field.axes[2][window.field.index(*window.region.spot)[2]];
  out += "\n";
  put_wrapped(out, fmt::format("At {} of the declared output it may be off by", output_text(output)), "", "");
  for (std::size_t axis = 0; axis < 2; ++axis)
    for (std::size_t up = 0; up < 2; ++up)
      put_wrapped(out, slack_text(window.scene, window.field.asks, unit, window.region.ways[axis][up]),
                  "  " + left_aligned(std::string(kWays[axis][up]), 13), std::string(15, ' '));
}

void put_by_gap(std::string& out, const Window& window, const LengthUnit& unit) {
  const bool any = std::any_of(window.by_gap.begin(), window.by_gap.end(),
                               [](const OutputRange& range) { return range.least.has_value(); });
  if (!any || window.readings.empty()) return;
  const LampReading& reading = window.readings.front();
  out += "\n";
  put_wrapped(
      out,
      fmt::format("By gap, the back {} below the top as now: {} at {}", unbroken(unit.text(window.now[1])),
                  info(reading.quantity).label, unbroken(unit.text(reading.distance))),
      "", "");
  for (const OutputRange& range : window.by_gap)
    out += "  " + right_aligned("gap " + unit.text(range.gap), 16) + "   " +
           (range.least ? range_text(*range.least * reading.value, *range.most * reading.value)
                        : std::string("none")) +
           "\n";
}

}  // namespace

WholeVerdict verdict_of(const Window& window) {
  return region_verdict(window.region, window.field);
}

std::string window_summary(const Window& window) {
  const LengthUnit unit(window.scene.length_unit);
  const Lamp& lamp = window.scene.lamps[window.lamp];
  const std::string& perch = window.scene.perches[window.seat.perch].name;
  const RegionWords words{window.scene,
                          window.field,
                          window.region,
                          "set-up",
                          {{{"smaller gaps", "greater gaps"},
                            {"higher perches", "lower perches"},
                            {"weaker lamps", "stronger lamps"}}},
                          [&](std::size_t choice) {
                            const std::array<std::size_t, 3> at = window.field.index(choice);
                            return set_up_text(unit, window.field.axes[0][at[0]],
                                               window.field.axes[1][at[1]]) +
                                   ", " + output_text(window.field.axes[2][at[2]]) + " of the output";
                          }};
  std::string out;
  put_wrapped(
      out,
      fmt::format("{}: how strong may {} be, how high above the top, and how deep may {} be below it?",
                  window.scene.title.empty() ? "Scene" : shortened(window.scene.title, 40), quoted(lamp.name),
                  quoted(perch)),
      "", "");
  std::string counts = window.region.allowed == 0 ? std::string("At none of ")
                                                  : fmt::format("At {} of ", window.region.allowed);
  counts += fmt::format(
      "{} set-ups every want holds: {} gaps from {} to {}, {} depths of the back from {} to {} below "
      "the top, outputs from {} to {} of the declared one.",
      window.field.size(), window.field.axes[0].size(), unbroken(unit.number(window.field.axes[0].front())),
      unbroken(unit.text(window.field.axes[0].back())), window.field.axes[1].size(),
      unbroken(unit.number(window.field.axes[1].front())), unbroken(unit.text(window.field.axes[1].back())),
      output_text(window.field.axes[2].front()), output_text(window.field.axes[2].back()));
  if (window.region.unsure > 0) counts += fmt::format(" {} are too close to call.", window.region.unsure);
  put_wrapped(out, counts, "", "");
  if (window.as_it_is) put_range(out, window, unit, *window.as_it_is, "As it hangs now");
  if (window.best) {
    put_range(out, window, unit, *window.best, "With the most room");
    put_slack(out, window, unit);
  } else {
    put_conflicts(out, words);
    put_openings(out, words);
  }
  put_by_gap(out, window, unit);
  put_bindings(out, words);
  put_unchanged(out, words, window.changed);
  out += "\n";
  std::string seat = window.seat.name.empty() ? quoted(perch) + " sits on no branch or board: it moves alone"
                                              : quoted(window.seat.name) + " moves with " + quoted(perch);
  if (window.seat.perches.size() > 1) seat += ", and so do the other perches on it";
  put_wrapped(
      out,
      fmt::format("{}; plants and all else stay. The lamp keeps its place, aim, dimmer and hours; all of "
                  "its light grows or shrinks alike. Estimates, not measurements: the meter decides.",
                  seat),
      "", "");
  return out;
}

}  // namespace boughlight
