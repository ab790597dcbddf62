// What the light means for the animal: its whole body, the sizes it grows through, the closest reachable
// place by lamp, shade and the way to it. Plain data, no computation.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "assess/figure.h"
#include "scene/model.h"

namespace boughlight {

struct Reading;  // assess/results.h

// --- the body on a perch
// ------------------------------------------------------------------------------------------------

// One place of the body's outline, read with a sensor turned as the perch's.
struct BodyPlace {
  bool flank = false;  // on the lower edge of the flattened flank; else on the line of the back
  double along = 0;    // m from the perch's reading along the body's axis
  Vec3 at = Vec3::Zero();
  Figures values;                 // uvi, lux, irradiance, infrared
  std::optional<bool> wants_met;  // whether all wants of the perch hold here; nothing where it has none
};

// Greatest and least over the outline.
struct Spread {
  double greatest = 0, least = 0;
  std::optional<double> peak_to_edge;  // greatest / least; nothing where the least is 0
};

// The stretch of the line through the body's axis where a quantity is at least half of its greatest value on
// that line, around that greatest value. Places in m along the line from the perch's reading.
struct Beam {
  double greatest = 0, greatest_at = 0;
  double from = 0, to = 0;
  // Still at least half of it where the line ends (a wall, or as far as was looked): it is wider than told.
  bool open_from = false, open_to = false;

  double width() const { return to - from; }
};

enum class AxisOrigin { along, branch, board, none };
std::string_view axis_origin_name(AxisOrigin origin);  // "along", "branch", "board", "x"

struct BodyFindings {
  std::string perch;
  double back = 0, length = 0, height = 0;  // of the animal, m
  Vec3 axis = Vec3::UnitX();
  AxisOrigin axis_origin = AxisOrigin::none;
  Vec3 direction = Vec3::UnitZ();  // the sensors' outward normal
  std::vector<BodyPlace> places;   // those in the enclosure and outside branches; the back first
  std::map<Quantity, Spread> spread;
  double line_from = 0, line_to = 0;  // how far the beams were looked at
  std::map<Quantity, Beam> beams;     // uvi, lux, infrared where there is any
  // Heat inside ultraviolet inside bright light; nothing where one of the three is missing.
  std::optional<bool> nested;
  // A perch for warming up: it asks for ultraviolet or heat, or is the sun perch, and there is heat to feel.
  bool for_basking = false;
  // Share of the back's length, and of the flank's lower edge, where all wants of the perch hold; nothing
  // without wants.
  std::optional<double> wants_share, flank_wants_share;
};

// Another size of the animal on the same perches.
struct SizeFindings {
  AnimalSize size;
  std::vector<Reading> readings;  // one a perch, in the scene's order
  std::vector<BodyFindings> bodies;
};

// --- the closest place to each lamp
// -------------------------------------------------------------------------------------

// What the closest place to a lamp gets, all lamps together, at its brightest orientation.
struct ClosestFigure {
  Quantity quantity = Quantity::uvi;
  Figure figure;
  Vec3 direction = Vec3::UnitZ();
  std::string lamp;             // the source that gives most of it
  double share = 0;             // of it (0..1)
  std::optional<double> limit;  // from animal.never
  std::optional<Verdict> verdict;
};

struct ClosestPlace {
  std::string lamp;  // whose closest place it is
  Vec3 at = Vec3::Zero();
  double distance_to_lamp = 0;  // m, to the emitter's surface
  double below_top = 0;         // m straight up to the outer face above
  std::string top;              // that face's material, or "open"
  ClosestFigure uvi, irradiance;
  ClosestFigure uvi_at_full, irradiance_at_full;  // every dimmer at 100 %
};

// What would bring a place that is above a limit of animal.never down to it, all else left as it is.
struct Mend {
  Quantity quantity = Quantity::uvi;
  double limit = 0;
  std::string lamp;  // the one to change: it gives most there
  Vec3 at = Vec3::Zero();
  // How much higher it must hang, m, rounded up to 5 mm (0.2 in); nothing: raising does not mend it within
  // `room`.
  std::optional<double> raise;
  // The share of its present light that it may give, rounded down to whole per cent; nothing: even without it
  // the limit does not hold.
  std::optional<double> output_share;
  std::optional<double> sun_perch_uvi;  // what the sun perch would read with the lamp raised
  double room = 0;  // how far it can be raised before it is 1 cm from anything, m; at most kMostRaise
};
inline constexpr double kMostRaise = 2;  // m

// --- shade and the way to it
// ---------------------------------------------------------------------------------------------

// A place along a branch or board. Figures are at the greatest of 26 orientations each.
struct SeatPlace {
  std::string on;          // branch or board
  Vec3 at = Vec3::Zero();  // of the back
  double seat_z = 0;       // of what it sits on
  double length = 0;       // of branch or board that it stands for, m
  Figures values;          // uvi, irradiance, infrared, and what the zones ask for
  double share = 0;        // of the sun perch's UVI
  bool refuge = false;     // animal.refuge holds, or without it the share is below 10 %
  bool basking = false;    // within animal.basking's limits on UVI
  bool uv_without_heat = false;
};

// Lengths by share of the sun perch's UVI; m, or fractions of the whole.
struct ShadeSplit {
  double below_10 = 0, from_10_to_50 = 0, above_50 = 0;
};

struct ShadeLevel {
  double z = 0;       // middle of the level
  double length = 0;  // of branches and boards in it, m
  ShadeSplit fraction;
};

// The most covered way from the sun perch to a refuge, along branches and boards and over gaps no wider than
// the stride; of equally covered ones the shortest.
struct CoveredWay {
  bool covered = false;    // once below half of the sun perch's UVI it stays there
  double worst_share = 0;  // the greatest share of the sun perch's UVI after leaving the stretch above half
  double length = 0;       // m
  std::vector<std::size_t> places;  // indices into Shelter::places, the sun perch's first
};

struct ReachedRefuge {
  double z = 0;       // middle of the level
  double length = 0;  // of refuge there that a covered way leads to, m
};

struct Shelter {
  std::string sun_perch;
  double sun_uvi = 0, sun_infrared = 0;
  double stride = 0;  // m
  std::vector<SeatPlace> places;
  ShadeSplit fraction, fraction_se;  // by length; with standard errors
  std::vector<ShadeLevel> levels;    // from the floor up, those with places
  // Nothing where there is no refuge on branches and boards that is connected to the sun perch at all.
  std::optional<CoveredWay> way;
  std::vector<ReachedRefuge> refuges;  // from the floor up
  // Whether the sun perch is warm enough for the question to matter; else nothing below is judged.
  bool heat_matters = false;
  double uv_without_heat_length = 0;           // m
  std::optional<std::size_t> uv_without_heat;  // the place with most UVI among them
};

struct AnimalFindings {
  std::optional<std::string> sun_perch;
  std::vector<BodyFindings> bodies;  // one a perch, where animal.body is given
  std::vector<SizeFindings> sizes;
  std::vector<ClosestPlace> closest;  // one a lamp, where there is a reachable place
  std::vector<Mend> mends;
  // Nothing without perches, branches and boards, or ultraviolet at the sun perch.
  std::optional<Shelter> shelter;

  bool empty() const { return bodies.empty() && sizes.empty() && closest.empty() && !shelter; }
};

}  // namespace boughlight
