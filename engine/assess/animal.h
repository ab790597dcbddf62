// What the light means for the animal.
#pragma once

#include "assess/perched.h"

namespace boughlight {

// Fills survey.animal. The survey holds its readings, their responses, its levels and the hottest place.
void study_animal(Setting& setting, PerchedLight& perched, Survey& survey);

}  // namespace boughlight
