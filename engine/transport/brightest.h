// The orientation in which a sensor reads most.
#pragma once

#include "transport/gather.h"

namespace boughlight {

struct Brightest {
  Vec3f direction = Vec3f::UnitZ();  // unit
  float value = 0;                   // irradiance-like, in the unit of the weighted channels
};

// `scale` weighs the channels (one each). Climbs from each of 26 orientations along n -> sum of the light
// that n sees, which never lowers the reading; straight up where there is no light at all.
Brightest brightest_orientation(const DirectedLight& light, const Eigen::ArrayXf& scale);

// The same, but `usual` itself where it reads less by no more than a thousandth, and else one of
// steady_direction(): small changes of `scale` then hardly ever turn the sensor.
Brightest steady_brightest(const DirectedLight& light, const Eigen::ArrayXf& scale, const Vec3f& usual);

}  // namespace boughlight
