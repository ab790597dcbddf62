#include "report/region_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "report/ask_words.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

// "; bounds the region towards the left and smaller gaps"
std::string rim_text(const RegionWords& words, const Binding& binding) {
  std::size_t most = 0;
  for (const auto& axis : binding.rim)
    for (const std::size_t count : axis) most = std::max(most, count);
  if (most == 0) return "";
  std::vector<std::string> sides;
  for (std::size_t axis = 0; axis < 3; ++axis)
    for (std::size_t up = 0; up < 2; ++up)
      if (4 * binding.rim[axis][up] >= most) sides.push_back(words.sides[axis][up]);
  std::string text = "; bounds the region towards ";
  for (std::size_t i = 0; i < sides.size(); ++i)
    text += (i == 0 ? "" : i + 1 == sides.size() ? " and " : ", ") + sides[i];
  return text;
}

// The most or the least of a figure anywhere.
double best_of(const FigureField& field, const Ask& ask) {
  double best = ask.at_least ? 0 : std::numeric_limits<double>::infinity();
  for (std::size_t choice = 0; choice < field.size(); ++choice) {
    if (field.blocked[choice]) continue;
    const double value = field.figure(choice, ask.figure).value;
    best = ask.at_least ? std::max(best, value) : std::min(best, value);
  }
  return best;
}

// Of the wants that the lamp does not change.
WholeVerdict unchanged_verdict(const FigureField& field) {
  WholeVerdict verdict = WholeVerdict::met;
  for (std::size_t ask = 0; ask < field.asks.asks.size(); ++ask) {
    if (field.counts[ask]) continue;
    const Margin margin = field.margin(0, ask);
    verdict = std::max(verdict, margin.met()      ? WholeVerdict::met
                                : margin.broken() ? WholeVerdict::unmet
                                                  : WholeVerdict::unsure);
  }
  return verdict;
}

}  // namespace

WholeVerdict region_verdict(const Region& region, const FigureField& field) {
  return std::max(region.allowed > 0  ? WholeVerdict::met
                  : region.unsure > 0 ? WholeVerdict::unsure
                                      : WholeVerdict::unmet,
                  unchanged_verdict(field));
}

std::string slack_text(const Scene& scene, const Asks& asks, const LengthUnit& unit, const Slack& slack) {
  const std::string length = unbroken(unit.text(slack.distance));
  if (slack.ends) return length + " and more: the map ends there";
  if (slack.blocks) return length + ", then it comes too near another lamp";
  return fmt::format("{}, then it fails: {}", length, ask_text(scene, asks, asks.asks[*slack.ask]));
}

void put_bindings(std::string& out, const RegionWords& words) {
  const Region& region = words.region;
  if (region.bindings.empty()) return;
  out += "\nWhat bounds it\n";
  const auto choices = static_cast<double>(words.field.size() - region.blocked);
  for (const Binding& binding : region.bindings) {
    const auto share = [&](std::size_t count) {
      return unbroken(print_number(100 * static_cast<double>(count) / choices, 2) + " %");
    };
    std::string text =
        fmt::format("{}: rules out {} of the {}s",
                    ask_text(words.scene, words.field.asks, words.field.asks.asks[binding.ask]),
                    share(binding.refused), words.choice);
    if (binding.alone > 0 && binding.alone < binding.refused)
      text += fmt::format(", {} by itself", share(binding.alone));
    if (binding.alone == binding.refused) text += ", all of them by itself";
    put_wrapped(out, text + rim_text(words, binding) + ".", "  - ", "    ");
  }
}

void put_conflicts(std::string& out, const RegionWords& words) {
  const Asks& asks = words.field.asks;
  if (words.region.blocked == words.field.size()) {
    out += "\n";
    put_wrapped(out, "At every " + words.choice + " the lamp would touch another one.", "  ! ", "    ");
    return;
  }
  out += "\nWhy there is no " + words.choice + "\n";
  for (const std::vector<std::size_t>& set : words.region.conflicts) {
    std::string text;
    if (set.size() == 1) {
      const Ask& ask = asks.asks[set.front()];
      text = fmt::format("No {} gives {}: the {} is {}.", words.choice, ask_text(words.scene, asks, ask),
                         ask.at_least ? "most" : "least",
                         figure_text(asks.figures[ask.figure], best_of(words.field, ask)));
    } else {
      text = set.size() == 2 ? "These two exclude each other: " : "These exclude each other: ";
      for (std::size_t i = 0; i < set.size(); ++i)
        text += (i == 0 ? "" : " | ") + ask_text(words.scene, asks, asks.asks[set[i]]);
      text += ".";
    }
    put_wrapped(out, text, "  ! ", "    ");
  }
  if (words.region.unsure > 0)
    put_wrapped(out,
                fmt::format("At {} {}s it is too close to call: a smaller --tolerance may open one.",
                            words.region.unsure, words.choice),
                "  ? ", "    ");
  if (words.region.conflicts.empty())
    put_wrapped(out, "At no " + words.choice + " is every want kept for sure.", "  ! ", "    ");
}

void put_openings(std::string& out, const RegionWords& words) {
  if (words.region.openings.empty()) return;
  const Asks& asks = words.field.asks;
  out += "\nThe least that would open it\n";
  for (const Opening& opening : words.region.openings) {
    std::string text;
    for (const Opening::Loosened& loosened : opening.loosened) {
      const Ask& ask = asks.asks[loosened.ask];
      text += (text.empty() ? "" : " | and ") +
              fmt::format("{} instead of {} ({})", ask_text(words.scene, asks, ask, loosened.limit),
                          figure_text(asks.figures[ask.figure], ask.limit),
                          unbroken("by " + print_number(100 * loosened.share, 2) + " %"));
    }
    put_wrapped(out, text + "; then " + words.describe(opening.choice) + ".", "  - ", "    ");
  }
  put_wrapped(out,
              "A limit that protects the animal is none to loosen: move the branch, or take another lamp.",
              "  ", "  ");
}

void put_unchanged(std::string& out, const RegionWords& words, const std::vector<char>& changed) {
  const Asks& asks = words.field.asks;
  std::vector<std::string> failing;
  std::size_t met = 0;
  for (std::size_t f = 0; f < asks.figures.size(); ++f) {
    const std::string standing = standing_text(asks, f, words.field.figure(0, f));
    if (changed[f] || standing.empty()) continue;
    if (standing == "met") {
      ++met;
      continue;
    }
    failing.push_back(fmt::format("{} {}, {}: wanted {}.", figure_name(words.scene, asks.figures[f]),
                                  figure_text(asks.figures[f], words.field.figure(0, f).value), standing,
                                  wanted_text(asks, f)));
  }
  if (failing.empty() && met == 0) return;
  out += "\nThis lamp does not change\n";
  for (const std::string& line : failing) put_wrapped(out, line, "  ! ", "    ");
  if (met > 0)
    put_wrapped(out,
                fmt::format("{}{} {} met at every {}.", met, failing.empty() ? "" : " other",
                            met == 1 ? "want is" : "wants are", words.choice),
                "  - ", "    ");
}

}  // namespace boughlight
