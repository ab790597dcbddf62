#include "report/since_last.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/index_parts.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "units/units.h"

namespace boughlight {
namespace {

// What moved without a change of verdict is told of so many figures.
constexpr std::size_t kMostMoved = 6;

struct FigurePair {
  const IndexFigure* before = nullptr;  // null: not there
  const IndexFigure* now = nullptr;
};

bool is_same_thing(const IndexFigure& a, const IndexFigure& b) {
  return a.of == b.of && a.zone == b.zone && a.quantity == b.quantity;
}

// Everything that carries a limit, in the scene's order, the closest place in reach first.
std::vector<const IndexFigure*> judged_figures(const IndexRow& row) {
  std::vector<const IndexFigure*> figures;
  for (const auto* list : {&row.reach, &row.asked})
    for (const IndexFigure& figure : *list)
      if (!figure.verdict.empty()) figures.push_back(&figure);
  return figures;
}

std::vector<FigurePair> pairs_of(const IndexRow& before, const IndexRow& now) {
  std::vector<const IndexFigure*> left = judged_figures(before);
  std::vector<FigurePair> pairs;
  for (const IndexFigure* figure : judged_figures(now)) {
    const auto found = std::find_if(left.begin(), left.end(),
                                    [&](const IndexFigure* other) { return is_same_thing(*other, *figure); });
    pairs.push_back({found == left.end() ? nullptr : *found, figure});
    if (found != left.end()) left.erase(found);
  }
  for (const IndexFigure* figure : left) pairs.push_back({figure, nullptr});
  return pairs;
}

// 0: not as wanted, 1: too close to call, 2: as wanted.
int rank_of(const IndexFigure& figure) {
  return figure.verdict == "met" ? 2 : figure.verdict == "unsure" ? 1 : 0;
}

std::string verdict_words(const IndexFigure& figure) {
  return figure.verdict == "met"      ? "as wanted"
         : figure.verdict == "unsure" ? "too close to call"
         : figure.verdict == "below"  ? "too low"
                                      : "too high";
}

bool moved_clearly(const FigurePair& pair) {
  return std::abs(pair.now->value - pair.before->value) > 2 * std::hypot(pair.now->se, pair.before->se);
}

bool is_limited_otherwise(const FigurePair& pair) {
  return pair.before->min != pair.now->min || pair.before->max != pair.now->max;
}

std::string name_of_figure(const IndexFigure& figure) {
  if (figure.zone) return printable(figure.of) + " zone";
  return figure.of.empty() ? "The most in reach" : shortened(figure.of, kNameColumns);
}

// "sun perch: UVI 2.24 -> 3.1", with digits enough to tell the two apart.
std::string before_and_now(const FigurePair& pair) {
  const IndexFigure& now = *pair.now;
  const double size = now.zone ? 100 : 1;
  const double a = size * pair.before->value, b = size * now.value;
  int digits = 3;
  while (digits < 5 && a != b && print_number(a, digits) == print_number(b, digits)) ++digits;
  const std::string last = print_number(b, digits);
  const std::string figures = a == b ? last : print_number(a, digits) + " -> " + last;
  const std::string name = name_of_figure(now) + ": ";
  if (now.zone) {
    const std::string share = now.quantity == "volume"  ? "of the volume"
                              : now.quantity == "perch" ? "of what can be sat on"
                                                        : "of the poorest level";
    return name + unbroken(figures + " %") + " " + share;
  }
  const auto quantity = quantity_named(now.quantity);
  if (!quantity) return name + printable(now.quantity) + " " + figures;
  const std::string unit(info(*quantity).unit);
  return name + with_name(*quantity, figures + (unit.empty() ? "" : " " + unit));
}

std::string line_of(const FigurePair& pair) {
  std::string text = fmt::format("{}: {}, wanted {}", before_and_now(pair), verdict_words(*pair.now),
                                 limit_words(*pair.now));
  std::string was;
  if (pair.before->verdict != pair.now->verdict) was = verdict_words(*pair.before);
  if (is_limited_otherwise(pair)) was += (was.empty() ? "wanted " : ", wanted ") + limit_words(*pair.before);
  return text + (was.empty() ? "." : " (before: " + was + ").");
}

void put_bulleted(std::string& out, const IndexFigure& now, const std::string& text) {
  constexpr std::string_view kBullets[] = {"  ! ", "  ? ", "  - "};
  put_wrapped(out, text, kBullets[rank_of(now)], "    ");
}

// Those of which `which` holds, under a heading where there are any; returns how many.
template <class Which>
std::size_t put_group(std::string& out, const std::vector<FigurePair>& pairs, const char* heading,
                      std::size_t most, const Which& which) {
  std::size_t count = 0;
  for (const FigurePair& pair : pairs) {
    if (!pair.before || !pair.now || !which(pair)) continue;
    if (count == 0) out += std::string(heading) + "\n";
    if (++count <= most) put_bulleted(out, *pair.now, line_of(pair));
  }
  if (count > most) put_wrapped(out, fmt::format("and {} more.", count - most), "  - ", "    ");
  return count;
}

void put_unpaired(std::string& out, const std::vector<FigurePair>& pairs) {
  bool headed = false;
  for (const FigurePair& pair : pairs) {
    if (pair.before) continue;
    if (!headed) out += "Asked for now\n";
    headed = true;
    put_bulleted(out, *pair.now,
                 fmt::format("{}: {}, wanted {}.", figure_words(*pair.now), verdict_words(*pair.now),
                             limit_words(*pair.now)));
  }
  std::string gone;
  for (const FigurePair& pair : pairs)
    if (!pair.now) gone += (gone.empty() ? "" : "; ") + figure_words(*pair.before);
  if (!gone.empty()) put_wrapped(out, "No longer asked for: " + gone + ".", "", "  ");
}

std::string standing(const IndexRow& now) {
  const std::vector<const IndexFigure*> figures = judged_figures(now);
  const auto count = [&](int rank) {
    return std::count_if(figures.begin(), figures.end(),
                         [rank](const IndexFigure* figure) { return rank_of(*figure) == rank; });
  };
  if (figures.empty()) return "Nothing is asked for";
  if (count(0) + count(1) == 0) return "All wants met";
  std::string text;
  if (count(0) > 0) text = fmt::format("{} of {} not met", count(0), figures.size());
  if (count(1) > 0)
    text += text.empty() ? fmt::format("{} of {} unsure", count(1), figures.size())
                         : fmt::format(", {} unsure", count(1));
  return text;
}

}  // namespace

std::string changes_since(const IndexRow& before, const IndexRow& now) {
  const std::vector<FigurePair> pairs = pairs_of(before, now);
  const auto turn = [](const FigurePair& pair) { return rank_of(*pair.now) - rank_of(*pair.before); };
  const auto changed = [](const FigurePair& pair) { return pair.before->verdict != pair.now->verdict; };
  const auto all = pairs.size();
  std::string out;
  std::size_t changes =
      put_group(out, pairs, "For the worse", all, [&](const auto& pair) { return turn(pair) < 0; });
  changes += put_group(out, pairs, "For the better", all, [&](const auto& pair) { return turn(pair) > 0; });
  // Too low before and too high now is no better and no worse.
  changes += put_group(out, pairs, "From one side to the other", all,
                       [&](const auto& pair) { return turn(pair) == 0 && changed(pair); });
  put_group(out, pairs, "Not as wanted still", all,
            [&](const auto& pair) { return !changed(pair) && rank_of(*pair.now) < 2; });
  changes += put_group(out, pairs, "Moved, and as wanted still", kMostMoved, [&](const auto& pair) {
    return !changed(pair) && rank_of(*pair.now) == 2 && (moved_clearly(pair) || is_limited_otherwise(pair));
  });
  put_unpaired(out, pairs);
  for (const FigurePair& pair : pairs)
    changes += !pair.before || !pair.now || (!changed(pair) && rank_of(*pair.now) < 2 && moved_clearly(pair));
  if (changes == 0) out = "Nothing that is asked for changed.\n" + out;
  put_wrapped(out, standing(now) + ". Estimates, not measurements: the meter decides.", "", "");
  return out;
}

}  // namespace boughlight
