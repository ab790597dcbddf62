// What a survey found: everything that the terminal, the files and the maps show. Plain data, no computation.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "assess/figure.h"
#include "assess/results_animal.h"
#include "assess/results_day.h"
#include "assess/results_doubt.h"
#include "assess/shares.h"
#include "scene/model.h"
#include "transport/response.h"

namespace boughlight {

struct WantResult {
  Want want;
  Figure figure;
  Verdict verdict = Verdict::met;
  // Met, and met by the whole band of what was declared (DoubtFindings).
  std::optional<bool> firm{};
};

enum class ReadingKind { perch, plant, point };
std::string_view reading_kind_name(ReadingKind kind);

struct Reading {
  std::string name;
  ReadingKind kind = ReadingKind::point;
  Vec3 at = Vec3::Zero();          // where the sensor is (a plant's: the crown's centre)
  std::string facing;              // "up", "brightest", "given" or, for plants, "up"
  Vec3 direction = Vec3::UnitZ();  // the sensor's outward normal
  Figures values;
  Figures scalar;                                             // spherical irradiance, instant quantities only
  std::map<std::string, std::map<Quantity, double>> by_lamp;  // "room" is the room's light
  std::vector<WantResult> wants;                              // a plant's needs
  // Plants only: a flat sensor looking up at the top of the crown.
  std::optional<Vec3> top_at;
  Figures top;
};

struct Cell {
  int box = 0;
  std::array<int, 3> index{};  // within the box
  Vec3 centre = Vec3::Zero();
  double free_share = 1;               // of the cell's volume, outside branches, models, bodies of lamps
  std::array<Figure, kQuantities> up;  // facing up; day quantities are 0 unless Survey::has_day
  double brightest_uvi = 0;            // greatest of 26 orientations
};

struct GridBox {
  std::array<int, 3> count{};  // cells along x, y, z
  Vec3 corner = Vec3::Zero();
  Vec3 cell = Vec3::Zero();  // edge lengths
  std::size_t first = 0;     // index of the box's first cell; x runs fastest, then y, then z
};

struct Level {
  double z = 0;                           // of the cells' centres
  std::optional<double> basking, refuge;  // fractions of the level's free volume
  double uvi_mean = 0, ppfd_mean = 0;     // facing up
  std::optional<double> dli_mean{};       // facing up, where Survey::has_day
};

struct ZoneFraction {
  Figure volume;
  std::optional<Figure> perch;  // nothing where there is no branch or board
  // Fractions at each level, as in Survey::levels.
  std::vector<Figure> levels;
};

struct ZoneWantResult {
  ZoneWant want;
  Figure figure;  // each_level: the worst level's
  std::optional<double> level_z;
  Verdict verdict = Verdict::met;
};

struct HottestPlace {
  Quantity quantity = Quantity::uvi;
  Figure figure;
  Vec3 at = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();
  std::string lamp;             // which source gives most there
  std::optional<double> limit;  // from animal.never
  std::optional<Verdict> verdict;
  std::optional<bool> firm{};       // as of a want
  Response response{};              // what the figure was weighed from
  std::vector<double> by_source{};  // what each source gives there: lamps in order, then the room's light
};

struct Hottest {
  HottestPlace uvi, irradiance;
  HottestPlace uvi_at_full, irradiance_at_full;  // every dimmer at 100 %
};

struct Caution {
  std::string kind;  // a short stable word: "reach", "perch", "eyes", "heat", "mains", ...
  std::string text;
  std::string reason{};  // why, in a sentence; always there
};

enum class WholeVerdict { met, unsure, unmet };
std::string_view whole_verdict_name(WholeVerdict verdict);

struct Survey {
  Scene scene;
  std::vector<Reading> readings;  // perches, plants, points, in the scene's order
  // What each reading was weighed from, beside `readings`: any dimmer, age or hour is a dot product with it.
  std::vector<Response> responses;
  SourceShares shares;
  std::vector<GridBox> grid;  // one a box
  std::vector<Cell> cells;
  std::vector<Level> levels;                  // from the floor up
  std::map<std::string, ZoneFraction> zones;  // "basking", "refuge", where the animal asks for them
  std::vector<ZoneWantResult> zone_wants;
  std::optional<Hottest> hottest;
  AnimalFindings animal;
  DayFindings day;
  DoubtFindings doubt;
  std::vector<Caution> cautions;
  WholeVerdict verdict = WholeVerdict::met;
  bool has_day = false;  // every source has hours, so day quantities exist
  std::size_t leaf_count = 0;

  // How the run went; never written to result files.
  struct Effort {
    double seconds = 0;
    double rays = 0;      // both kinds
    double recalled = 0;  // of these, what was known from an earlier survey
    RayCount by_kind{};
  } effort;
};

}  // namespace boughlight
