// What a keeper must be told, whatever the figures say, and what the figures themselves warn of.
#pragma once

#include "assess/results.h"

namespace boughlight {

// In the order in which they should be read: what the survey found first, then the standing ones. Each has a
// reason.
std::vector<Caution> cautions_of(const Survey& survey);

}  // namespace boughlight
