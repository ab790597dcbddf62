// Cautions about plants' tops and about people.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/caution_parts.h"

namespace boughlight {
namespace {

// Infrared at a clear summer noon is about 500 W/m2 (half of ASTM G173's 1000). Half of that in still air, or
// a fifth within reach of a warm mesh, is where leaves are said to scorch: common practice, no source.
constexpr double kLeafInfrared_w_m2 = 250, kMeshInfrared_w_m2 = 100;
constexpr double kNearTop_m = 0.05;

// From a place up to the enclosure's top there; nothing outside of it.
std::optional<double> below_the_top(const Scene& scene, const Vec3& place) {
  std::optional<double> top;
  for (const Box& box : scene.boxes) {
    const Vec3 far = box.far_corner();
    if (place.x() < box.corner.x() || place.x() > far.x() || place.y() < box.corner.y() ||
        place.y() > far.y())
      continue;
    top = std::max(top.value_or(far.z()), far.z());
  }
  return top ? std::optional(std::max(0.0, *top - place.z())) : std::nullopt;
}

// The most that a plant bears of a quantity: of its outermost step, or of its plain need.
std::optional<double> most_borne(const Plant& plant, const Want& need) {
  for (const BandedNeed& band : plant.bands)
    if (band.quantity == need.quantity)
      return (band.survive ? band.survive : band.hold ? band.hold : band.grow)->max;
  return need.limits.max;
}

void add_bright_tops(const Reading& reading, const Plant& plant, Cautions& cautions) {
  for (const Want& need : plant.needs) {
    if (need.quantity != Quantity::dli && need.quantity != Quantity::ppfd) continue;
    const auto most = most_borne(plant, need);
    const double top = reading.top.at(need.quantity).value;
    if (!most || top <= *most) continue;
    cautions.push_back({"leaf-light",
                        fmt::format("The top of '{}' gets {}, more than the {} that it bears.", plant.name,
                                    with_unit(need.quantity, top), print_number(*most)),
                        "Leaves that get too much bleach; its mean may still be as wanted."});
  }
}

void add_hot_tops(const Survey& survey, const Reading& reading, const Plant& plant, Cautions& cautions) {
  const double infrared = reading.top.at(Quantity::infrared).value;
  const auto below = below_the_top(survey.scene, *reading.top_at);
  const bool near = below && *below <= kNearTop_m;
  if (infrared < (near ? kMeshInfrared_w_m2 : kLeafInfrared_w_m2)) return;
  cautions.push_back(
      {"leaf-heat",
       fmt::format(
           "The top of '{}' gets {} W/m2 of infrared{}: keep it trimmed.", plant.name, print_number(infrared),
           near ? fmt::format(", {} cm below the top of the enclosure", print_number(100 * *below)) : ""),
       "Leaves in strong infrared or against warm mesh scorch; a summer noon has some 500 W/m2, in wind (the "
       "limit: "
       "common practice, no source). How warm the mesh gets is not computed: probe it."});
}

}  // namespace

void add_leaves(const Survey& survey, Cautions& cautions) {
  for (const PlantFindings& found : survey.day.plants) {
    const Reading& reading = survey.readings[found.reading];
    const Plant& plant = survey.scene.plants[found.reading - survey.scene.perches.size()];
    add_bright_tops(reading, plant, cautions);
    add_hot_tops(survey, reading, plant, cautions);
  }
}

void add_people(const Survey& survey, Cautions& cautions) {
  for (const WorkplaceFindings& found : survey.day.people) {
    const Workplace& workplace = survey.scene.workplaces[found.workplace];
    const double share = std::max(found.skin_share, found.eye_share);
    if (share <= 1) continue;
    cautions.push_back(
        {"people",
         fmt::format("{} min a day at '{}' are {} % of the daily limit for {} of people at work: switch the "
                     "lamps off, or cover up and wear goggles.",
                     print_number(60 * workplace.hours_a_day), workplace.name, print_number(100 * share),
                     found.skin_share >= found.eye_share ? "bare skin and eyes" : "eyes"),
         found.skin_share >= found.eye_share
             ? "Ultraviolet dose adds up over the day: 30 J/m2 weighted by the actinic hazard (ICNIRP 2004)."
             : "10 000 J/m2 from 315 to 400 nm in 8 h harm the lens (ICNIRP 2004)."});
  }
}

}  // namespace boughlight
