// The terminal's text of `boughlight place`: plain ASCII but for names.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"
#include "report/ask_words.h"
#include "report/place_report.h"
#include "report/region_words.h"
#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

constexpr std::array<std::array<std::string_view, 2>, 3> kWayWords = {
    {{"left", "right"}, {"to the front", "to the back"}, {"down", "up"}}};

std::string spot_text(const LengthUnit& unit, const Hang& hang) {
  return fmt::format("{}, {}, {}", unbroken("x " + unit.number(hang.x)), unbroken("y " + unit.number(hang.y)),
                     unbroken("gap " + unit.text(hang.gap)));
}

void put_counts(std::string& out, const PlaceMap& map, const LengthUnit& unit) {
  const Region& region = map.region;
  const std::vector<double>& gaps = map.lattice.gap;
  const std::string range =
      gaps.size() == 1 ? "a gap of " + unbroken(unit.text(gaps.front()))
                       : fmt::format("{} gaps from {} to {}", gaps.size(),
                                     unbroken(unit.number(gaps.front())), unbroken(unit.text(gaps.back())));
  std::string text =
      fmt::format("Looked at {} places over the top, each at {}. ", map.lattice.in_layer(), range);
  text +=
      map.field.asks.asks.empty()
          ? "The scene asks for nothing, so one is as good as another: give wants, needs, zones or 'never'"
      : region.allowed == 0 ? std::string("At none of them does every want hold")
                            : fmt::format("At {} of {} every want holds", region.allowed, map.lattice.size());
  if (region.unsure > 0)
    text += fmt::format(", {} {} too close to call", region.unsure, region.unsure == 1 ? "is" : "are");
  if (region.blocked > 0) text += fmt::format(", at {} it would touch another lamp", region.blocked);
  put_wrapped(out, text + ".", "", "");
}

// Of the asks that the lamp has a say in.
Margin least_moved_margin(const std::vector<Figure>& figures, const PlaceMap& map) {
  Margin least;
  const Asks& asks = map.field.asks;
  for (std::size_t i = 0; i < asks.asks.size(); ++i)
    if (map.field.counts[i])
      least.sure = std::min(least.sure, margin_of(figures[asks.asks[i].figure], asks.asks[i]).sure);
  return least;
}

void put_spot(std::string& out, const PlaceMap& map, const LengthUnit& unit) {
  out += "\nBest place, with the most room on all sides\n";
  put_wrapped(out, spot_text(unit, *map.spot), "  ", "  ");
  if (map.present && least_moved_margin(map.at_present, map).met())
    put_wrapped(out, "Where it hangs now every want holds as well.", "  ", "  ");
  out += "It may be off from there by\n";
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (std::size_t up = 0; up < 2; ++up) {
      if (map.field.axes[axis].size() < 2) continue;
      put_wrapped(out, slack_text(map.scene, map.field.asks, unit, map.region.ways[axis][up]),
                  "  " + left_aligned(std::string(kWayWords[axis][up]), 13), std::string(15, ' '));
    }
}

void put_figures(std::string& out, const PlaceMap& map, const LengthUnit& unit) {
  if (!map.spot) return;
  constexpr int kName = 35, kWanted = 24, kFigure = 9;
  const Asks& asks = map.field.asks;
  out += "\n" + left_aligned("Figures", kName + 2) + left_aligned("wanted", kWanted) +
         right_aligned("now", kFigure) + right_aligned("there", kFigure) + "\n";
  for (std::size_t f = 0; f < asks.figures.size(); ++f) {
    if (!map.changed[f]) continue;
    const FigureKey& key = asks.figures[f];
    const auto number = [&](const Figure& figure) {
      return print_number(key.kind == FigureKind::share ? 100 * figure.value : figure.value);
    };
    out += "  " + left_aligned(figure_name(map.scene, key), kName - 1) + " " +
           left_aligned(wanted_text(asks, f), kWanted) +
           right_aligned(map.at_present.empty() ? "-" : number(map.at_present[f]), kFigure) +
           right_aligned(number(map.at_spot[f]), kFigure) + "\n";
  }
  if (map.region.allowed == 0)
    put_wrapped(out, "There: " + spot_text(unit, *map.spot) + ", where the least has to give way.", "  ",
                "  ");
}

