#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <map>

#include "report/outlook_report.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "units/units.h"

namespace boughlight {
namespace {

std::string months_text(double months) {
  return unbroken(print_number(months, 2) + (months == 1 ? " month" : " months"));
}

std::string when_text(double month) {
  // Finer than a tenth of a month nobody can plan.
  const double told = std::round(10 * month) / 10;
  return told <= 0 ? "today" : "after " + months_text(told);
}

std::string quantity_text(Quantity quantity, double value) {
  return with_name(quantity, value_text(quantity, value));
}

std::string lowered(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  return text;
}

std::string remedy_words(const Remedy& remedy) {
  switch (remedy.kind) {
    case RemedyKind::new_lamp:
      return "a new " + quoted(remedy.lamp);
    case RemedyKind::clean:
      return "clean meshes";
    case RemedyKind::trim:
      return "plants trimmed to today's size";
    case RemedyKind::lower:
      return "the branch lowered by what the back has risen";
    default:
      return "all of that together";
  }
}

std::string remedied_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return "as wanted";
    case Verdict::below:
      return "still too low";
    case Verdict::above:
      return "still too high";
    default:
      return "too close to call";
  }
}

std::string remedies_text(const Watched& watched) {
  const std::vector<Remedy>& remedies = watched.fails->remedies;
  if (remedies.empty()) return "";
  std::string text;
  for (const Remedy& remedy : remedies) {
    text += text.empty() ? " Then " : "; ";
    text += fmt::format("{} would give {} ({})", remedy_words(remedy),
                        unbroken(value_text(watched.quantity, remedy.figure.value)),
                        remedied_words(remedy.verdict));
  }
  return text + ".";
}

// "between 7.1 and 7.9 months by the error of the computation"
std::string doubt_text(const Failing& fails, double horizon) {
  if (!fails.latest)
    return fmt::format("perhaps from month {} on; not sure within {}", print_number(fails.earliest, 2),
                       months_text(horizon));
  if (*fails.latest - fails.earliest < 0.1) return "";
  return fmt::format("month {} to {} by the error of the computation", print_number(fails.earliest, 2),
                     print_number(*fails.latest, 2));
}

std::string failing_text(const Watched& watched, double horizon) {
  const Failing& fails = *watched.fails;
  const std::string limit = unbroken(print_number(fails.limit));
  const double now = watched.figures.front().value, then = watched.figures.back().value;
  const std::string trend = unbroken(value_text(watched.quantity, now)) + " today, " +
                            unbroken(value_text(watched.quantity, then)) + " at the end";
  const std::string name = watched_name(watched) + ": ";
  if (fails.month <= 0)
    return fmt::format("{}{}, {} (wanted {}).{}", name, quantity_text(watched.quantity, now),
                       fails.verdict == Verdict::below ? "too low today" : "too high today",
                       limits_text(*watched.limits, 1, ""), remedies_text(watched));
  const std::string doubt = doubt_text(fails, horizon);
  return fmt::format("{}{} {} {} {}{}: {}.{}", name,
                     watched.quantity == Quantity::uvi ? "UVI" : info(watched.quantity).label,
                     fails.verdict == Verdict::below ? "falls below" : "rises above", limit,
                     when_text(fails.month), doubt.empty() ? "" : " (" + doubt + ")", trend,
                     remedies_text(watched));
}

