// What would bring the closest places down to the animal's limits: a lamp hung higher, or a weaker one.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// For each limit of animal.never and lamp that gives most where it is broken: at the closest places and at
// the hottest. `survey` holds its hottest, its readings and animal.closest.
//
// The scene is traced anew with the lamp raised, and read at those places at their brightest orientation:
// shadows, mesh and walls count as they would. Another place may be the hottest then: a new survey tells.
std::vector<Mend> find_mends(Setting& setting, const Survey& survey);

}  // namespace boughlight