// Seen from above, the back at the top, at one gap.
void put_plan(std::string& out, const PlaceMap& map, const LengthUnit& unit) {
  if (map.region.allowed == 0) return;
  constexpr std::size_t kAcross = 64;
  const Lattice3& lattice = map.lattice;
  const std::size_t layer = map.field.index(*map.region.spot)[2];
  const double width = map.top.x1 - map.top.x0, depth = map.top.y1 - map.top.y0;
  const std::size_t columns = std::min(kAcross, lattice.x.size());
  // Letters are about twice as high as wide.
  const auto rows = static_cast<std::size_t>(
      std::clamp(std::round(static_cast<double>(columns) * depth / width / 2), 4.0, 30.0));
  const auto nearest = [](std::size_t index, std::size_t count, std::size_t size) {
    return std::min(size - 1, (2 * index + 1) * size / (2 * count));
  };
  const auto place_of = [&](double value, double low, double high, std::size_t count) {
    return static_cast<std::size_t>(std::clamp((value - low) / (high - low) * static_cast<double>(count), 0.0,
                                               static_cast<double>(count - 1)));
  };
  out += "\n";
  put_wrapped(out,
              fmt::format("Slack seen from above, at a gap of {}, in {} (9: 9 and more)",
                          unbroken(unit.text(lattice.gap[layer])), unit.name()),
              "", "");
  const Hang spot = *map.spot;
  for (std::size_t row = 0; row < rows; ++row) {
    const std::size_t j = nearest(rows - 1 - row, rows, lattice.y.size());
    std::string line = "  ";
    for (std::size_t column = 0; column < columns; ++column) {
      const std::size_t place = lattice.at(nearest(column, columns, lattice.x.size()), j, layer);
      const double slack = std::min(9.0, std::floor(unit.from_m(map.region.slack[place])));
      constexpr std::array<char, 4> kSigns = {' ', '?', '.', '#'};
      const auto state = map.region.states[place];
      line += state == ChoiceState::allowed ? static_cast<char>('0' + static_cast<int>(slack))
                                            : kSigns[static_cast<std::size_t>(state)];
    }
    const auto mark = [&](const Hang& hang, char sign) {
      if (rows - 1 - place_of(hang.y, map.top.y0, map.top.y1, rows) == row)
        line[2 + place_of(hang.x, map.top.x0, map.top.x1, columns)] = sign;
    };
    if (map.present) mark(*map.present, 'o');
    mark(spot, 'X');
    out += line + "\n";
  }
  put_wrapped(out,
              fmt::format("The back is at the top. X: best place{}. '.': a want fails{}{}.",
                          map.present ? "; o: where it hangs now" : "",
                          map.region.unsure > 0 ? "; '?': too close to call" : "",
                          map.region.blocked > 0 ? "; '#': it would touch another lamp" : ""),
              "  ", "  ");
}

}  // namespace

WholeVerdict verdict_of(const PlaceMap& map) {
  return region_verdict(map.region, map.field);
}

std::string place_summary(const PlaceMap& map) {
  const LengthUnit unit(map.scene.length_unit);
  const Lamp& lamp = map.scene.lamps[map.lamp];
  const RegionWords words{
      map.scene,
      map.field,
      map.region,
      "place",
      {{{"the left", "the right"}, {"the front", "the back"}, {"smaller gaps", "greater gaps"}}},
      [&](std::size_t choice) { return spot_text(unit, map.lattice.hang(choice)); }};
  std::string out;
  put_wrapped(
      out,
      fmt::format("{}: where may {} hang?",
                  map.scene.title.empty() ? "Scene" : shortened(map.scene.title, 40), quoted(lamp.name)),
      "", "");
  put_counts(out, map, unit);
  if (map.region.allowed > 0) {
    put_spot(out, map, unit);
  } else {
    put_conflicts(out, words);
  }
  put_figures(out, map, unit);
  put_plan(out, map, unit);
  if (map.region.allowed == 0) put_openings(out, words);
  put_bindings(out, words);
  put_unchanged(out, words, map.changed);
  out += "\n";
  put_wrapped(
      out,
      fmt::format("The place is that of the emitter's middle; the gap runs from its lowest point down "
                  "to the top. Aim, dimmer, hours and all else stay as they are{}. Estimates, not "
                  "measurements: the meter decides.",
                  lamp.fixture->body ? "; the lamp's own housing throws no shadow here" : ""),
      "", "");
  return out;
}

}  // namespace boughlight