void put_failing(std::string& out, const OutlookResult& outlook) {
  std::vector<const Watched*> today, later, unsure, fine;
  for (const Watched& watched : outlook.watched) {
    if (!watched.limits) continue;
    if (watched.fails) {
      (watched.fails->month <= 0 ? today : later).push_back(&watched);
    } else {
      (watched.ever_unsure() ? unsure : fine).push_back(&watched);
    }
  }
  std::stable_sort(later.begin(), later.end(),
                   [](const Watched* a, const Watched* b) { return a->fails->month < b->fails->month; });
  const auto put = [&](const std::string& heading, const std::vector<const Watched*>& list,
                       std::string_view bullet, const auto& text) {
    if (list.empty()) return;
    out += "\n" + heading + "\n";
    for (const Watched* watched : list) put_wrapped(out, text(*watched), bullet, "    ");
  };
  const auto broken = [&](const Watched& watched) { return failing_text(watched, outlook.ahead.months); };
  const auto standing = [](const Watched& watched) {
    return fmt::format("{}: {} today, {} at the end; wanted {}.", watched_name(watched),
                       quantity_text(watched.quantity, watched.figures.front().value),
                       unbroken(value_text(watched.quantity, watched.figures.back().value)),
                       limits_text(*watched.limits, 1, ""));
  };
  put("WHAT FAILS, AND WHEN, IF NOTHING IS DONE", later, "  ! ", broken);
  put("NOT AS WANTED TODAY", today, "  ! ", broken);
  put("TOO CLOSE TO CALL AT SOME TIME", unsure, "  ? ", standing);
  put(fmt::format("As wanted for all {}", months_text(outlook.ahead.months)), fine, "  - ", standing);
}

std::string zone_share(const ZoneWant& want) {
  return want.share == ZoneShare::volume  ? "of the volume"
         : want.share == ZoneShare::perch ? "of what can be sat on"
                                          : "of the poorest level";
}

void put_zones(std::string& out, const OutlookResult& outlook) {
  if (outlook.zones.empty()) return;
  out += "\nShares of the enclosure, surveyed today and at the end\n";
  for (const ZoneAhead& zone : outlook.zones) {
    const bool kept = zone.verdict_today == Verdict::met && zone.verdict_end == Verdict::met;
    put_wrapped(out,
                fmt::format("{} zone: {} {} today ({}), {} at the end ({}); wanted {}.", zone.want.zone,
                            unbroken(percent(zone.today.value)), zone_share(zone.want),
                            verdict_words(zone.verdict_today), unbroken(percent(zone.end.value)),
                            verdict_words(zone.verdict_end), limits_text(zone.want.limits, 100, "%")),
                kept ? "  - " : "  ! ", "    ");
  }
}

// What single thing keeps wants, by when: the first month at which one of them fails.
void put_jobs(std::string& out, const OutlookResult& outlook) {
  struct Job {
    double month = 0;
    std::vector<std::string> mends;
  };
  std::map<std::pair<RemedyKind, std::string>, Job> jobs;
  for (const Watched& watched : outlook.watched) {
    if (!watched.fails) continue;
    for (const Remedy& remedy : watched.fails->remedies) {
      if (remedy.verdict != Verdict::met || remedy.kind == RemedyKind::everything) continue;
      Job& job = jobs[{remedy.kind, remedy.lamp}];
      job.month = job.mends.empty() ? watched.fails->month : std::min(job.month, watched.fails->month);
      job.mends.push_back(
          watched_name(watched) + " (" +
          std::string(watched.quantity == Quantity::uvi ? "UVI" : info(watched.quantity).label) + ")");
    }
  }
  std::vector<std::pair<double, std::string>> lines;
  for (const auto& [what, job] : jobs) {
    const std::string when =
        job.month <= 0 ? "now" : "by month " + print_number(std::floor(10 * job.month) / 10, 2);
    std::string doing;
    switch (what.first) {
      case RemedyKind::new_lamp: {
        const auto lamp = std::find_if(outlook.lamps.begin(), outlook.lamps.end(),
                                       [&name = what.second](const LampAhead& l) { return l.name == name; });
        const double share = outlook.months.back() > 0 ? job.month / outlook.months.back() : 0;
        doing = fmt::format("replace {}, which has burned {} h by then", quoted(what.second),
                            print_number(std::lerp(lamp->burned_h.front(), lamp->burned_h.back(), share)));
        break;
      }
      case RemedyKind::clean:
        doing = "clean the meshes";
        break;
      case RemedyKind::trim:
        doing = "trim the plants to today's size";
        break;
      default:
        doing = "lower the branch by what the back has risen";
        break;
    }
    std::string mends;
    for (const std::string& one : job.mends) mends += (mends.empty() ? "" : ", ") + one;
    lines.emplace_back(job.month, fmt::format("{}: {}. That alone mends {}.", when, doing, mends));
  }
  for (const OutlookResult::PlantAhead& plant : outlook.plants)
    for (const CrownTouch& touch : plant.touches)
      if (touch.what == "perch" && touch.month > 0)
        lines.emplace_back(
            touch.month, fmt::format("by month {}: trim {}, whose leaves then reach the animal's back on {}.",
                                     print_number(std::floor(10 * touch.month) / 10, 2), quoted(plant.name),
                                     quoted(touch.name)));
  if (lines.empty()) return;
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  out += "\nWhat to do, and when\n";
  for (const auto& [month, text] : lines) put_wrapped(out, text, "  - ", "    ");
}

