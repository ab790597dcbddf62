// What fixes the bits of traced light besides the scene.
#pragma once

#include "transport/light_key.h"

namespace boughlight {

// This program as it was built, every library that is loaded with it (Embree among them), and the
// instructions that the processor has: libraries choose between their ways by those. Another solver never has
// the same key.
LightKey program_key();

}  // namespace boughlight
