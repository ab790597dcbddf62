// What traced light depends on, as a key: surfaces, lamps where they hang and how they spread their light,
// and which bins matter. Not dimmers, hours, ages, wants, limits, names or doubts.
#pragma once

#include "scene/model.h"
#include "transport/light_field.h"

namespace boughlight {

LightKey field_key(const Scene& scene, const Importance& importance);

// `field`, which is `scene`'s, remembers by the same store as `of`, where that remembers anything.
void share_memory(const LightField& of, const Scene& scene, LightField& field);

}  // namespace boughlight
