// How far what the scene declares may be off.
#include "scene/scene_reader.h"

namespace boughlight {

void SceneReader::read_doubt(const Field& field) {
  static const Keys kKeys = {{"lamp", false, "output of lamps of one type"},
                             {"ageing", false, "output, by age, of a lamp that has burned"},
                             {"mesh", false, "what a mesh lets through"},
                             {"surfaces", false, "light that walls and leaves reflect"},
                             {"position", false, "the height of lamps and readings, a length"}};
  const Fields keys(field, kKeys);
  const auto read = [&](std::string_view key, double& deviation) {
    if (const auto given = keys.get(key)) deviation = given->ratio().value_or(deviation);
  };
  Doubts& doubts = scene_.doubts;
  read("lamp", doubts.lamp);
  read("ageing", doubts.ageing);
  read("mesh", doubts.mesh);
  read("surfaces", doubts.surfaces);
  constexpr double kMost = 0.5;  // m; whoever knows a place no better than that has no plan yet
  if (const auto position = keys.get("position")) {
    doubts.position = position->length(Range::between(0, kMost)).value_or(doubts.position);
  }
}

}  // namespace boughlight
