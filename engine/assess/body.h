// The light over the whole body of the animal on each perch.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// Infrared below which nobody would speak of heat, W/m2: what a wall 8 K warmer than its surroundings adds
// (4 sigma T^3, 6.1 W/(m2 K) at 300 K).
inline constexpr double kHeat = 50;

// One entry a perch whose reading lies in the enclosure. `readings` and `responses` begin with those of the
// perches, in the scene's order, read at `back` above them.
//
// Every place has its own direct light, so a leaf's or a twig's shadow falls where it falls. Reflected light
// changes little over a body's length: it is traced at the perch, at the ends of the body and at the ends of
// the line that is looked at, and at the middle and the ends of the flank; in between it is taken as
// straight. All places of a perch share their random numbers, so that they differ by where they are alone.
std::vector<BodyFindings> read_bodies(Setting& setting, double back, std::pair<double, double> size,
                                      const std::vector<Reading>& readings,
                                      const std::vector<Response>& responses,
                                      const std::optional<std::string>& sun_perch, std::uint64_t stream);

}  // namespace boughlight
