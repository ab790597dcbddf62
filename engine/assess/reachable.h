// Where the animal can be.
#pragma once

#include <vector>

#include "scene/enclosure.h"
#include "scene/model.h"

namespace boughlight {

class Reachable {
 public:
  explicit Reachable(const Scene& scene);

  // Inside the enclosure, at least the animal's reach from each outer face and from each lamp's emitter,
  // outside branches, closed models and bodies of lamps.
  bool contains(const Vec3& place) const;
  // The reach, or a hair where it is 0: a place on a face itself belongs to neither side.
  double reach() const { return reach_; }

  // Places near one lamp: those of the reachable part that lie nearest to places all over its emitter, and
  // along its aim.
  std::vector<Vec3> near_lamp(const Lamp& lamp) const;

  // Places to start a search from: a lattice over every box, and places near every lamp and along its aim.
  std::vector<Vec3> starts(double spacing) const;

 private:
  const Scene& scene_;
  std::vector<FacePart> faces_;
  double reach_;
};

}  // namespace boughlight
