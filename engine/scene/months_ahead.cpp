#include "scene/months_ahead.h"

#include <algorithm>
#include <cmath>

namespace boughlight {
namespace {

double between(double a, double b, double share) {
  return a + (b - a) * share;
}

AnimalAhead animal_at(const Animal& now, const MonthsAhead& ahead, double month) {
  AnimalAhead before{0, now.back, now.body};
  for (const AnimalAhead& next : ahead.animal) {
    if (month >= next.month) {
      before = next;
      continue;
    }
    const double share = (month - before.month) / (next.month - before.month);
    AnimalAhead at{month, between(before.back, next.back, share), before.body};
    if (before.body && next.body)
      at.body = {between(before.body->first, next.body->first, share),
                 between(before.body->second, next.body->second, share)};
    return at;
  }
  return before;
}

}  // namespace

double MonthsAhead::mesh_factor(const std::string& material, double month) const {
  const auto own = fouling_of.find(material);
  return std::pow(1 - (own == fouling_of.end() ? fouling : own->second), month);
}

Scene scene_at(const Scene& scene, const MonthsAhead& ahead, double month) {
  Scene later = scene;
  for (Plant& plant : later.plants) {
    const auto curve = ahead.growing.find(plant.name);
    if (curve != ahead.growing.end()) plant.growth = curve->second.after(plant.growth, month);
  }
  for (Lamp& lamp : later.lamps)
    if (lamp.lit) lamp.burned_h += total_hours(*lamp.lit) * kDaysAMonth * month;
  if (later.animal) {
    const AnimalAhead animal = animal_at(*scene.animal, ahead, month);
    later.animal->back = animal.back;
    later.animal->body = animal.body;
  }
  return later;
}

}  // namespace boughlight