void put_new_lamps(std::string& out, const OutlookResult& outlook) {
  bool any = false;
  for (const NewLamp& fresh : outlook.new_lamps) {
    if (fresh.changes.empty()) continue;
    if (!any) out += "\nWhat a new lamp does then, all else as it is\n";
    any = true;
    const double month = outlook.months[fresh.month_index];
    std::string text;
    for (const NewLamp::Change& change : fresh.changes) {
      const Watched& watched = outlook.watched[change.watched];
      if (!watched.limits) continue;
      std::string judged;
      if (change.verdict != Verdict::met)
        judged = change.verdict == Verdict::above   ? " (TOO HIGH)"
                 : change.verdict == Verdict::below ? " (too low)"
                                                    : " (too close to call)";
      text += fmt::format("{}{} {} to {}{}", text.empty() ? "" : "; ", lowered(watched_name(watched)),
                          quantity_text(watched.quantity, change.aged.value),
                          unbroken(value_text(watched.quantity, change.fresh.value)), judged);
    }
    if (text.empty()) text = "no wanted figure changes by a hundredth";
    put_wrapped(out,
                fmt::format("{}, new {}: {}.", quoted(fresh.lamp),
                            month <= 0 ? "today" : "after " + months_text(month), text),
                "  - ", "    ");
  }
}

void put_growth(std::string& out, const OutlookResult& outlook) {
  if (outlook.plants.empty() && outlook.backs.empty()) return;
  out += "\nGrowing\n";
  const LengthUnit unit(outlook.scene.length_unit);
  for (const OutlookResult::PlantAhead& plant : outlook.plants) {
    const GrowthCurve& curve = outlook.ahead.growing.at(plant.name);
    std::string text = fmt::format("{}: growth {} today, {} at the end ({}, at most {})",
                                   shortened(plant.name, kNameColumns), print_number(plant.growth.front()),
                                   print_number(plant.growth.back()), growth_form_name(curve.form),
                                   print_number(curve.largest));
    std::string reaches, has;
    for (const CrownTouch& touch : plant.touches) {
      const std::string what = touch.what == "mesh" ? "the mesh (" + printable(touch.name) + ")"
                                                    : "the back on " + quoted(touch.name);
      if (touch.month <= 0) {
        has += (has.empty() ? "" : " and ") + what;
      } else {
        reaches += (reaches.empty() ? "" : ", ") + what + " " + when_text(touch.month);
      }
    }
    if (!has.empty()) text += "; its leaves touch " + has + " already";
    if (!reaches.empty()) text += "; its leaves reach " + reaches;
    put_wrapped(out, text + ".", "  - ", "    ");
  }
  if (!outlook.backs.empty())
    put_wrapped(
        out,
        fmt::format("The animal's back: {} above what it sits on today, {} at the end.",
                    unbroken(unit.text(outlook.backs.front())), unbroken(unit.text(outlook.backs.back()))),
        "  - ", "    ");
}

