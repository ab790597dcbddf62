// Cautions about heat on the animal.
#include <fmt/format.h>

#include <algorithm>

#include "assess/caution_parts.h"
#include "assess/facts.h"

namespace boughlight {
namespace {

// Human skin burns at 43 C in hours of contact (ISO 13732-1, from memory); no limit for lizards' skin is
// published.
constexpr double kSkin_c = 43;

std::string warmth_text(const WarmthCase& found) {
  return fmt::format("{:.0f} C ({:.0f} to {:.0f} C)", found.back.value_c, found.back.low_c,
                     found.back.high_c);
}

void add_warm_backs(const Survey& survey, Cautions& cautions) {
  for (const PerchWarmth& perch : survey.day.warmth) {
    const auto worst =
        std::max_element(perch.cases.begin(), perch.cases.end(),
                         [](const auto& a, const auto& b) { return a.back.high_c < b.back.high_c; });
    if (worst == perch.cases.end() || worst->back.high_c < kSkin_c) continue;
    // What it gets on any day is not to be taken for a fault's.
    const WarmthCase& as_declared = perch.cases.front();
    const std::string usual = &as_declared == &*worst || as_declared.back.high_c < kSkin_c
                                  ? ""
                                  : fmt::format(", and {} as declared in a room of {} C",
                                                warmth_text(as_declared), print_number(as_declared.air_c));
    cautions.push_back(
        {"warmth",
         fmt::format("On '{}' a dry, dark back may get as warm as {}, {}in a room of {} C{}: an estimate, a "
                     "probe there "
                     "decides.",
                     survey.readings[perch.reading].name, warmth_text(*worst),
                     worst->full_power ? "with every dimmer at full " : "", print_number(worst->air_c),
                     usual),
         "Human skin burns at 43 C within hours (ISO 13732-1, from memory); no limit for lizards is "
         "published."});
  }
}

// In reach, where nobody says how much is too much.
void add_unlimited_heat(const Survey& survey, Cautions& cautions) {
  if (!survey.hottest || survey.hottest->irradiance.limit) return;
  const double now = survey.hottest->irradiance.figure.value;
  const double full = survey.hottest->irradiance_at_full.figure.value;
  if (std::max(now, full) <= kFullSun_w_m2) return;
  cautions.push_back(
      {"unlimited-heat",
       fmt::format(
           "The closest reachable place gets {}{}, and no limit in 'animal.never' says whether that is "
           "too much.",
           with_unit(Quantity::irradiance, now),
           full > 1.01 * now
               ? fmt::format(" ({} with every dimmer at full)", with_unit(Quantity::irradiance, full))
               : ""),
       "Full sun is about 1000 W/m2 (ASTM G173). Hot lamps burn animals that reach them: give 'never' a "
       "limit "
       "for irradiance, and a probe there decides."});
}

// Lamps that heat: most of what they give a perch is infrared, and it is no trifle.
bool heats(const Survey& survey, const std::string& lamp) {
  constexpr double kHeat_w_m2 = 100;
  const double irradiance = most_at_perches(survey, lamp, Quantity::irradiance);
  return irradiance >= kHeat_w_m2 && most_at_perches(survey, lamp, Quantity::infrared) > 0.5 * irradiance;
}

void add_cold_mornings(const Survey& survey, Cautions& cautions) {
  const auto& air = survey.scene.air;
  if (!air || !air->warm_from_h) return;
  for (const Lamp& lamp : survey.scene.lamps) {
    if (!lamp.lit || !heats(survey, lamp.name)) continue;
    for (const ClockSpan& span : joined_over_midnight(*lamp.lit)) {
      if (span.from_h >= *air->warm_from_h) continue;
      cautions.push_back(
          {"cold-heat",
           fmt::format("'{}' comes on at {}{}, before the room is warm at {}.", lamp.name,
                       print_clock_time(span.from_h), lamp.ramp_h > 0 ? "" : ", at once and without a ramp",
                       print_clock_time(*air->warm_from_h)),
           "A cold animal that basks can burn its skin before its body is warm (common practice, no "
           "source)."});
      break;
    }
  }
}

}  // namespace

void add_full_power(const Survey& survey, Cautions& cautions) {
  if (!survey.hottest) return;
  for (const HottestPlace* place : {&survey.hottest->uvi_at_full, &survey.hottest->irradiance_at_full})
    if (place->verdict && *place->verdict == Verdict::above)
      cautions.push_back(
          {"full-power",
           fmt::format(
               "With every dimmer at full the closest reachable place gets {}, above the limit of {}.",
               with_unit(place->quantity, place->figure.value), print_number(*place->limit)),
           "A dimmer or its sensor that fails must not be able to harm the animal."});
}

void add_warmth(const Survey& survey, Cautions& cautions) {
  add_unlimited_heat(survey, cautions);
  add_warm_backs(survey, cautions);
  add_cold_mornings(survey, cautions);
}

}  // namespace boughlight
