// How far a figure may be off for what was declared, what was lost on the way, what breaks in a failure,
// and where to measure. Plain data, no computation.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "assess/figure.h"
#include "spectrum/emitter.h"

namespace boughlight {

// --- bands

// What may be off, each independent of the others.
enum class CauseKind {
  lamp,         // one lamp's output, as lamps of its type differ
  age,          // one lamp's output, as lamps age differently
  mesh,         // what one mesh material lets through
  reflected,    // all light that walls and leaves reflect, meshes scatter and panes mirror
  lamp_height,  // one lamp's
  height,       // the reading's own
  meter         // what a meter says too much of one quantity (meter sheet only)
};
std::string_view cause_name(CauseKind kind);  // "lamp", "age", "mesh", "reflected", "lamp_height", ...

struct CauseShare {
  CauseKind kind = CauseKind::lamp;
  std::string name;  // of the lamp or mesh; empty where the kind says it all
  double share = 0;  // of the variance of the figure's logarithm, 0..1; all together 1
};

// Where a figure lies with 95 % probability if what was declared varies by the declared spreads; the solver's
// own error and the leaves' are not in it.
struct Band {
  double low = 0, high = 0;        // value x exp(-+ 1.96 log_sd); both the value where nothing is in doubt
  double log_sd = 0;               // of the figure's natural logarithm
  std::vector<CauseShare> causes;  // greatest first; those below 0.1 % are left out
};

// The same reading with the leaves hanging elsewhere in their crowns.
struct LeafSpread {
  double mean = 0;         // over the drawings
  double relative_sd = 0;  // standard deviation over them, as a share of that mean
};

// --- losses

// One thing on the way from a lamp to a reading: what it leaves, as a factor. Nothing where all was lost
// before.
struct Loss {
  std::string_view name;
  std::optional<double> factor;
};

// One lamp's part of one figure: start x all factors = value, exactly.
struct LossChain {
  std::string lamp;
  Quantity quantity = Quantity::uvi;
  double start = 0;       // new, at 100 %, in free air on the axis, the sensor facing the lamp
  double start_m = 0;     // distance from the emitter's centre of that reading
  bool declared = false;  // whether the fixture's file declares the lamp there
  // "age", "dimmer", "distance_and_shape", "slant", "mesh", "panes", "leaves_and_branches",
  // "reflection_gained", in this order. The last has no factor where no light comes straight.
  std::vector<Loss> losses;
  double value = 0;
  double reflected = 0;  // the part of `value` that does not come straight from the lamp
};

// --- one reading

struct ReadingDoubt {
  std::map<Quantity, Band> bands;
  std::map<Quantity, LeafSpread> leaves;  // empty without leaves
  std::vector<LossChain> chains;          // perches, and readings with wants: the lamps that give most
};

// --- failures

struct BrokenLimit {
  std::string reading;  // empty: the closest reachable place
  Quantity quantity = Quantity::uvi;
  Figure figure;
  double limit = 0;
  Verdict verdict = Verdict::below;  // or above
  bool already = false;              // the same limit is broken as declared too
};

// Something fails or is changed, everything else as declared.
struct FailureCase {
  // "dimmer-full", "dimmers-full", "fresh-lamp", "mesh-off", "dusty-mesh", "lamp-out", "hot-room",
  // "cold-morning"
  std::string kind;
  std::string name;  // the lamp or mesh that it strikes; else empty
  std::string text;  // what happens, in words: "the dimmer of 'flood' goes to full"
  // What each source gives at each reading then, W/m2 of all power: [reading][source]. Set against the
  // reading's by_lamp it says how much stronger or weaker the source is.
  std::vector<std::vector<double>> irradiance_w_m2;
  std::optional<double> air_c;      // temperature of the room's air where the case changes it
  std::vector<BrokenLimit> breaks;  // worst first; empty: nothing breaks
};

// --- where to measure

struct MeterRow {
  std::string place;  // its name: a perch, a point, "closest place, ultraviolet", "on the screen under x"
  std::string hint;   // where that is, in words; may be empty
  Vec3 at = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();  // the sensor's outward normal
  std::string towards;             // the lamp that the sensor points at within a few degrees, or empty
  std::string lamps;               // the only lamp that is lit, or empty: all at their dimmers
  Quantity quantity = Quantity::uvi;
  double expected = 0;
  double low = 0, high = 0;     // 95 %: doubt in what was declared, the leaves and the meter together
  bool through_screen = false;  // whether a mesh lies between the place and the lamps that count
};

struct MeterPlan {
  std::vector<MeterRow> rows;  // in the order of what they are worth
  // Root mean square, over the figures that carry a limit, of the standard deviation of their logarithms:
  // now, and once every row is read.
  double log_sd_before = 0, log_sd_after = 0;
};

struct DoubtFindings {
  std::vector<ReadingDoubt> readings;  // beside Survey::readings
  int leaf_drawings = 0;               // the scene's own among them; 0 without leaves
  // Beside Hottest: what may be off there.
  std::optional<Band> hottest_uvi, hottest_irradiance;
  std::vector<FailureCase> failures;  // worst first
  MeterPlan meter;
};

}  // namespace boughlight
