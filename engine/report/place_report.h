// What `boughlight place` shows: text, JSON and a picture.
#pragma once

#include <string>

#include "plan/place_map.h"
#include "report/canvas.h"

namespace boughlight {

// Whether there is a place where every want holds, those that the lamp does not change included.
WholeVerdict verdict_of(const PlaceMap& map);

// At most 80 columns; the recommended place first.
std::string place_summary(const PlaceMap& map);
// Figures keep 6 significant digits; lengths in metres. No times, dates or thread counts.
std::string place_json(const PlaceMap& map);
// The top seen from above, once a gap, coloured by the slack; below it every figure that the lamp changes, at
// the recommended gap.
Canvas draw_place(const PlaceMap& map);

// "place-basking-flood" for a lamp: what its files are called before the dot. Letters and digits stay; what
// else there is becomes a dash. Where earlier lamps of the scene would be called so too, a number follows.
std::string lamp_file_name(const std::string& command, const std::vector<Lamp>& lamps, std::size_t lamp);

}  // namespace boughlight
