// What `check`, `library` and `fixture` found, as JSON text (two-space indent, no newline at the end).
// Lengths in metres, angles in degrees, everything else in the unit that its key names.
#pragma once

#include <string>
#include <vector>

#include "assess/lamp_sheet.h"
#include "scene/range.h"

namespace boughlight {

std::string scene_inventory_json(const Scene& scene);
// `lamps`, `materials` and `ranges` as loaded from the library, in the order to be shown.
std::string library_json(const std::vector<Fixture>& lamps, const std::vector<Material>& materials,
                         const std::vector<NamedRange>& ranges);
std::string lamp_sheet_json(const Fixture& fixture, const LampSheet& sheet);
// {"written": file}
std::string written_json(const std::string& file);

}  // namespace boughlight
