// What a slice shows of a shell: where it cuts it, and its whole outline.
#pragma once

#include <functional>
#include <vector>

#include "report/contour.h"
#include "report/slice.h"
#include "scene/shell.h"

namespace boughlight {

// The lines in which the plane at `at` along the view's third axis cuts the shell, in the scene's frame; a
// ring's first place is repeated as its last. A closed shell gives rings only.
std::vector<std::vector<Vec3>> cut_lines(const Shell& shell, View view, double at);

// Rings as one path that, filled even-odd, fills all of them less the holes in them.
Path joined_rings(const std::vector<Path>& rings);

// The outline of everything of the shell seen across the slice, to within two pixels: `px` says where on the
// picture a place is; what lies outside `within` is cut off.
std::vector<Path> whole_outline(const Shell& shell, const std::function<Spot(const Vec3&)>& px,
                                const Rect& within);

}  // namespace boughlight
