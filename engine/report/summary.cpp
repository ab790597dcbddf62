// What a keeper reads first: at most 80 columns, worst news first. Plain ASCII but for names.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "assess/hottest.h"
#include "report/scale.h"
#include "report/summary_day.h"
#include "report/summary_doubt.h"
#include "report/summary_parts.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {
namespace {

// One judged thing. Rank 0: a limit is broken, 1: unsure, 2: met if the lamps are as declared, 3: met.
struct Finding {
  int rank = 0;
  std::string text;
};

int rank_of(Verdict verdict, const std::optional<bool>& firm = {}) {
  if (verdict != Verdict::met) return verdict == Verdict::unsure ? 1 : 0;
  return firm.value_or(true) ? 3 : 2;
}

// The doubt is shown where it may change what a keeper does: an open verdict or one that rests on fewer rays
// than asked for. It is twice the standard error, a little less than the 95 % interval.
std::string doubt(const Figure& figure, Verdict verdict, double size) {
  if (verdict != Verdict::unsure && figure.converged.value_or(true)) return "";
  return " +- " + print_number(2 * figure.se * size, 2);
}

std::string source_text(const std::string& source) {
  return source.empty() ? "" : ", most of it from " + quoted(source);
}

Finding hottest_finding(const HottestPlace& place, const std::optional<Band>& band, const LengthUnit& unit) {
  const Verdict verdict = place.verdict.value_or(Verdict::met);
  const std::string limit = place.limit ? unbroken(print_number(*place.limit)) : "";
  const std::string figure = with_name(place.quantity, value_text(place.quantity, place.figure.value)) +
                             doubt(place.figure, verdict, 1);
  std::string outcome = verdict == Verdict::above    ? "MORE THAN your limit of " + limit
                        : verdict == Verdict::unsure ? "too close to your limit of " + limit + " to call"
                                                     : "no more than your limit of " + limit;
  const int rank = rank_of(verdict, place.firm);
  return {rank,
          fmt::format("The animal can reach {}, {}: at {}{}{}.", figure, outcome, place_text(unit, place.at),
                      source_text(place.lamp), rank == 2 && band ? ";" + band_text(*band) : "")};
}

Finding want_finding(const Reading& reading, const WantResult& result, const std::string& band) {
  const Quantity quantity = result.want.quantity;
  const std::string unit(info(quantity).unit);
  const std::string figure = print_number(result.figure.value) + doubt(result.figure, result.verdict, 1) +
                             (unit.empty() ? "" : " " + unit);
  const int rank = rank_of(result.verdict, result.firm);
  return {rank,
          fmt::format("{}: {}, {}{}.", shortened(reading.name, kNameColumns), with_name(quantity, figure),
                      judged(result.verdict, limits_text(result.want.limits, 1, "")),
                      rank == 2 ? ";" + band : "")};
}

Finding zone_finding(const ZoneWantResult& result, const LengthUnit& unit) {
  const std::string share = result.want.share == ZoneShare::volume  ? "of the volume"
                            : result.want.share == ZoneShare::perch ? "of what can be sat on"
                                                                    : "of the poorest level";
  std::string where;
  if (result.level_z) where = " (" + unbroken("z " + unit.text(*result.level_z)) + ")";
  return {rank_of(result.verdict),
          fmt::format("{} zone: {} {}{}, {}.", result.want.zone,
                      unbroken(print_number(100 * result.figure.value) +
                               doubt(result.figure, result.verdict, 100) + " %"),
                      share, where, judged(result.verdict, limits_text(result.want.limits, 100, "%")))};
}

std::vector<Finding> findings_of(const Survey& survey, const LengthUnit& unit) {
  std::vector<Finding> findings;
  if (survey.hottest) {
    const auto add = [&](const HottestPlace& place, const std::optional<Band>& band) {
      if (place.limit) findings.push_back(hottest_finding(place, band, unit));
    };
    add(survey.hottest->uvi, survey.doubt.hottest_uvi);
    add(survey.hottest->irradiance, survey.doubt.hottest_irradiance);
  } else if (never_unjudged(survey)) {
    findings.push_back(
        {rank_of(Verdict::unsure),
         fmt::format("What the animal should never meet is not judged: with a reach of {} no place is "
                     "left that it gets to.",
                     unit.text(survey.scene.animal->reach))});
  }
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    for (const WantResult& result : survey.readings[i].wants)
      findings.push_back(
          want_finding(survey.readings[i], result, band_text(survey, i, result.want.quantity)));
  }
  for (const ZoneWantResult& result : survey.zone_wants) findings.push_back(zone_finding(result, unit));
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.rank < b.rank; });
  return findings;
}

void put_findings(std::string& out, const std::vector<Finding>& findings) {
  constexpr std::array<std::string_view, 4> kHeadings = {
      "NOT AS WANTED", "UNSURE (the limit lies within the doubt)",
      "Met, if the lamp is as declared ('may be' holds for 19 of 20 set-ups like it)", "As wanted"};
  constexpr std::array<std::string_view, 4> kBullets = {"  ! ", "  ? ", "  ~ ", "  - "};
  int rank = -1;
  for (const Finding& finding : findings) {
    const auto index = static_cast<std::size_t>(finding.rank);
    if (finding.rank != rank) out += fmt::format("\n{}\n", kHeadings[index]);
    rank = finding.rank;
    put_wrapped(out, finding.text, kBullets[index], "    ");
  }
}

