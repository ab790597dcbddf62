// Lamps on a map: the true outline of each emitter, and where it points.
#include <algorithm>
#include <cmath>

#include "report/map_scene.h"
#include "report/map_signs.h"
#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

namespace {

Vec3 in_view(View view, double u, double v) {
  switch (view) {
    case View::plan:
      return {u, v, 0};
    case View::front:
      return {u, 0, v};
    default:
      return {0, u, v};
  }
}

// The outline of a shape seen across the cut, in metres of u and v about its centre: the corners where
// neighbouring lines of support meet. `reach(u, v)` is how far it reaches along that unit direction, m.
template <class Reach>
Path outline_of(const Reach& reach) {
  constexpr int kLines = 180;
  const auto angle = [](int k) { return 2 * M_PI * (k % kLines) / kLines; };
  Path outline;
  for (int k = 0; k < kLines; ++k) {
    const double c0 = std::cos(angle(k)), s0 = std::sin(angle(k)), h0 = reach(c0, s0);
    const double c1 = std::cos(angle(k + 1)), s1 = std::sin(angle(k + 1)), h1 = reach(c1, s1);
    const double det = c0 * s1 - c1 * s0;
    outline.push_back({(h0 * s1 - h1 * s0) / det, (c0 * h1 - c1 * h0) / det});
  }
  return outline;
}

}  // namespace

Path lamp_outline(const Lamp& lamp, View view) {
  return outline_of([&](double u, double v) { return lamp_reach(lamp, view, u, v); });
}

double lamp_reach(const Lamp& lamp, View view, double u, double v) {
  return lamp.fixture->emitter->extent(lamp.scene_from_local().transpose() * in_view(view, u, v));
}

void MapScene::draw_lamps(Canvas& canvas, LabelPlacer& placer) {
  // Seen from above a lamp may cover much of the field, whose colours must stay what they are: an outline
  // only.
  const bool from_above = slice_.view == View::plan;
  for (const Lamp& lamp : survey_.scene.lamps) {
    const Spot centre = px(lamp.at);
    if (!layout_.plot.contains(centre)) continue;
    signs_.insert(from_above ? MapSign::lamp_from_above : MapSign::lamp);
    if (const auto body = lamp.body()) {
      const Spot middle = px(body->centre);
      Path box;
      for (const Spot& corner :
           outline_of([&](double u, double v) { return body->extent(in_view(slice_.view, u, v)); }))
        box.push_back({middle.x + corner.x * layout_.px_per_m, middle.y - corner.y * layout_.px_per_m});
      signs_.insert(MapSign::lamp_body);
      stroke_cased(canvas, {closed(box)}, lamp_body_stroke());
    }
    Path outline;
    Rect bounds{centre.x, centre.y, centre.x, centre.y};
    for (const Spot& corner : lamp_outline(lamp, slice_.view)) {
      // At least a few pixels, so that points and thin tubes show.
      const double x = corner.x * layout_.px_per_m, y = -corner.y * layout_.px_per_m;
      const double length = std::hypot(x, y), stretch = length < 4 ? 4 / std::max(length, 1e-9) : 1;
      const Spot spot = length > 1e-9 ? Spot{centre.x + x * stretch, centre.y + y * stretch} : centre;
      outline.push_back(spot);
      bounds = {std::min(bounds.x0, spot.x), std::min(bounds.y0, spot.y), std::max(bounds.x1, spot.x),
                std::max(bounds.y1, spot.y)};
    }
    if (bounds.width() < 4 && bounds.height() < 4) outline = ellipse_path(centre, 4, 4);
    constexpr double kArrow = 16;  // px, where it lies in the picture's plane
    // Where it points, unless that is along the line of sight.
    const Spot tip = px(lamp.at + lamp.aim * (kArrow / layout_.px_per_m));
    const double length = std::hypot(tip.x - centre.x, tip.y - centre.y);
    if (length > 5) {
      const Spot way{(tip.x - centre.x) / length, (tip.y - centre.y) / length};
      const double start = lamp.fixture->emitter->extent(Vec3::UnitZ()) * layout_.px_per_m * length / kArrow;
      const Spot from{centre.x + way.x * start, centre.y + way.y * start},
          to{from.x + way.x * length, from.y + way.y * length};
      const Spot left{to.x - 5 * way.x - 4 * way.y, to.y - 5 * way.y + 4 * way.x};
      const Spot right{to.x - 5 * way.x + 4 * way.y, to.y - 5 * way.y - 4 * way.x};
      stroke_cased(canvas, {{from, to}, {left, to, right}}, {1.6, kLampEdge});
      placer.block(Rect{to.x, to.y, to.x, to.y}.grown(6));
    }
    canvas.stroke(closed(outline), {5, kPaper, 0.75});
    if (!from_above) canvas.fill(outline, kLamp);
    canvas.stroke(closed(outline), {1.8, kLampEdge});
    const bool wide = std::min(bounds.width(), bounds.height()) > text_height(kLabelSize) + 4;
    if (!wide) placer.block(bounds.grown(2));
    labels_.push_back({bounds, lamp.name, kLampEdge, wide});
  }
}

}  // namespace boughlight
