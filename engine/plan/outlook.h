// The months ahead: crowns grow, lamps age, meshes foul, the animal grows. When each want first fails, and
// what would mend it.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "assess/results.h"
#include "plan/crown_reach.h"
#include "scene/months_ahead.h"

namespace boughlight {

enum class RemedyKind { new_lamp, clean, trim, lower, everything };
std::string_view remedy_name(RemedyKind kind);  // "new-lamp", "clean", "trim", "lower", "everything"

// One thing done, everything else as it is at that month.
struct Remedy {
  RemedyKind kind = RemedyKind::everything;
  std::string lamp;  // new_lamp: which
  Figure figure;     // what the failing figure is then
  Verdict verdict = Verdict::met;
};

// The first time that a figure breaks its limits.
struct Failing {
  double month = 0;  // between two looked at: where the straight line between them crosses; 0: today
  // By the 95 % interval of the figure: from when it may be so, and by when it is so for sure (nothing: not
  // for sure within the months looked at).
  double earliest = 0;
  std::optional<double> latest;
  double limit = 0;
  Verdict verdict = Verdict::below;  // or above
  std::size_t seen_at = 0;           // index of the month at which it is broken
  std::vector<Remedy> remedies;      // at that month; those that mend it first
};

// One figure over the months.
struct Watched {
  bool hottest = false;  // the closest reachable place, as found today
  std::string reading;   // else whose
  ReadingKind kind = ReadingKind::point;
  Quantity quantity = Quantity::uvi;
  std::optional<Limits> limits;   // nothing where nothing is asked
  std::vector<Figure> figures;    // by month
  std::vector<Verdict> verdicts;  // by month, where there are limits
  std::optional<Failing> fails;
  // Where today's survey calls it too close to call and it never breaks for sure.
  bool ever_unsure() const;
};

struct LampAhead {
  std::string name;
  bool has_hours = false;        // one without does not age here
  std::vector<double> burned_h;  // by month
  std::vector<double> output;    // by month, as a share of today's: UVI, or lux of a lamp without ultraviolet
  bool ages = false;             // its output falls within the months, or has fallen already
};

// A fresh lamp in place of an aged one, everything else as it is at a month.
struct NewLamp {
  std::string lamp;
  std::size_t month_index = 0;
  struct Change {
    std::size_t watched = 0;
    Figure aged, fresh;
    Verdict verdict = Verdict::met;  // of the fresh one, where there are limits
  };
  std::vector<Change> changes;  // those by a hundredth or more
};

// A share of the enclosure, surveyed today and at the end.
struct ZoneAhead {
  ZoneWant want;
  Figure today, end;
  Verdict verdict_today = Verdict::met, verdict_end = Verdict::met;
};

struct OutlookResult {
  Scene scene;
  MonthsAhead ahead;
  std::vector<double> months;  // looked at; the first is 0
  std::vector<Watched> watched;
  std::vector<LampAhead> lamps;
  struct PlantAhead {
    std::string name;
    std::vector<double> growth;  // by month
    std::vector<CrownTouch> touches;
  };
  std::vector<PlantAhead> plants;  // those that grow
  std::vector<double> backs;       // of the animal, by month, m; empty where it does not grow
  std::vector<NewLamp> new_lamps;  // one a lamp that ages
  std::vector<ZoneAhead> zones;
  bool has_meshes = false;
  std::size_t traced_scenes = 0;             // how many geometries light was traced in
  double tolerance = 0;                      // that the traced months aim at
  WholeVerdict verdict = WholeVerdict::met;  // the worst of all months
};

struct OutlookControl {
  int threads = 0;  // 0: all
  std::function<void(const std::string& stage, double share)> progress;
};

// Light is traced once for each month in which a crown or the animal has grown, always with the same random
// numbers, so that a trend is not noise, and each figure is today's times what that light says has become of
// it; a sensor stays turned as it is today. Ageing and fouling are weighed
// from that light. Where nothing grows today's survey is all the light there is. The result is fixed by the
// scene alone, whatever the threads.
OutlookResult look_ahead(const Scene& scene, const MonthsAhead& ahead, const OutlookControl& control = {});

// The first crossing of a series, as described at Failing; without remedies. Exposed for its tests.
std::optional<Failing> first_failing(const std::vector<double>& months, const std::vector<Figure>& figures,
                                     const Limits& limits);

}  // namespace boughlight
