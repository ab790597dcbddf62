#include "assess/cautions.h"

#include <fmt/format.h>

#include <algorithm>

#include "assess/caution_parts.h"
#include "assess/cautions_animal.h"

namespace boughlight {

std::string with_unit(Quantity quantity, double value) {
  const QuantityInfo& about = info(quantity);
  return about.unit.empty() ? fmt::format("{} {}", about.label, print_number(value))
                            : fmt::format("{} {}", print_number(value), about.unit);
}

bool gives_ultraviolet(const Lamp& lamp) {
  double uvi_per_watt = 0;
  for (const LampPart& part : lamp.fixture->parts)
    uvi_per_watt += part.radiant_flux_w * part.per_watt.total(Quantity::uvi);
  constexpr double kWorthMention = 0.1 * 4 * 3.14159265 * 0.1 * 0.1;
  return uvi_per_watt > kWorthMention;
}

double most_at_perches(const Survey& survey, const std::string& source, Quantity quantity) {
  double most = 0;
  for (const Reading& reading : survey.readings)
    if (reading.kind == ReadingKind::perch) most = std::max(most, reading.by_lamp.at(source).at(quantity));
  return most;
}

std::string names_of(const std::vector<std::string>& names) {
  constexpr std::size_t kShown = 3;
  const std::size_t shown = names.size() <= kShown ? names.size() : kShown - 1;
  std::string text;
  for (std::size_t i = 0; i < shown; ++i)
    text += fmt::format("{}'{}'", i == 0 ? "" : i + 1 == names.size() ? " and " : ", ", names[i]);
  return shown < names.size() ? fmt::format("{} and {} more", text, names.size() - shown) : text;
}

std::vector<Caution> cautions_of(const Survey& survey) {
  Cautions cautions;
  for (const std::string& note : survey.scene.notes)
    cautions.push_back(
        {"scene", note + ".", "So the scene file declares it, and every figure rests on that."});
  add_full_power(survey, cautions);
  add_animal_cautions(survey, cautions);
  add_warmth(survey, cautions);
  add_ultraviolet(survey, cautions);
  add_timetable(survey, cautions);
  add_people(survey, cautions);
  add_leaves(survey, cautions);
  add_standing(survey, cautions);
  return cautions;
}

}  // namespace boughlight
