#include "report/ask_words.h"

#include <fmt/format.h>

#include "assess/judge.h"
#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

std::string_view of_what(ZoneShare share) {
  switch (share) {
    case ZoneShare::volume:
      return "of the volume";
    case ZoneShare::perch:
      return "of what can be sat on";
    default:
      return "of each level";
  }
}

// Short enough for a table.
std::string share_name(ZoneShare share) {
  return share == ZoneShare::perch ? "share to sit on" : "share " + std::string(of_what(share));
}

std::string subject(const Scene& scene, const FigureKey& key) {
  switch (key.kind) {
    case FigureKind::reading:
      return shortened(reading_name(scene, key.item), kNameColumns);
    case FigureKind::reach:
      return "most in reach";
    default:
      return key.zone + " zone";
  }
}

}  // namespace

std::string figure_name(const Scene& scene, const FigureKey& key) {
  const std::string what = key.kind == FigureKind::share   ? share_name(key.share)
                           : key.quantity == Quantity::dli ? "DLI"
                                                           : std::string(info(key.quantity).label);
  return subject(scene, key) + ": " + what;
}

std::string figure_text(const FigureKey& key, double value) {
  return unbroken(key.kind == FigureKind::share ? percent(value) : value_text(key.quantity, value));
}

std::string limit_text(const FigureKey& key, bool at_least, double limit) {
  return (at_least ? "at least " : "at most ") + figure_text(key, limit);
}

std::string wanted_text(const Asks& asks, std::size_t figure) {
  const Limits limits = limits_on(asks, figure);
  if (!limits.min && !limits.max) return "";
  const FigureKey& key = asks.figures[figure];
  if (key.kind == FigureKind::share) return limits_text(limits, 100, "%");
  return limits_text(limits, 1, std::string(info(key.quantity).unit));
}

std::string ask_text(const Scene& scene, const Asks& asks, const Ask& ask) {
  return ask_text(scene, asks, ask, ask.limit);
}

std::string ask_text(const Scene& scene, const Asks& asks, const Ask& ask, double limit) {
  const FigureKey& key = asks.figures[ask.figure];
  const std::string words = limit_text(key, ask.at_least, limit);
  if (key.kind == FigureKind::share)
    return fmt::format("{}: {} {}", subject(scene, key), words, of_what(key.share));
  return fmt::format("{} {}", figure_name(scene, key), words);
}

std::string standing_text(const Asks& asks, std::size_t figure, const Figure& value) {
  const Limits limits = limits_on(asks, figure);
  if (!limits.min && !limits.max) return "";
  switch (judge(value, limits)) {
    case Verdict::below:
      return "too low";
    case Verdict::above:
      return "too high";
    case Verdict::unsure:
      return "too close to call";
    default:
      return "met";
  }
}

}  // namespace boughlight
