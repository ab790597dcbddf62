// How far what the scene declares may be off.
#include "scene/scene_reader.h"

namespace boughlight {

void SceneReader::read_doubt(const Field& field) {
  const Fields keys(field, format::doubt);
  Doubts& doubts = scene_.doubts;
  doubts.lamp = keys.number("lamp").value_or(doubts.lamp);
  doubts.ageing = keys.number("ageing").value_or(doubts.ageing);
  doubts.mesh = keys.number("mesh").value_or(doubts.mesh);
  doubts.surfaces = keys.number("surfaces").value_or(doubts.surfaces);
  doubts.position = keys.number("position").value_or(doubts.position);
}

}  // namespace boughlight
