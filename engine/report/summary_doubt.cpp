#include "report/summary_doubt.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

// "UVI 3.1", "151 W/m2"
std::string brief_figure_text(Quantity quantity, double value) {
  const std::string figure = unbroken(value_text(quantity, value));
  return quantity == Quantity::uvi ? unbroken("UVI " + figure) : figure;
}

// After "because": "lamps like 'uv tube' differ".
std::string cause_text(const CauseShare& cause) {
  switch (cause.kind) {
    case CauseKind::lamp:
      return "lamps like " + quoted(cause.name) + " differ";
    case CauseKind::age:
      return "lamps like " + quoted(cause.name) + " age differently";
    case CauseKind::mesh:
      return "meshes like " + quoted(cause.name) + " differ";
    case CauseKind::reflected:
      return "walls and leaves may reflect more or less";
    case CauseKind::lamp_height:
      return quoted(cause.name) + " may hang higher or lower";
    case CauseKind::height:
      return "the place may be higher or lower";
    case CauseKind::meter:
      return "meters differ";
  }
  return "";
}

std::string loss_text(std::string_view name) {
  std::string text(name);
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

// The perch with the greatest UV index, and the lamp that gives most of it there.
const LossChain* sun_chain(const Survey& survey, const Reading*& perch) {
  const LossChain* most = nullptr;
  for (std::size_t i = 0; i < survey.doubt.readings.size(); ++i) {
    if (survey.readings[i].kind != ReadingKind::perch) continue;
    for (const LossChain& chain : survey.doubt.readings[i].chains)
      if (chain.quantity == Quantity::uvi && (!most || chain.value > most->value))
        most = &chain, perch = &survey.readings[i];
  }
  return most;
}

void put_chain(std::string& out, const Survey& survey, const LengthUnit& unit) {
  const Reading* perch = nullptr;
  const LossChain* chain = sun_chain(survey, perch);
  if (!chain) return;
  std::string text =
      fmt::format("{} in free air, new, {} from {}", brief_figure_text(chain->quantity, chain->start),
                  unbroken(unit.text(chain->start_m)), quoted(chain->lamp));
  bool whole = true;
  for (const Loss& loss : chain->losses) {
    whole = whole && loss.factor.has_value();
    constexpr double kNothing = 0.005;
    if (!loss.factor || std::abs(*loss.factor - 1) < kNothing) continue;
    text += ", " + unbroken(fmt::format("x {} {}", print_number(*loss.factor), loss_text(loss.name)));
  }
  text += whole ? fmt::format(" = {}, of {} in all.", print_number(chain->value),
                              print_number(perch->values.at(chain->quantity).value))
                : fmt::format(". Nothing comes straight: all of {} is reflected.",
                              brief_figure_text(chain->quantity, chain->value));
  out += fmt::format("\nOn the way to {}\n", shortened(perch->name, kNameColumns));
  put_wrapped(out, text, "  ", "  ");
}

// Wanted figures that the leaves' places move by more than a twentieth, the most first.
void put_leaves(std::string& out, const Survey& survey) {
  struct Moved {
    std::string text;
    double spread;
  };
  std::vector<Moved> all;
  for (std::size_t i = 0; i < survey.doubt.readings.size(); ++i)
    for (const WantResult& want : survey.readings[i].wants) {
      const auto& leaves = survey.doubt.readings[i].leaves;
      const auto found = leaves.find(want.want.quantity);
      constexpr double kSmall = 0.05;
      if (found == leaves.end() || found->second.relative_sd < kSmall) continue;
      all.push_back({unbroken(fmt::format("{} {}", shortened(survey.readings[i].name, kNameColumns),
                                          info(want.want.quantity).label)) +
                         " " +
                         unbroken(fmt::format("+-{} %", print_number(100 * found->second.relative_sd, 2))),
                     found->second.relative_sd});
    }
  if (all.empty()) return;
  std::stable_sort(all.begin(), all.end(),
                   [](const Moved& a, const Moved& b) { return a.spread > b.spread; });
  constexpr std::size_t kShown = 3;
  std::string text;
  for (std::size_t i = 0; i < std::min(all.size(), kShown); ++i) text += (i > 0 ? ", " : "") + all[i].text;
  out += "\nIf the leaves hang elsewhere (one standard deviation, straight light only)\n";
  put_wrapped(out, text + (all.size() > kShown ? fmt::format(", {} more less.", all.size() - kShown) : "."),
              "  ", "  ");
}

std::string break_text(const BrokenLimit& broken) {
  const std::string where = broken.reading.empty() ? "within reach" : shortened(broken.reading, kNameColumns);
  return fmt::format("{} {}, {} {}", where, brief_figure_text(broken.quantity, broken.figure.value),
                     broken.verdict == Verdict::below ? "below" : "above",
                     unbroken(print_number(broken.limit)));
}

void put_failures(std::string& out, const Survey& survey) {
  if (survey.doubt.failures.empty()) return;
  out += "\nIf something fails or changes (all else as declared)\n";
  std::string nothing;
  for (const FailureCase& about : survey.doubt.failures) {
    const auto fresh = [](const BrokenLimit& broken) { return !broken.already; };
    const auto count = std::count_if(about.breaks.begin(), about.breaks.end(), fresh);
    if (count == 0) {
      nothing += (nothing.empty() ? "" : "; ") + about.text;
      continue;
    }
    const BrokenLimit& worst = *std::find_if(about.breaks.begin(), about.breaks.end(), fresh);
    put_wrapped(out,
                fmt::format("{}: {}{}.", about.text, break_text(worst),
                            count > 1 ? fmt::format("; and {} more", count - 1) : ""),
                "  ! ", "    ");
  }
  if (!nothing.empty()) put_wrapped(out, "Nothing more breaks if: " + nothing + ".", "  - ", "    ");
}

void put_meter(std::string& out, const Survey& survey) {
  const MeterPlan& plan = survey.doubt.meter;
  if (plan.rows.empty()) return;
  out += "\nMeasure first (meter-sheet.txt to print, meter-sheet.csv to fill in)\n";
  constexpr std::size_t kShown = 3;
  for (std::size_t i = 0; i < std::min(plan.rows.size(), kShown); ++i) {
    const MeterRow& row = plan.rows[i];
    put_wrapped(out,
                fmt::format("{}{}: {}; {} fits what is declared.", shortened(row.place, 48),
                            row.lamps.empty() ? "" : ", only " + quoted(row.lamps) + " lit",
                            brief_figure_text(row.quantity, row.expected),
                            unbroken(fmt::format("{} to {}", print_number(row.low), print_number(row.high)))),
                fmt::format("  {}. ", i + 1), "     ");
  }
  const auto percent = [](double log_sd) { return print_number(100 * 1.96 * log_sd, 2); };
  put_wrapped(
      out,
      fmt::format(
          "{} readings in all would bring the doubt in what you asked for from {} to {} (typical, 95 %).",
          plan.rows.size(), unbroken("+-" + percent(plan.log_sd_before) + " %"),
          unbroken("+-" + percent(plan.log_sd_after) + " %")),
      "  ", "  ");
}

}  // namespace

std::string band_text(const Band& band) {
  std::string text =
      " may be " + unbroken(fmt::format("{} to {}", print_number(band.low), print_number(band.high)));
  if (!band.causes.empty()) text += ", most of it because " + cause_text(band.causes.front());
  return text;
}

std::string band_text(const Survey& survey, std::size_t reading, Quantity quantity) {
  if (reading >= survey.doubt.readings.size()) return "";
  const auto& bands = survey.doubt.readings[reading].bands;
  const auto band = bands.find(quantity);
  return band == bands.end() ? "" : band_text(band->second);
}

std::string doubt_sections(const Survey& survey) {
  const LengthUnit unit(survey.scene.length_unit);
  std::string out;
  put_failures(out, survey);
  put_meter(out, survey);
  put_chain(out, survey, unit);
  put_leaves(out, survey);
  return out;
}

}  // namespace boughlight
