#include "report/summary_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/scale.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

std::string named(const std::string& name) {
  return shortened(name, kNameColumns);
}

// --- doses

void put_doses(std::string& out, const Survey& survey) {
  if (survey.day.clock.sources.empty()) return;
  struct Column {
    Quantity quantity;
    std::string_view head, unit;
    double step;
  };
  constexpr std::array<Column, 4> kTable = {{{Quantity::uvi_hours, "UVI hours", "h", 0.1},
                                             {Quantity::sed, "UV dose", "SED", 0.1},
                                             {Quantity::infrared_hours, "infrared", "kWh/m2", 0.01},
                                             {Quantity::dli, "DLI", "mol/m2/d", 0.01}}};
  constexpr int kName = 31, kWidth = 12;
  std::string head = left_aligned("Over the day", kName), units = left_aligned("", kName), rows;
  for (const Column& column : kTable) {
    head += right_aligned(column.head, kWidth);
    units += right_aligned(column.unit, kWidth);
  }
  for (const Reading& reading : survey.readings) {
    if (reading.kind != ReadingKind::perch) continue;
    rows += left_aligned("  " + shortened(reading.name, kName - 4), kName);
    for (const Column& column : kTable) {
      const double value = reading.values.at(column.quantity).value;
      const double shown = std::round(value / column.step) * column.step;
      rows += right_aligned(value > 0 && shown == 0 ? "<" + print_number(column.step) : print_number(shown),
                            kWidth);
    }
    rows += "\n";
  }
  if (!rows.empty()) out += "\n" + head + "\n" + units + "\n" + rows;
  const auto& dark = survey.day.clock.longest_dark;
  if (!dark) return;
  if (rows.empty()) out += "\nOver the day\n";
  out +=
      fmt::format("  Dark for {} h at the longest, from {} to {}.\n", print_number(dark->to_h - dark->from_h),
                  print_clock_time(dark->from_h), print_clock_time(dark->to_h));
}

// --- plants

// Worst first.
int badness(PlantStanding standing) {
  switch (standing) {
    case PlantStanding::does_not_live:
    case PlantStanding::too_much:
      return 3;
    case PlantStanding::does_not_hold:
    case PlantStanding::only_survives:
      return 2;
    case PlantStanding::does_not_grow:
      return 1;
    case PlantStanding::holds:
    case PlantStanding::grows:
      return 0;
  }
  return 0;
}

// "only survives (0.4)"; the part that it is said of comes before.
std::string with_value(PlantStanding standing, const Figures& figures, Quantity quantity) {
  const std::string unit = quantity == Quantity::dli ? "" : " " + std::string(info(quantity).unit);
  return unbroken(fmt::format("{}{} ({}{})", standing == PlantStanding::too_much ? "gets " : "",
                              standing_name(standing), print_number(figures.at(quantity).value, 2), unit));
}

void put_plants(std::string& out, const Survey& survey) {
  std::vector<std::pair<int, std::string>> lines;
  for (const PlantFindings& plant : survey.day.plants)
    for (const NeedStanding& found : plant.needs) {
      const Reading& reading = survey.readings[plant.reading];
      const Quantity quantity = found.need.quantity;
      const std::string label = quantity == Quantity::dli ? "DLI" : std::string(info(quantity).label);
      lines.emplace_back(
          badness(found.crown),
          fmt::format("{}, {}: {}{}; its top {}, its middle {}, its shaded side {}.", named(reading.name),
                      label, with_value(found.crown, reading.values, quantity),
                      found.sure ? "" : ", too close to call", with_value(found.top, reading.top, quantity),
                      with_value(found.middle, plant.middle, quantity),
                      with_value(found.shaded, plant.shaded, quantity)));
    }
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  const auto& floor = survey.day.floor;
  const bool with_floor = floor && floor->dli_mean && !survey.scene.plants.empty();
  if (lines.empty() && !with_floor) return;
  out += "\nPlants\n";
  for (const auto& [rank, text] : lines) put_wrapped(out, text, rank > 1 ? "  ! " : "  - ", "    ");
  if (!with_floor) return;
  put_wrapped(out,
              fmt::format("The floor, {}: DLI {} on average, {} to {} over most of it.",
                          unbroken("z " + LengthUnit(survey.scene.length_unit).text(floor->z)),
                          print_number(*floor->dli_mean, 2), print_number(floor->dli_low.value_or(0), 2),
                          print_number(floor->dli_high.value_or(0), 2)),
              "  - ", "    ");
}

