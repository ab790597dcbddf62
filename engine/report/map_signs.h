// Marks and line styles of maps, so that the legend shows just what the map draws.
#pragma once

#include "report/map_scene.h"

namespace boughlight {

// A stroke over a paper-coloured one, so that it shows on dark and on light fields.
void stroke_cased(Canvas& canvas, const std::vector<Path>& paths, const Stroke& stroke);

void draw_perch_mark(Canvas& canvas, const Spot& spot, bool on_slice);
void draw_point_mark(Canvas& canvas, const Spot& spot, bool on_slice);
void draw_hottest_mark(Canvas& canvas, const Spot& spot);
void draw_change_mark(Canvas& canvas, const Spot& spot, bool rises, Rgb colour);  // a plus or a minus
Stroke wall_stroke(MapSign kind);  // of wall, mesh, pane and open
Stroke crown_stroke();
Stroke far_model_stroke();
inline constexpr double kModelOpacity = 0.8;
Stroke lamp_body_stroke();

// The outline of a lamp's emitter seen across the cut, in metres of u and v about its centre.
Path lamp_outline(const Lamp& lamp, View view);
// How far a lamp's emitter reaches from its centre along the unit direction (u, v) of a view, m.
double lamp_reach(const Lamp& lamp, View view, double u, double v);

// The neutral hatch: slanted lines, 7 px apart.
inline bool is_hatch_line(int x, int y) {
  return (x + y) % 7 == 0;
}
void draw_hatch(Canvas& canvas, const Rect& rect);

}  // namespace boughlight