void put_lamps(std::string& out, const OutlookResult& outlook) {
  if (outlook.lamps.empty()) return;
  out += "\nLamps\n";
  for (const LampAhead& lamp : outlook.lamps) {
    std::string text = shortened(lamp.name, kNameColumns) + ": ";
    if (!lamp.has_hours) {
      text += "no hours ('lit'), so it does not age here.";
    } else {
      text += fmt::format("burned {} today, {} at the end; ",
                          unbroken(print_number(lamp.burned_h.front()) + " h"),
                          unbroken(print_number(lamp.burned_h.back()) + " h"));
      text += lamp.output.back() < 1 ? fmt::format("then gives {} of what it gives today.",
                                                   unbroken(percent(lamp.output.back())))
                                     : "its file tells no loss of output.";
    }
    put_wrapped(out, text, "  - ", "    ");
  }
}

void put_taken(std::string& out, const OutlookResult& outlook) {
  out += "\nTaken for granted\n";
  const auto put = [&](const std::string& text) { put_wrapped(out, text, "  - ", "    "); };
  if (outlook.has_meshes) {
    const MonthsAhead& ahead = outlook.ahead;
    if (!ahead.fouling_given)
      put(
          fmt::format("Meshes of which the scene says nothing lose {} of their light a month, layer by "
                      "layer: at that rate a clean one is down to 70 % in a year, when keepers clean (common "
                      "practice, no source). Say better with 'outlook: {{fouling: ...}}'.",
                      unbroken(percent(ahead.fouling))));
    put("Meshes are as they stand in the scene today, and foul evenly from then on.");
  }
  const std::size_t still = outlook.scene.plants.size() - outlook.plants.size();
  if (still > 0)
    put(
        fmt::format("{} of {} plants have no growth curve and stay as they are; give 'outlook: {{growing: "
                    "...}}'.",
                    still, outlook.scene.plants.size()));
  if (!outlook.plants.empty())
    put("Crowns grow evenly in all directions, and no leaf is bent aside by a mesh or a wall. A dip in a "
        "single "
        "month is a leaf that hangs in the way then; where yours will hang nobody knows.");
  put("Sensors stay turned as they are today, and the most in reach is looked at where it is today.");
  if (outlook.traced_scenes > 1)
    put(fmt::format(
        "Light was traced for {} states of crowns and animal, to about {} of each figure, with "
        "the same random numbers, so that what changes is the scene; each figure is today's survey's "
        "times that change. Ageing and fouling are "
        "weighed from that.",
        outlook.traced_scenes, unbroken(percent(outlook.tolerance))));
  put("Times come of the scene as declared. Lamps of one type differ by 15 to 20 %, and age and foul as they "
      "like: read a meter every month or two.");
}

std::string verdict_line(const OutlookResult& outlook) {
  std::size_t wanted = 0, fails = 0;
  std::optional<double> first;
  for (const Watched& watched : outlook.watched) {
    wanted += watched.limits.has_value();
    if (!watched.fails) continue;
    ++fails;
    first = std::min(first.value_or(HUGE_VAL), watched.fails->month);
  }
  std::string text;
  if (wanted == 0) {
    text = "Nothing was asked for";
  } else if (fails == 0) {
    text =
        fmt::format("None of {} wanted figures fails within {}", wanted, months_text(outlook.ahead.months));
  } else {
    text = fmt::format("{} of {} wanted figures fail within {}, the first {}", fails, wanted,
                       months_text(outlook.ahead.months), when_text(*first));
  }
  return text + ". Estimates, not measurements: the meter decides.";
}

}  // namespace

std::string watched_name(const Watched& watched) {
  return watched.hottest ? "The most in reach" : shortened(watched.reading, kNameColumns);
}

std::string outlook_text(const OutlookResult& outlook) {
  const Scene& scene = outlook.scene;
  const std::string file = std::filesystem::path(scene.file).filename().string();
  std::string out;
  put_wrapped(
      out,
      printable(scene.title.empty() ? file : scene.title) + ": the next " + months_text(outlook.ahead.months),
      "", "");
  put_failing(out, outlook);
  put_zones(out, outlook);
  put_jobs(out, outlook);
  put_new_lamps(out, outlook);
  put_growth(out, outlook);
  put_lamps(out, outlook);
  put_taken(out, outlook);
  out += "\n";
  put_wrapped(out, verdict_line(outlook), "", "");
  return out;
}

}  // namespace boughlight
