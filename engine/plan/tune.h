// The changes to lamps with which a scene's wants are met: the fewest and smallest that do, with the greatest
// slack against the doubt.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "assess/results.h"
#include "plan/asks.h"
#include "scene/extras.h"

namespace boughlight {

// What may be changed of a lamp.
enum class TuneKind { dim, gap, place, aim, fixture };
inline constexpr std::array<TuneKind, 5> kTuneKinds = {TuneKind::dim, TuneKind::gap, TuneKind::place,
                                                       TuneKind::aim, TuneKind::fixture};
std::string_view tune_kind_name(TuneKind kind);

struct TuneControl {
  std::set<std::string> keep;                                         // lamps that stay as they are
  std::set<TuneKind> kinds = {kTuneKinds.begin(), kTuneKinds.end()};  // what may change
  bool further = false;  // look for more slack where all is met already
  int threads = 0;       // 0: all
  std::function<void(const std::string& stage, double share)> progress;
};

// One side of a want.
struct TunedAsk {
  std::string about;  // "sun perch", "closest place", "refuge, volume"
  FigureKey key;
  Ask ask;
  double before = 0, after = 0;  // the figure, by full surveys
  Verdict verdict_before = Verdict::met, verdict_after = Verdict::met;
  // How far within the limit, in standard deviations of the doubt in what was declared; below 0: beyond it.
  double slack_before = 0, slack_after = 0;
};

struct TunedChange {
  std::size_t lamp = 0;
  TuneKind kind = TuneKind::dim;
  Lamp before, after;  // the lamp as it was, and with all its changes
  // What it is for: the ask (index into asks) that would be worst off without it, and the figure then.
  std::size_t ask = 0;
  double without = 0;
};

struct Tune {
  std::vector<TunedAsk> asks;
  std::vector<TunedChange> changes;  // none: leave it as it is
  WholeVerdict before = WholeVerdict::met, after = WholeVerdict::met;
  double slack_before = 0, slack_after = 0;  // the least of all asks
  // Where wants stay unmet: those that are (index into asks), and those that would break if they were met.
  std::vector<std::size_t> unmet, against;
  std::vector<std::string> at_bounds;  // what is as far as it may be changed: "the dimmer of 'x' is at 100 %"
  std::size_t layouts = 0, surveys = 0;  // looked at
};

// Fixed by the scene, whatever the threads. Throws InputError where the scene asks for nothing, or names are
// wrong.
Tune tune_lamps(const PlannedScene& planned, const TuneControl& control);

// The scene's file with the changes made.
std::string tuned_scene_text(const PlannedScene& planned, const Tune& tune);

}  // namespace boughlight
