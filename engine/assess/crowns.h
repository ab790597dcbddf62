// Plants part by part, how they stand to needs in steps, and the floor for planting.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// Reads the middle and the shaded side of every crown to 5 % (or the survey's tolerance where that is wider)
// and compares. Needs survey.readings.
std::vector<PlantFindings> read_crowns(Setting& setting, const Survey& survey);

// Where a figure stands to a need in steps.
PlantStanding standing_of(const BandedNeed& need, double value);

// A place uniform in the middle or on the shaded side of a crown (see PlantFindings), inside the enclosure
// and outside branches; where that part is nearly all branch or wall, the nearest to it of many tries.
enum class CrownPart { middle, shaded };
Vec3 place_in_crown_part(const Scene& scene, const Plant& plant, CrownPart part, std::uint64_t stream);

// The lowest level of the grid. Needs survey.cells and levels.
std::optional<FloorFindings> read_floor(const Survey& survey);

}  // namespace boughlight
