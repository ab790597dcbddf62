// What a keeper reads of two layouts: changes of verdict first, then what else got worse or better.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "report/compare_report.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "units/units.h"

namespace boughlight {
namespace {

// What is listed of figures that nobody asked about.
constexpr std::size_t kMostUnasked = 6;

std::string what_it_is(const FigureChange& change) {
  switch (change.kind) {
    case ChangedKind::hottest:
      return change.at_full ? "The most in reach, every dimmer at full" : "The most in reach";
    case ChangedKind::zone:
      return change.name + " zone, share " +
             (change.share == ZoneShare::volume  ? "of the volume"
              : change.share == ZoneShare::perch ? "of what can be sat on"
                                                 : "of the poorest level");
    default:
      return shortened(change.name, kNameColumns);
  }
}

// Digits enough to tell the two apart.
std::string from_to(const FigureChange& change) {
  const double size = change.kind == ChangedKind::zone ? 100 : 1;
  const double a = size * change.first.value, b = size * change.second.value;
  int digits = 3;
  while (digits < 5 && a != b && print_number(a, digits) == print_number(b, digits)) ++digits;
  const std::string unit = change.kind == ChangedKind::zone ? "%" : std::string(info(change.quantity).unit);
  const std::string figures = print_number(a, digits) + " to " + print_number(b, digits);
  if (change.kind == ChangedKind::zone) return unbroken(figures + " %");
  return with_name(change.quantity, figures + (unit.empty() ? "" : " " + unit));
}

// How sure the change is: "+35 %, 12 standard errors".
std::string how_much(const FigureChange& change) {
  std::string text;
  if (change.kind != ChangedKind::zone && change.first.value > 0) {
    const double percent = 100 * change.change / change.first.value;
    if (std::abs(percent) < 1000)
      text = unbroken((percent > 0 ? "+" : "") + print_number(percent, 2) + " %") + ", ";
  }
  const auto errors = change.in_errors();
  if (!errors) return text + "no error to speak of";
  const double size = std::abs(*errors);
  if (size > 100) return text + "more than 100 standard errors";
  return text + unbroken(print_number(size, 2) + " standard errors");
}

std::string wanted(const FigureChange& change) {
  const bool zone = change.kind == ChangedKind::zone;
  const auto text = [&](const Limits& limits) {
    return limits_text(limits, zone ? 100 : 1, zone ? "%" : "");
  };
  const std::string was = text(change.first_asked->limits), is = text(change.second_asked->limits);
  return was == is ? "wanted " + is : "wanted " + was + " there and " + is + " here";
}

std::string judged_line(const FigureChange& change) {
  const std::string line = what_it_is(change) + ": " + from_to(change) + " (" + how_much(change) + ")";
  const Verdict was = change.first_asked->verdict, is = change.second_asked->verdict;
  if (was != is)
    return fmt::format("{}: {} before, {} now; {}.", line, verdict_words(was), verdict_words(is),
                       wanted(change));
  return fmt::format("{}: still {}; {}.", line, verdict_words(is), wanted(change));
}

bool is_asked(const FigureChange& change) {
  return change.first_asked && change.second_asked;
}

template <class Which>
void put_group(std::string& out, const Comparison& comparison, const std::string& heading,
               std::string_view bullet, const Which& which) {
  bool first = true;
  for (const FigureChange& change : comparison.figures) {
    if (!is_asked(change) || !which(change)) continue;
    if (first) out += "\n" + heading + "\n";
    first = false;
    put_wrapped(out, judged_line(change), bullet, "    ");
  }
}

// What is asked of a figure in one of the layouts alone, and of figures that only one of them has.
void put_only(std::string& out, const Comparison& comparison, const std::string& from,
              const std::string& to) {
  for (const bool second : {false, true}) {
    std::string text;
    for (const OnlyIn& only : comparison.only)
      if (only.in_second == second) text += (text.empty() ? "" : ", ") + only.kind + " " + quoted(only.name);
    if (!text.empty())
      put_wrapped(out, fmt::format("Only in {}: {}.", second ? to : from, text), "  - ", "    ");
  }
  for (const FigureChange& change : comparison.figures)
    if (change.first_asked.has_value() != change.second_asked.has_value())
      put_wrapped(out,
                  fmt::format("{}, {}: asked for in {} alone.", what_it_is(change),
                              change.kind == ChangedKind::zone ? "" : info(change.quantity).label,
                              change.second_asked ? to : from),
                  "  - ", "    ");
}

std::string hours_text(const Lamp& lamp) {
  return lamp.lit ? print_number(total_hours(*lamp.lit)) + " h" : "no hours";
}

std::string lamp_text(const LampChange& change, const LengthUnit& unit) {
  const Lamp &was = change.first, &is = change.second;
  std::string text = quoted(is.name) + ":";
  const auto add = [&](const std::string& part) { text += (text.back() == ':' ? " " : ", ") + part; };
  if (was.fixture->name != is.fixture->name)
    add(shortened(was.fixture->name, kNameColumns) + " to " + shortened(is.fixture->name, kNameColumns));
  if (was.at != is.at) add("moved from " + place_text(unit, was.at) + " to " + place_text(unit, is.at));
  if (was.aim != is.aim || was.along != is.along) add("turned");
  if (was.dim != is.dim) add("dimmer " + unbroken(percent(was.dim) + " to " + percent(is.dim)));
  if (was.burned_h != is.burned_h)
    add("burned " + unbroken(print_number(was.burned_h, 5) + " to " + print_number(is.burned_h, 5) + " h"));
  if (hours_text(was) != hours_text(is)) {
    add("lit " + unbroken(hours_text(was) + " to " + hours_text(is)) + " a day");
  } else if (text.back() == ':') {
    add("lit at other hours");
  }
  return text + ".";
}

void put_layouts(std::string& out, const Compared& compared, const std::string& from, const std::string& to) {
  const Comparison& comparison = compared.comparison;
  const LengthUnit unit(compared.second.scene.length_unit);
  std::string things;
  put_only(things, comparison, from, to);
  for (const LampChange& change : comparison.lamps)
    put_wrapped(things, "Lamp " + lamp_text(change, unit), "  - ", "    ");
  std::string altered;
  for (const OnlyIn& thing : comparison.altered)
    altered += (altered.empty() ? "" : ", ") + thing.kind + " " + quoted(thing.name);
  if (!altered.empty())
    put_wrapped(things, "Moved, or of another size or material: " + altered + ".", "  - ", "    ");
  if (!things.empty()) out += "\nHow the layouts differ\n" + things;
}

void put_unasked(std::string& out, const Comparison& comparison) {
  // Sizes of the same light that say the same are left to the files.
  constexpr std::array kTold = {Quantity::uvi, Quantity::irradiance, Quantity::ppfd, Quantity::dli};
  std::vector<const FigureChange*> changes;
  for (const FigureChange& change : comparison.figures)
    if (!change.first_asked && !change.second_asked && change.clear() &&
        (change.kind == ChangedKind::zone ||
         std::find(kTold.begin(), kTold.end(), change.quantity) != kTold.end()))
      changes.push_back(&change);
  if (changes.empty()) return;
  const auto ratio = [](const FigureChange* change) {
    const double least = std::min(change->first.value, change->second.value);
    return least > 0 ? std::abs(change->change) / least : HUGE_VAL;
  };
  std::stable_sort(changes.begin(), changes.end(),
                   [&](const FigureChange* a, const FigureChange* b) { return ratio(a) > ratio(b); });
  const std::size_t shown = std::min(changes.size(), kMostUnasked);
  out += "\nNot asked for, and clearly changed\n";
  for (std::size_t i = 0; i < shown; ++i)
    put_wrapped(out,
                what_it_is(*changes[i]) + ": " + from_to(*changes[i]) + " (" + how_much(*changes[i]) + ").",
                "  - ", "    ");
  if (changes.size() > shown)
    put_wrapped(out, fmt::format("and {} more, less so.", changes.size() - shown), "  - ", "    ");
}

std::string count_text(const Survey& survey, const std::string& name) {
  std::size_t all = 0, met = 0;
  const auto count = [&](Verdict verdict) {
    ++all;
    met += verdict == Verdict::met;
  };
  for (const Reading& reading : survey.readings)
    for (const WantResult& want : reading.wants) count(want.verdict);
  for (const ZoneWantResult& want : survey.zone_wants) count(want.verdict);
  if (survey.hottest)
    for (const HottestPlace* place : {&survey.hottest->uvi, &survey.hottest->irradiance})
      if (place->verdict) count(*place->verdict);
  if (all == 0) return name + " asks for nothing";
  return fmt::format("{} meets {} of {} wants", name, met, all);
}

std::string error_note(const Comparison& comparison) {
  return std::string("A change is clear where it is more than 2.13 standard errors. ") +
         (comparison.same_seed
              ? "Both layouts were traced with the same seed, so noise that they share drops out of the "
                "changes of readings and of the most in reach. "
              : "The layouts have seeds of their own, so no noise drops out: give --seed to both. ") +
         "For shares of zones, and on the maps, the two errors are taken as independent, which overstates "
         "them rather than not. None of this knows how far the lamps are from what was declared.";
}

}  // namespace

std::pair<std::string, std::string> layout_names(const Survey& first, const Survey& second) {
  const auto base = [](const Survey& survey) {
    return std::filesystem::path(survey.scene.file).filename().string();
  };
  if (base(first) != base(second)) return {printable(base(first)), printable(base(second))};
  return {"the first " + printable(base(first)), "the second " + printable(base(second))};
}

std::string compare_text(const Compared& compared) {
  const Comparison& comparison = compared.comparison;
  const auto [from, to] = layout_names(compared.first, compared.second);
  std::string out;
  put_wrapped(out, fmt::format("From {} to {}", from, to), "", "");
  const auto turned = [](Turn turn, bool verdict) {
    return [=](const FigureChange& change) {
      return change.turn == turn && change.verdict_changed() == verdict;
    };
  };
  put_group(out, comparison, "VERDICTS THAT CHANGED FOR THE WORSE", "  ! ", turned(Turn::worse, true));
  put_group(out, comparison, "Verdicts that changed for the better", "  + ", turned(Turn::better, true));
  put_group(out, comparison, "Verdicts that changed, neither better nor worse", "  ? ",
            turned(Turn::none, true));
  put_group(out, comparison, "Worse: closer to a limit, or further beyond it", "  - ",
            turned(Turn::worse, false));
  put_group(out, comparison, "Better: further from the limits, or less beyond them", "  + ",
            turned(Turn::better, false));
  put_group(out, comparison, "No clear change", "  = ", turned(Turn::none, false));
  put_unasked(out, comparison);
  put_layouts(out, compared, from, to);
  out += "\nHow sure this is\n";
  put_wrapped(out, error_note(comparison), "  ", "  ");
  out += "\n";
  put_wrapped(out,
              count_text(compared.first, from) + "; " + count_text(compared.second, to) +
                  ". Estimates, not measurements: the meter decides.",
              "", "");
  return out;
}

}  // namespace boughlight
