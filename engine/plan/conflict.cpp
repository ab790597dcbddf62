// Which asks exclude each other, and what would have to give way.
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

#include "assess/judge.h"
#include "plan/figure_field.h"

namespace boughlight {
namespace {

// The choices that keep an ask, a bit each.
using Kept = std::vector<std::uint64_t>;

Kept kept_by(const FigureField& field, std::size_t ask) {
  Kept kept((field.size() + 63) / 64);
  for (std::size_t choice = 0; choice < field.size(); ++choice)
    if (!field.blocked[choice] && field.margin(choice, ask).met())
      kept[choice / 64] |= std::uint64_t{1} << choice % 64;
  return kept;
}

Kept both(Kept a, const Kept& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] &= b[i];
  return a;
}

bool none(const Kept& kept) {
  return std::all_of(kept.begin(), kept.end(), [](std::uint64_t bits) { return bits == 0; });
}

std::vector<std::size_t> counting(const FigureField& field) {
  std::vector<std::size_t> asks;
  for (std::size_t ask = 0; ask < field.asks.asks.size(); ++ask)
    if (field.counts[ask]) asks.push_back(ask);
  return asks;
}

// The limit at which the ask would hold for sure, rounded outwards to three digits.
double loosened_limit(const Figure& figure, const Ask& ask) {
  const double half = kIntervalFactor * figure.se;
  const double limit = ask.at_least ? std::max(0.0, figure.value - half) : figure.value + half;
  if (!(limit > 0)) return 0;
  const double step = std::pow(10.0, std::floor(std::log10(limit)) - 2);
  return step * (ask.at_least ? std::floor(limit / step) : std::ceil(limit / step));
}

Opening opening_at(const FigureField& field, std::size_t choice) {
  Opening opening{choice, {}, 0};
  for (const std::size_t index : counting(field)) {
    const Ask& ask = field.asks.asks[index];
    if (field.margin(choice, index).met()) continue;
    const double limit = loosened_limit(field.figure(choice, ask.figure), ask);
    const double share = std::abs(limit - ask.limit) / (ask.limit > 0 ? ask.limit : 1);
    opening.loosened.push_back({index, limit, share});
    opening.share += share;
  }
  return opening;
}

}  // namespace

std::vector<std::vector<std::size_t>> conflicts_of(const FigureField& field) {
  std::vector<std::vector<std::size_t>> conflicts;
  const std::vector<std::size_t> asks = counting(field);
  const std::size_t count = asks.size();
  std::vector<Kept> kept;
  for (const std::size_t ask : asks) kept.push_back(kept_by(field, ask));
  const auto add = [&](std::vector<std::size_t> set) {
    if (conflicts.size() < kMostConflicts) conflicts.push_back(std::move(set));
  };
  for (std::size_t a = 0; a < count; ++a)
    if (none(kept[a])) add({asks[a]});
  if (!conflicts.empty()) return conflicts;
  for (std::size_t a = 0; a < count; ++a)
    for (std::size_t b = a + 1; b < count; ++b)
      if (none(both(kept[a], kept[b]))) add({asks[a], asks[b]});
  if (!conflicts.empty()) return conflicts;
  for (std::size_t a = 0; a < count; ++a)
    for (std::size_t b = a + 1; b < count; ++b) {
      const Kept pair = both(kept[a], kept[b]);
      for (std::size_t c = b + 1; c < count; ++c)
        if (none(both(pair, kept[c]))) add({asks[a], asks[b], asks[c]});
    }
  if (!conflicts.empty() || count == 0) return conflicts;
  // Larger ones: leave away whatever is not needed for a conflict.
  std::vector<std::size_t> set(count);
  for (std::size_t i = 0; i < count; ++i) set[i] = i;
  const auto conflict = [&](const std::vector<std::size_t>& members) {
    Kept all(kept[0].size(), ~std::uint64_t{0});
    for (const std::size_t i : members) all = both(std::move(all), kept[i]);
    return none(all);
  };
  // Every choice may be impossible, whatever is asked.
  if (conflict({}) || !conflict(set)) return conflicts;
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<std::size_t> fewer = set;
    std::erase(fewer, i);
    if (conflict(fewer)) set = fewer;
  }
  for (std::size_t& member : set) member = asks[member];
  add(set);
  return conflicts;
}

std::vector<Opening> openings_of(const FigureField& field) {
  // Over all choices, and over those where one ask alone has to give way.
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  Opening least{0, {}, kInfinity};
  std::vector<Opening> single(field.asks.asks.size(), least);
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    if (field.blocked[choice]) continue;
    const Opening opening = opening_at(field, choice);
    if (opening.share < least.share) least = opening;
    if (opening.loosened.size() != 1) continue;
    Opening& own = single[opening.loosened.front().ask];
    if (opening.share < own.share) own = opening;
  }
  std::vector<Opening> openings;
  if (least.share == kInfinity) return openings;
  openings.push_back(least);
  std::stable_sort(single.begin(), single.end(),
                   [](const Opening& a, const Opening& b) { return a.share < b.share; });
  for (const Opening& opening : single) {
    const bool known = least.loosened.size() == 1 && !opening.loosened.empty() &&
                       opening.loosened.front().ask == least.loosened.front().ask;
    if (opening.share < kInfinity && !known && openings.size() < kMostOpenings) openings.push_back(opening);
  }
  return openings;
}

}  // namespace boughlight
