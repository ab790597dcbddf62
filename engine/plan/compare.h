// Two layouts side by side: what each figure did from the first to the second, whether that is more than the
// error of the computation, and whether it is for the better. Reads two surveys and traces nothing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assess/results.h"

namespace boughlight {

enum class Turn { better, worse, none };
std::string_view turn_name(Turn turn);  // "better", "worse", "none"

// What one layout asks of a figure.
struct Asked {
  Limits limits;
  Verdict verdict = Verdict::met;
  // To the nearest limit, in shares of that limit (of 1 where it is 0): negative beyond it. Infinite where
  // nothing is limited.
  double room = 0;
};

enum class ChangedKind { reading, hottest, zone };

struct FigureChange {
  ChangedKind kind = ChangedKind::reading;
  std::string name;  // the reading's or the zone's; the closest reachable place has none
  ReadingKind reading = ReadingKind::point;
  Quantity quantity = Quantity::uvi;    // of a reading and of the closest place
  bool at_full = false;                 // closest place: every dimmer at 100 %
  ZoneShare share = ZoneShare::volume;  // of a zone, whose figures are fractions
  Figure first, second;
  double change = 0;  // second - first
  // Standard error of the change. `paired`: from the differences of the replicates, so that noise which both
  // layouts share (the same random numbers) cancels; else the two errors are taken as independent.
  double se = 0;
  bool paired = false;
  std::optional<Asked> first_asked, second_asked;
  Turn turn = Turn::none;

  bool verdict_changed() const {
    return first_asked && second_asked && first_asked->verdict != second_asked->verdict;
  }
  // Beyond the 95 % interval of the change.
  bool clear() const;
  // The change in standard errors; nothing where there is a change and no error at all.
  std::optional<double> in_errors() const;
};

// A thing that one layout has and the other has not.
struct OnlyIn {
  std::string kind;  // "perch", "plant", "point", "lamp", "branch", "board", "model", "box", "zone want"
  std::string name;
  bool in_second = false;
};

// A lamp of both layouts that is not quite the same in them.
struct LampChange {
  Lamp first, second;
};

struct Comparison {
  // Verdict changes first, those for the worse before those for the better; then what got worse, what got
  // better, and the rest; within each the clearest first.
  std::vector<FigureChange> figures;
  std::vector<OnlyIn> only;       // the first's, then the second's
  std::vector<LampChange> lamps;  // in the second's order
  // Things of both that stand elsewhere or have other sizes, as OnlyIn names them.
  std::vector<OnlyIn> altered;
  bool same_seed = false;
};

// Matched by name (and kind and quantity). Where both layouts judge a figure it turned for the better when
// its verdict is a better one (met before unsure before broken), or, the verdict being the same, when it
// changed clearly and has gained kNoticeable of room. Figures with no limit in both have no turn.
Comparison compare_surveys(const Survey& first, const Survey& second);
// A hundredth of the limit: common practice, no source; less than any meter tells.
inline constexpr double kNoticeable = 0.01;

}  // namespace boughlight
