// The made-up survey with findings for the animal.
#pragma once

#include "assess/results.h"

namespace boughlight {

// A body on the sun perch, a juvenile that gets too little, a tube that is too near and its mending, and
// shade with a covered way.
Survey animal_survey();

}  // namespace boughlight
