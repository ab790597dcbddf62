// What breaks when something fails or is changed: every limit judged again from the light that was traced
// once.
#pragma once

#include "assess/results.h"
#include "assess/reweigh.h"

namespace boughlight {

// What a dusty mesh still lets through, as a share of what it did clean: common practice, that lamps and
// screens are seen to when a perch reads less than 70 % of its first reading. Keepers report far worse: a
// screen fouled and corroded for years that lost 80 % in all, 0.3 of what a clean one lets through.
inline constexpr double kDustyMesh = 0.7;

// Worst first. `readings` in the order of survey.readings, `hottest` the closest reachable places as declared
// and at full; the survey's wants are judged already. Leaf positions, places and reflectances stay as
// declared; taking a mesh layer away leaves what the other meshes scatter as it was.
std::vector<FailureCase> failure_cases(const Setting& setting, const Survey& survey,
                                       const std::vector<TracedSpot>& readings,
                                       const std::vector<TracedSpot>& hottest);

}  // namespace boughlight
