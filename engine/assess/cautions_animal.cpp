#include "assess/cautions_animal.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "assess/body_shape.h"
#include "assess/hottest.h"

namespace boughlight {
namespace {

// Peak to edge above this is a caution: common practice, no source.
constexpr double kMostPeakToEdge = 1.5;

std::string length_words(const Survey& survey, double metres) {
  const std::string& unit = survey.scene.length_unit;
  return fmt::format("{} {}", print_number(metres / size_of_unit(unit, Dimension::length)), unit);
}

std::string limits_words(const Limits& limits) {
  const bool from = limits.min && *limits.min > 0;
  if (from && limits.max)
    return fmt::format("{} to {}", print_number(*limits.min), print_number(*limits.max));
  if (from) return "at least " + print_number(*limits.min);
  return "at most " + print_number(limits.max.value_or(0));
}

// Greatest length that one stretch sticks out of another, m.
double beyond(const Beam& inner, const Beam& outer) {
  return std::max({0.0, outer.from - inner.from, inner.to - outer.to});
}

std::string width_words(const Survey& survey, const BodyFindings& body, Quantity quantity) {
  const Beam& beam = body.beams.at(quantity);
  return length_words(survey, beam.width()) + (beam.open_from || beam.open_to ? " or more" : "");
}

// What was told of a perch already: another size need not say it again.
using Told = std::set<std::pair<std::string, std::string>>;

// `whose`: "" for the animal as declared, else the size.
void add_body(const Survey& survey, const BodyFindings& body, const std::string& whose, Told& told,
              std::vector<Caution>& all) {
  if (!body.for_basking) return;
  const auto add = [&](const std::string& kind, const std::string& text, const std::string& reason) {
    if (told.insert({kind, body.perch}).second) all.push_back({kind, text, reason});
  };
  const Beam& heat = body.beams.at(Quantity::infrared);
  const Spread& spread = body.spread.at(Quantity::infrared);
  const std::string where = fmt::format("On '{}'{}", body.perch, whose);
  const bool closed = !heat.open_from && !heat.open_to;
  if (closed && heat.width() < body.length)
    add("hot-cone",
        fmt::format("{} the warm patch is {} wide (to half its strength) and the body {} long.", where,
                    width_words(survey, body, Quantity::infrared), length_words(survey, body.length)),
        "Part of it can burn while the rest is still cold; a lamp hung higher, a wider beam or several mild "
        "lamps "
        "warm the whole animal.");
  if (spread.greatest > kMostPeakToEdge * spread.least)
    add("peak-to-edge",
        fmt::format("{} the heat on the body runs from {} W/m2 to {} W/m2, {} ({} is the rule of thumb).",
                    where, print_number(spread.least), print_number(spread.greatest),
                    spread.peak_to_edge
                        ? fmt::format("{} times as much", print_number(*spread.peak_to_edge, 2))
                        : "from nothing at all",
                    print_number(kMostPeakToEdge)),
        "The hottest spot on the body decides, not the mean.");
  if (body.nested != false) return;
  const Beam &uv = body.beams.at(Quantity::uvi), &light = body.beams.at(Quantity::lux);
  std::string how;
  if (beyond(heat, uv) > kNestedSlack)
    how = fmt::format("heat reaches {} beyond the ultraviolet", length_words(survey, beyond(heat, uv)));
  if (beyond(uv, light) > kNestedSlack)
    how += fmt::format("{}ultraviolet reaches {} beyond the bright light", how.empty() ? "" : ", and ",
                       length_words(survey, beyond(uv, light)));
  add("nested-beams",
      fmt::format("{} {} (each as far as half of its greatest strength along the branch).", where, how),
      "Where heat, ultraviolet and bright light part, an animal has to choose between them.");
}

void add_size(const Survey& survey, const SizeFindings& size, std::vector<Caution>& cautions) {
  std::string failing;
  for (const Reading& reading : size.readings)
    for (const WantResult& want : reading.wants) {
      if (want.verdict != Verdict::below && want.verdict != Verdict::above) continue;
      const QuantityInfo& about = info(want.want.quantity);
      failing += fmt::format("{}{} {}{}{} on '{}' (wanted {})", failing.empty() ? "" : "; ", about.label,
                             print_number(want.figure.value), about.unit.empty() ? "" : " ", about.unit,
                             reading.name, limits_words(want.want.limits));
    }
  if (failing.empty()) return;
  cautions.push_back({"size",
                      fmt::format("At the size '{}' (back {} above the branch) it gets {}.", size.size.name,
                                  length_words(survey, size.size.back), failing),
                      "The plan is right for the animal as declared, not for this size."});
}

void add_shelter(const Survey& survey, const Shelter& shelter, std::vector<Caution>& cautions) {
  const std::string& sun = shelter.sun_perch;
  if (!(shelter.fraction.below_10 > 0))
    cautions.push_back(
        {"shade",
         fmt::format("No place on branches and boards gets less than a tenth of the "
                     "ultraviolet of '{}'.",
                     sun),
         "There is no true shade to sit in, and an animal that cannot leave the ultraviolet is burnt "
         "by it."});
  const bool any_refuge = std::any_of(shelter.places.begin(), shelter.places.end(),
                                      [](const SeatPlace& place) { return place.refuge; });
  std::string path,
      why = "An animal that has had enough must be able to leave without more of it on the way.";
  if (!any_refuge) {
    path = "No place on branches and boards is a refuge, so there is no way to one.";
  } else if (!shelter.way) {
    path = fmt::format(
        "No way leads from '{}' to a refuge: the branches and boards between lie further apart than "
        "{}.",
        sun, length_words(survey, shelter.stride));
  } else if (!shelter.way->covered) {
    path = fmt::format(
        "Every way from '{}' to a refuge is exposed: after leaving it, the best one passes a place "
        "with {} % of its ultraviolet.",
        sun, print_number(100 * shelter.way->worst_share, 2));
    why += " Leaves over the way would cover it.";
  }
  if (!path.empty()) cautions.push_back({"refuge-path", path, why});
  if (shelter.heat_matters && !shelter.uv_without_heat)
    cautions.push_back(
        {"uv-without-heat", "Every place with ultraviolet is hot as well.",
         fmt::format("An animal that is warm enough has to leave the ultraviolet of '{}' to cool down.",
                     sun)});
}

}  // namespace

void add_animal_cautions(const Survey& survey, std::vector<Caution>& cautions) {
  const AnimalFindings& animal = survey.animal;
  if (never_unjudged(survey))
    cautions.push_back(
        {"no-reach",
         fmt::format(
             "With a reach of {} the animal gets to no place at all, so no limit under 'never' is judged.",
             length_words(survey, survey.scene.animal->reach)),
         "The reach is how near it comes to walls and lamps: a few centimetres, not how far it stretches."});
  Told told;
  for (const BodyFindings& body : animal.bodies) add_body(survey, body, "", told, cautions);
  for (const SizeFindings& size : animal.sizes) {
    add_size(survey, size, cautions);
    for (const BodyFindings& body : size.bodies)
      add_body(survey, body, fmt::format(", at the size '{}',", size.size.name), told, cautions);
  }
  if (animal.shelter) add_shelter(survey, *animal.shelter, cautions);
}

}  // namespace boughlight
