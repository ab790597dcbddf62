#include <algorithm>

#include "report/map.h"

namespace boughlight {
namespace {

void add_limit(std::vector<MapLimit>& limits, double value, MapLimit::Kind kind, const std::string& who) {
  for (MapLimit& limit : limits) {
    if (limit.kind == kind && limit.value == value) {
      limit.who.push_back(who);
      return;
    }
  }
  limits.push_back({value, kind, {who}});
}

void add_limits(std::vector<MapLimit>& limits, const std::vector<Want>& wants, Quantity quantity,
                const std::string& who, MapLimit::Kind most = MapLimit::Kind::at_most) {
  for (const Want& want : wants) {
    if (want.quantity != quantity) continue;
    if (want.limits.min && *want.limits.min > 0)
      add_limit(limits, *want.limits.min, MapLimit::Kind::at_least, who);
    if (want.limits.max) add_limit(limits, *want.limits.max, most, who);
  }
}

}  // namespace

std::vector<MapLimit> limits_of(const Scene& scene, Quantity quantity) {
  std::vector<MapLimit> limits;
  if (scene.animal) {
    add_limits(limits, scene.animal->never, quantity, "never", MapLimit::Kind::never);
    add_limits(limits, scene.animal->basking, quantity, "basking");
    add_limits(limits, scene.animal->refuge, quantity, "refuge");
  }
  for (const Perch& perch : scene.perches) add_limits(limits, perch.wants, quantity, perch.name);
  for (const Point& point : scene.points) add_limits(limits, point.wants, quantity, point.name);
  for (const Plant& plant : scene.plants) add_limits(limits, plant.needs, quantity, plant.name);
  std::stable_sort(limits.begin(), limits.end(),
                   [](const MapLimit& a, const MapLimit& b) { return a.value < b.value; });
  return limits;
}

ColourScale map_scale(const Survey& survey, Quantity quantity) {
  std::vector<double> values, limits;
  for (const Cell& cell : survey.cells) {
    if (cell.free_share > 0) values.push_back(cell.up[static_cast<std::size_t>(quantity)].value);
  }
  for (const MapLimit& limit : limits_of(survey.scene, quantity)) limits.push_back(limit.value);
  return scale_for(values, limits);
}

}  // namespace boughlight
