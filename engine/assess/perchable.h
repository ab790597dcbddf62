// Places along branches and boards where the animal can sit.
#pragma once

#include <vector>

#include "scene/model.h"

namespace boughlight {

struct PerchablePlace {
  Vec3 back = Vec3::Zero();  // where the animal's back is
  Vec3 seat = Vec3::Zero();  // on the surface below it
  double length = 0;         // of the branch or board that it stands for, m
  std::string on;            // the branch's or board's name
  // Which of the branches, then the boards, and the step along it: steps that follow each other touch.
  std::size_t solid = 0;
  int step = 0;
};

// Steps of about `spacing` along every branch, and along the longest edge of every board through its middle;
// the back is `back` off the surface on the side nearest up. Places whose back is outside the enclosure or
// inside a branch, a closed model or the body of a lamp are left out. Models are not perched on.
std::vector<PerchablePlace> perchable_places(const Scene& scene, double spacing);

// From a place to the surface of the branch or board of that number, m; 0 inside it.
double distance_to_solid(const Scene& scene, std::size_t solid, const Vec3& place);

}  // namespace boughlight
