// The closest reachable place, where an animal would get most.
#pragma once

#include "assess/field_cells.h"

namespace boughlight {

// Nothing where the scene has no animal or no reachable place.
std::optional<Hottest> find_hottest(Setting& setting, const GridLight& light);

// Whether the animal has limits for wherever it gets, and no place was found that it gets to: those limits
// are neither kept nor broken then.
inline bool never_unjudged(const Survey& survey) {
  return survey.scene.animal && !survey.scene.animal->never.empty() && !survey.hottest;
}

}  // namespace boughlight
