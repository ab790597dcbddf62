// Light at one place sorted by direction into patches of the sphere, small enough to turn a sensor about in
// it thousands of times.
#pragma once

#include <vector>

#include "geometry/panel.h"

namespace boughlight {

// Several quantities side by side. Exact for a sensor whose rim cuts no patch; a cut patch counts by its mean
// direction. It is some 18 degrees wide, and what comes along a sensor's rim counts little in any case.
class PatchedLight {
 public:
  static constexpr int kAcross = 5;  // patches along an edge of each of a cube's faces
  static constexpr int kPatches = 6 * kAcross * kAcross;

  explicit PatchedLight(std::size_t quantities) : flux_(3 * quantities, Row::Zero()) {}

  // Light from `direction` (unit, towards its source), as values[quantity] on a sensor that faces it.
  void add(const Vec3f& direction, const float* values);
  void add(const PatchedLight& other);
  // One quantity of another, as the first of this.
  void add_first(const PatchedLight& other, std::size_t quantity);

  // On a sensor with outward normal n (unit).
  float on(std::size_t quantity, const Vec3f& normal) const;
  // The sum of value x direction over the patches in front of n: n . sum is the reading, and a sensor turned
  // along the sum reads no less.
  Vec3f in_front_of(std::size_t quantity, const Vec3f& normal) const;

  std::size_t quantities() const { return flux_.size() / 3; }

 private:
  using Row = Eigen::Array<float, kPatches, 1>;
  static int patch_of(const Vec3f& direction);
  Row towards(std::size_t quantity, const Vec3f& normal) const;

  std::vector<Row> flux_;  // x, y and z of the sums of value x direction, quantity by quantity
};

}  // namespace boughlight
