// Directions towards where lamps hang. What lies close to a lamp is the brightest of all surfaces: the mesh
// that it rests on, the wall beside it. Paths that look there by chance alone see it too seldom, and then too
// strongly.
#pragma once

#include <vector>

#include "transport/directions.h"

namespace boughlight {

class LampCones {
 public:
  // A ball of `radius` (m) about each lamp holds its emitter; what is near is looked for in wider balls too.
  void add(const Vec3f& centre, float radius);

  // Whether any of the balls reaches to the side of a surface that `normal` looks to.
  bool in_front_of(const Vec3f& place, const Vec3f& normal) const;

  // One ball of all, and a direction even over the solid angle that it fills, seen from `from`; over the
  // whole sphere from within. There must be a lamp.
  Vec3f sample(const Vec3f& from, Pair pair) const;
  float pdf(const Vec3f& from, const Vec3f& direction) const;  // 1/sr

 private:
  struct Ball {
    Vec3f centre;
    float radius;
  };
  std::vector<Ball> balls_;
};

// First directions of a receiver's paths: mostly what its sensor looks to, by the cosine law, some over the
// whole sphere for the scalar irradiance, and some towards lamps.
class SensorDirections {
 public:
  SensorDirections(const LampCones& cones, const Vec3f& place, const Vec3f& normal);
  Vec3f sample(Pair pair) const;
  float pdf(const Vec3f& direction) const;

 private:
  const LampCones& cones_;
  Vec3f place_, normal_;
  float cosine_, sphere_, towards_;  // shares, 1 in all
};

// Directions in which a path leaves a matte surface to the side of `normal`: by the cosine law, some towards
// lamps.
class BounceDirections {
 public:
  // `share`: of those towards lamps, where any is in front.
  BounceDirections(const LampCones& cones, const Vec3f& place, const Vec3f& normal, float share);
  Vec3f sample(Pair pair) const;  // may be behind the surface: nothing goes that way
  // The cosine law's density over that of the samples; 0 behind the surface.
  float weight(const Vec3f& direction) const;

 private:
  const LampCones& cones_;
  Vec3f place_, normal_;
  float towards_;
};

}  // namespace boughlight
