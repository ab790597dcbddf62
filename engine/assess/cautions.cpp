#include "assess/cautions.h"

#include <fmt/format.h>

#include <cmath>

#include "assess/cautions_animal.h"

namespace boughlight {
namespace {

std::string with_unit(Quantity quantity, double value) {
  const QuantityInfo& about = info(quantity);
  return about.unit.empty() ? fmt::format("{} {}", about.label, print_number(value))
                            : fmt::format("{} {}", print_number(value), about.unit);
}

bool gives_ultraviolet(const Lamp& lamp) {
  double uvi_per_watt = 0;
  for (const LampPart& part : lamp.fixture->parts)
    uvi_per_watt += part.radiant_flux_w * part.per_watt.total(Quantity::uvi);
  // UVI 0.1 on the axis at 10 cm from a point: nothing that eyes or skin would notice.
  constexpr double kWorthMention = 0.1 * 4 * 3.14159265 * 0.1 * 0.1;
  return uvi_per_watt > kWorthMention;
}

void add_full_power(const Survey& survey, std::vector<Caution>& cautions) {
  if (!survey.hottest) return;
  for (const HottestPlace* place : {&survey.hottest->uvi_at_full, &survey.hottest->irradiance_at_full})
    if (place->verdict && *place->verdict == Verdict::above)
      cautions.push_back(
          {"full-power",
           fmt::format("With every dimmer at full the closest reachable place gets {}, above the limit of "
                       "{}: a dimmer or its sensor that fails must not be able to harm the animal.",
                       with_unit(place->quantity, place->figure.value), print_number(*place->limit))});
}

void add_short_wave(const Survey& survey, std::vector<Caution>& cautions) {
  for (const Lamp& lamp : survey.scene.lamps) {
    double below = 0, total = 0;
    for (const LampPart& part : lamp.fixture->parts)
      for (int bin = 0; bin < kBins && kBinEdgesNm[static_cast<std::size_t>(bin)] < 400; ++bin) {
        const double watts = part.radiant_flux_w * part.per_watt.power[bin];
        total += watts;
        if (kBinEdgesNm[static_cast<std::size_t>(bin) + 1] <= 290) below += watts;
      }
    constexpr double kTrace = 1e-3;
    if (total > 0 && below > kTrace * total && gives_ultraviolet(lamp))
      cautions.push_back(
          {"short-wave",
           fmt::format(
               "'{}' sends {} % of its ultraviolet below 290 nm, which sunlight hardly holds: a good UV "
               "index does not make it safe.",
               lamp.name, print_number(100 * below / total, 2))});
  }
}

}  // namespace

std::vector<Caution> cautions_of(const Survey& survey) {
  std::vector<Caution> cautions;
  for (const std::string& note : survey.scene.notes) cautions.push_back({"scene", note});
  const auto& room = survey.scene.room;
  if (room && room->lux > 0 && !room->lit && survey.has_day)
    cautions.push_back({"room-hours",
                        "The room's light has no 'lit' hours, so the day's light and dose are those of the "
                        "lamps alone."});
  add_full_power(survey, cautions);
  add_animal_cautions(survey, cautions);
  add_short_wave(survey, cautions);
  if (survey.leaf_count > 0)
    cautions.push_back(
        {"leaves",
         "Readings within foliage depend on which leaf hangs where; the real plant's leaves hang "
         "elsewhere. Another seed shows how much that matters."});
  cautions.push_back(
      {"estimate",
       "All figures are estimates from what was declared; lamps of one type differ by 15 to 20 "
       "%. Read with a meter before the animal goes in. The meter decides."});
  bool ultraviolet = false;
  for (const Lamp& lamp : survey.scene.lamps) ultraviolet = ultraviolet || gives_ultraviolet(lamp);
  if (ultraviolet)
    cautions.push_back(
        {"eyes",
         "Ultraviolet burns eyes and skin: switch the lamps off to work inside, wear UV-blocking "
         "goggles to measure, never look into a lamp."});
  if (!survey.scene.lamps.empty()) {
    cautions.push_back(
        {"heat",
         "Hot lamps burn animals and start fires: keep to the lamp maker's distances, use ceramic "
         "holders, a guard and a second fixing, and check the mesh with a touch probe at full power."});
    cautions.push_back(
        {"mains",
         "Mains and spray do not mix: residual-current protection, drip loops, no misting while lamps are "
         "hot; fixed wiring is an electrician's work, to local code."});
  }
  cautions.push_back(
      {"veterinarian",
       "This is not veterinary advice. Closed eyes, sores or hiding after a lamp change: lamp off, and "
       "ask a veterinarian."});
  return cautions;
}

}  // namespace boughlight
