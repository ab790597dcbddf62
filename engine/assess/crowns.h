// Plants part by part, how they stand to needs in steps, and the floor for planting.
#pragma once

#include "assess/setting.h"

namespace boughlight {

// Reads the middle and the shaded side of every crown to 5 % (or the survey's tolerance where that is wider)
// and compares. Needs survey.readings.
std::vector<PlantFindings> read_crowns(Setting& setting, const Survey& survey);

// Where a figure stands to a need in steps.
PlantStanding standing_of(const BandedNeed& need, double value);

// A place uniform in a crown, in its middle or on its shaded side (see PlantFindings), inside the enclosure
// and outside branches; where that part is nearly all branch or wall, the nearest to it of many tries. The
// places of the set `stream` have low discrepancy over `index`.
enum class CrownPart { whole, middle, shaded };
Vec3 place_in_crown_part(const Scene& scene, const Plant& plant, CrownPart part, std::uint64_t stream,
                         std::uint32_t index = 0);

// What those places follow from besides the enclosure and its solids.
LightKey crown_part_key(const Plant& plant, CrownPart part);

// A sensor looking up, spread over such places. Keeps both references.
Receiver crown_receiver(const Scene& scene, const Plant& plant, CrownPart part, std::uint64_t id);

// The lowest level of the grid. Needs survey.cells and levels.
std::optional<FloorFindings> read_floor(const Survey& survey);

}  // namespace boughlight
