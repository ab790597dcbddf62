// How strong a lamp may be, how high above the top and how deep the perch below it, for every want to hold.
#pragma once

#include "assess/survey.h"
#include "plan/figure_field.h"
#include "plan/perch_move.h"
#include "plan/top.h"

namespace boughlight {

struct WindowChoice {
  std::optional<std::size_t> perch;  // index into Scene::perches; nothing: perch_for()
  std::vector<double> gaps;          // m; none: usual ones
  std::vector<double> depths;        // of the back below the top's plane, m; none: around the present one
};

// Shares of what the lamp is declared to give: from a quarter to four times, each step a tenth more or so.
std::vector<double> window_outputs();

// Outputs for which every want holds, at one gap and depth.
struct OutputRange {
  double gap = 0, depth = 0;                // m
  std::optional<double> least, most;        // shares of the declared output; neither where there is none
  std::optional<std::size_t> below, above;  // the asks that fail first beyond; nothing: none in the chart
};

// A reading by which such lamps are told apart: bare, in free air, on the axis, the sensor facing the lamp.
struct LampReading {
  Quantity quantity = Quantity::uvi;
  double distance = 0;  // m, from the emitter's middle
  double value = 0;     // of the lamp as declared when new and at 100 %, in the quantity's unit
};

struct Window {
  Scene scene;
  std::size_t lamp = 0;
  PerchSeat seat;
  Top top;
  // Axes: gap, depth, share of the declared output (no length).
  FigureField field;
  std::vector<char> changed;    // by figure: whether gap, depth or output change it
  std::array<double, 3> now{};  // gap (nearest that is asked for where it hangs elsewhere), depth, 1
  Region region;
  std::optional<OutputRange> as_it_is;  // where it hangs now; nothing where that is not over the top
  std::optional<OutputRange> best;      // at the recommended gap and depth
  std::vector<OutputRange> by_gap;      // at the present depth, one a gap
  std::vector<LampReading> readings;    // lamp_readings(), those of quantities that limit most first

  struct Effort {
    double seconds = 0;
    double rays = 0;
  } effort;
};

// The one of the greatest lower limit on a UV index where the lamp has any; else the one of the most lower
// limits, the first of equals. Nothing without perches.
std::optional<std::size_t> perch_for(const Scene& scene, std::size_t lamp);

// Quantities that tell such lamps apart, at 30 cm or where its maker states its output.
std::vector<LampReading> lamp_readings(const Lamp& lamp);

// The lamp keeps its place over the top; gap, output and the perch's depth change, everything else stays. One
// tracing a depth: gaps are joined to it, outputs are arithmetic. The scene has a perch.
Window find_window(const Scene& scene, std::size_t lamp, const WindowChoice& choice,
                   const SurveyControl& control = {});

}  // namespace boughlight