// --- warmth

std::string warmth_text(const Warmth& back) {
  return fmt::format("{:.0f} ({:.0f}-{:.0f})", back.value_c, back.low_c, back.high_c);
}

void put_warmth(std::string& out, const Survey& survey) {
  const std::vector<PerchWarmth>& perches = survey.day.warmth;
  if (perches.empty()) return;
  constexpr int kName = 31, kWidth = 16;
  std::string head = left_aligned("Warmth of a dry, dark back, C", kName);
  for (const WarmthCase& found : perches.front().cases)
    if (!found.full_power)
      head += right_aligned(fmt::format("{}: {} C", found.air, print_number(found.air_c)), kWidth);
  out += "\n" + head + "\n";
  for (const PerchWarmth& perch : perches) {
    std::string declared =
        left_aligned("  " + shortened(survey.readings[perch.reading].name, kName - 4), kName);
    std::string full = left_aligned("    every dimmer at full", kName);
    bool differs = false;
    for (const WarmthCase& found : perch.cases) {
      (found.full_power ? full : declared) += right_aligned(warmth_text(found.back), kWidth);
      differs = differs ||
                (found.full_power && found.irradiance_w_m2 > 1.005 * perch.cases.front().irradiance_w_m2);
    }
    out += declared + "\n";
    if (differs) out += full + "\n";
  }
  put_wrapped(
      out,
      std::string("An estimate and its band, with all lamps on, in still room air; the air inside may be "
                  "warmer. Only a probe at the back decides.") +
          (survey.day.warmth_body_assumed ? " Without 'animal.body' a back of 15 by 5 cm is assumed." : ""),
      "  ", "  ");
}

// --- people

std::string time_text(const std::optional<double>& minutes) {
  if (!minutes) return "not within 8 h";
  return *minutes < 120 ? print_number(*minutes, 2) + " min" : print_number(*minutes / 60, 2) + " h";
}

std::string share_text(double share) {
  return share > 0 && share < 0.01 ? "<1 %" : print_number(100 * share, 2) + " %";
}

void put_people(std::string& out, const Survey& survey) {
  if (survey.day.people.empty()) return;
  out += "\nPeople at work, lamps on\n";
  for (const WorkplaceFindings& found : survey.day.people) {
    const Workplace& workplace = survey.scene.workplaces[found.workplace];
    std::string text = fmt::format(
        "{}: bare skin and eyes reach the daily limit {}{}, eyes that for UVA {}{}", named(workplace.name),
        found.skin_minutes ? "in " : "", unbroken(time_text(found.skin_minutes)),
        found.eye_minutes ? "in " : "", unbroken(time_text(found.eye_minutes)));
    if (workplace.hours_a_day > 0)
      text += fmt::format("; {} a day take {}", unbroken(print_number(60 * workplace.hours_a_day) + " min"),
                          unbroken(share_text(std::max(found.skin_share, found.eye_share))));
    put_wrapped(out, text + ".", std::max(found.skin_share, found.eye_share) > 1 ? "  ! " : "  - ", "    ");
  }
  put_wrapped(
      out,
      "The limits are those for people at work (ICNIRP 2004): what nearly everybody bears day after day "
      "without harm, not a safe dose for everybody.",
      "  ", "  ");
}

}  // namespace

void put_day_summary(std::string& out, const Survey& survey) {
  put_doses(out, survey);
  put_plants(out, survey);
  put_warmth(out, survey);
  put_people(out, survey);
}

}  // namespace boughlight
