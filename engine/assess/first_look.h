// What a survey's pilot says of the wants, within moments and long before the survey is done.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "assess/results.h"

namespace boughlight {

// One want's figure at the lamps' declared setting. Rough: its samples only tell how many more are needed,
// and no result contains them.
struct FirstLook {
  std::string reading;  // the perch, plant or point
  Want want;
  Figure figure;
};
using FirstLookTeller = std::function<void(const std::vector<FirstLook>&)>;

}  // namespace boughlight
