// Places along branches and boards where the animal can sit.
#pragma once

#include <vector>

#include "scene/model.h"

namespace boughlight {

struct PerchablePlace {
  Vec3 back = Vec3::Zero();  // where the animal's back is
  double length = 0;         // of the branch or board that it stands for, m
  std::string on;            // the branch's or board's name
};

// Steps of about `spacing` along every branch, and along the longest edge of every board through its middle;
// the back is `back` off the surface on the side nearest up. Places whose back is outside the enclosure or
// inside a branch, a closed model or the body of a lamp are left out. Models are not perched on.
std::vector<PerchablePlace> perchable_places(const Scene& scene, double spacing);

}  // namespace boughlight