void put_table(std::string& out, const std::vector<Reading>& readings) {
  if (readings.empty()) return;
  struct Column {
    Quantity quantity;
    std::string_view head, unit;
    int width;
  };
  constexpr std::array<Column, 5> kTable = {{{Quantity::uvi, "UVI", "", 8},
                                             {Quantity::irradiance, "power", "W/m2", 8},
                                             {Quantity::lux, "light", "lx", 9},
                                             {Quantity::ppfd, "PPFD", "umol/m2/s", 11},
                                             {Quantity::dli, "DLI", "mol/m2/d", 10}}};
  constexpr int kName = 31;
  std::string head = left_aligned("Readings", kName), units = left_aligned("", kName);
  for (const Column& column : kTable) {
    head += right_aligned(column.head, column.width);
    units += right_aligned(column.unit, column.width);
  }
  out += "\n" + head + "\n" + units + "\n";
  const auto put_row = [&](const std::string& name, const Figures& values) {
    std::string row = left_aligned(name, kName);
    for (const Column& column : kTable) {
      const auto found = values.find(column.quantity);
      row += right_aligned(
          found == values.end() ? "-" : stepped(found->second.value, finest_step(column.quantity)),
          column.width);
    }
    out += row + "\n";
  };
  for (const Reading& reading : readings) {
    const bool plant = reading.kind == ReadingKind::plant;
    put_row("  " + shortened(reading.name, kName - 4), reading.values);
    if (plant && reading.top_at) put_row("    its top", reading.top);
  }
  put_wrapped(
      out,
      "Perches: at the animal's back, the sensor turned to the brightest unless the scene says otherwise. "
      "Plants: mean over the crown, the sensor facing up.",
      "  ", "  ");
}

void put_zones(std::string& out, const Survey& survey) {
  if (survey.zones.empty()) return;
  out += "\nZones\n";
  for (const auto& [name, fraction] : survey.zones) {
    std::string line = fmt::format("  {}: {} of the volume", name, percent(fraction.volume.value));
    if (fraction.perch) line += ", " + percent(fraction.perch->value) + " of what can be sat on";
    out += line + "\n";
  }
}

void put_hottest(std::string& out, const Survey& survey, const LengthUnit& unit) {
  if (!survey.hottest) return;
  const auto put_place = [&](const HottestPlace& place) {
    std::string over;
    if (place.limit && place.verdict.value_or(Verdict::met) == Verdict::above) {
      over = fmt::format(", MORE THAN your limit of {}", print_number(*place.limit));
    }
    put_wrapped(out,
                fmt::format("{}{}: at {}{}",
                            with_name(place.quantity, value_text(place.quantity, place.figure.value)), over,
                            place_text(unit, place.at), source_text(place.lamp)),
                "  - ", "    ");
  };
  out += "\nThe most within the animal's reach\n";
  put_place(survey.hottest->uvi);
  put_place(survey.hottest->irradiance);
  out += "If every dimmer goes to full (a sensor that falls, a dimmer that fails)\n";
  put_place(survey.hottest->uvi_at_full);
  put_place(survey.hottest->irradiance_at_full);
}

std::string verdict_line(const Survey& survey, const std::vector<Finding>& findings) {
  const auto count = [&](int rank) {
    return std::count_if(findings.begin(), findings.end(),
                         [rank](const Finding& f) { return f.rank == rank; });
  };
  std::string verdict;
  if (survey.verdict == WholeVerdict::met) {
    verdict = findings.empty() ? "Nothing was asked for" : "All wants met";
    if (count(2) > 0) verdict += fmt::format(", {} of them if the lamp is as declared", count(2));
  } else if (survey.verdict == WholeVerdict::unsure) {
    verdict = fmt::format("{} of {} unsure", count(1), findings.size());
  } else {
    verdict = fmt::format("{} of {} not met", count(0), findings.size());
    if (count(1) > 0) verdict += fmt::format(", {} unsure", count(1));
  }
  return verdict + ". Estimates, not measurements: the meter decides.";
}

}  // namespace

std::string terminal_summary(const Survey& survey) {
  const LengthUnit unit(survey.scene.length_unit);
  const std::vector<Finding> findings = findings_of(survey, unit);
  const std::string file = std::filesystem::path(survey.scene.file).filename().string();
  std::string out = shortened(survey.scene.title.empty() ? file : survey.scene.title, kColumns) + "\n";
  put_findings(out, findings);
  put_mends(out, survey, unit);
  put_table(out, survey.readings);
  put_zones(out, survey);
  put_hottest(out, survey, unit);
  put_animal(out, survey, unit);
  put_day_summary(out, survey);
  out += doubt_sections(survey);
  if (!survey.cautions.empty()) {
    out += "\nCautions\n";
    for (const Caution& caution : survey.cautions)
      put_wrapped(out, caution.reason.empty() ? caution.text : caution.text + " " + caution.reason, "  - ",
                  "    ");
  }
  out += "\n";
  put_wrapped(out, verdict_line(survey, findings), "", "");
  return out;
}

}  // namespace boughlight
