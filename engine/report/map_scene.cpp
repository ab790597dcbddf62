#include "report/map_scene.h"

#include <algorithm>
#include <cmath>

#include "report/map_signs.h"
#include "report/map_style.h"
#include "report/shell_outline.h"
#include "report/text.h"
#include "scene/enclosure.h"
#include "units/units.h"

namespace boughlight {

using namespace map_style;

namespace {

// The part of a segment whose distance from the cut is at most `within`.
std::optional<std::pair<Vec3, Vec3>> near_part(const Vec3& p, const Vec3& q, double off_p, double off_q,
                                               double within) {
  double from = 0, to = 1;
  const double slope = off_q - off_p;
  if (std::abs(slope) < 1e-12) {
    if (std::abs(off_p) > within) return std::nullopt;
  } else {
    const double a = (-within - off_p) / slope, b = (within - off_p) / slope;
    from = std::max(0.0, std::min(a, b));
    to = std::min(1.0, std::max(a, b));
    if (from >= to) return std::nullopt;
  }
  return std::pair<Vec3, Vec3>{p + from * (q - p), p + to * (q - p)};
}

MapSign wall_kind(const Scene& scene, int material) {
  if (material < 0) return MapSign::open;
  const SurfaceKind kind = scene.materials[static_cast<std::size_t>(material)].kind;
  return kind == SurfaceKind::mesh   ? MapSign::mesh
         : kind == SurfaceKind::pane ? MapSign::pane
                                     : MapSign::wall;
}

}  // namespace

MapScene::MapScene(const Survey& survey, Quantity quantity, const Slice& slice, const MapLayout& layout)
    : survey_(survey), quantity_(quantity), slice_(slice), layout_(layout) {
  const Vec3 cell = survey.grid.front().cell;
  near_ = across(slice.view, cell);
}

Rect MapScene::extent_m(const Survey& survey, View view) {
  const Scene& scene = survey.scene;
  Rect extent{1e300, 1e300, -1e300, -1e300};
  const auto include = [&](double u, double v) {
    extent = {std::min(extent.x0, u), std::min(extent.y0, v), std::max(extent.x1, u), std::max(extent.y1, v)};
  };
  for (const GridBox& box : survey.grid) {
    const Vec3 far = box.corner + box.cell.cwiseProduct(Vec3(box.count[0], box.count[1], box.count[2]));
    include(along_u(view, box.corner), along_v(view, box.corner));
    include(along_u(view, far), along_v(view, far));
  }
  const Rect boxes = extent;
  // What hangs or lies far outside would shrink the enclosure to nothing and is left out of the picture.
  const double margin = 0.5 * std::max(boxes.width(), boxes.height());
  for (const Lamp& lamp : scene.lamps) {
    const double u = along_u(view, lamp.at), v = along_v(view, lamp.at);
    if (!boxes.grown(margin).contains(Spot{u, v})) continue;
    include(u - lamp_reach(lamp, view, -1, 0), v - lamp_reach(lamp, view, 0, -1));
    include(u + lamp_reach(lamp, view, 1, 0), v + lamp_reach(lamp, view, 0, 1));
    if (const auto body = lamp.body())
      for (const Vec3& corner : body->corners()) include(along_u(view, corner), along_v(view, corner));
  }
  for (const Point& point : scene.points) {
    const Spot spot{along_u(view, point.at), along_v(view, point.at)};
    if (boxes.grown(margin / 2).contains(spot)) include(spot.x, spot.y);
  }
  return extent.grown(0.04 * std::max(extent.width(), extent.height()));
}

void MapScene::draw_below(Canvas& canvas) {
  // A branch's round end may reach through the floor or a wall: not past the boxes.
  Rect boxes{1e300, 1e300, -1e300, -1e300};
  for (const Box& box : survey_.scene.boxes) {
    const Spot a = px(box.corner), b = px(box.far_corner());
    boxes = {std::min(boxes.x0, a.x), std::min(boxes.y0, b.y), std::max(boxes.x1, b.x),
             std::max(boxes.y1, a.y)};
  }
  canvas.clip_to(boxes);
  draw_models(canvas);
  draw_boards(canvas);
  draw_branches(canvas);
  draw_crowns(canvas);
  canvas.clip_to(layout_.plot);
}

void MapScene::draw_above(Canvas& canvas, LabelPlacer& placer) {
  draw_walls(canvas);
  draw_lamps(canvas, placer);
  draw_marks(canvas, placer);
  draw_labels(canvas, placer);
}

void MapScene::draw_branches(Canvas& canvas) {
  for (const Branch& branch : survey_.scene.branches) {
    Path whole;
    std::vector<Path> parts;
    for (std::size_t i = 0; i < branch.path.size(); ++i) {
      whole.push_back(px(branch.path[i]));
      if (i + 1 == branch.path.size()) break;
      const Vec3 p = branch.path[i], q = branch.path[i + 1];
      const auto part = near_part(p, q, off(p), off(q), near_ + branch.diameter / 2);
      if (part) parts.push_back({px(part->first), px(part->second)});
    }
    stroke_cased(canvas, {whole}, {1.4, kBark, 1, 3, 4});
    signs_.insert(parts.empty() ? MapSign::far_branch : MapSign::branch);
    const double width = std::max(3.0, branch.diameter * layout_.px_per_m);
    canvas.stroke(parts, {width + 3.5, kPaper, 0.75});
    canvas.stroke(parts, {width + 1.5, kInk});
    canvas.stroke(parts, {width, kBark});
  }
}

void MapScene::draw_boards(Canvas& canvas) {
  for (const Board& board : survey_.scene.boards) {
    const Vec3 a = board.corner, b = a + board.edge_u, c = b + board.edge_v, d = a + board.edge_v;
    const auto [low, high] = std::minmax({off(a), off(b), off(c), off(d)});
    if (low > near_ || high < -near_) continue;
    signs_.insert(MapSign::board);
    const Path outline = {px(a), px(b), px(c), px(d)};
    canvas.fill(outline, kBark, 0.55);
    stroke_cased(canvas, {closed(outline)}, {2.6, kBark});
  }
}

void MapScene::draw_models(Canvas& canvas) {
  for (const Model& model : survey_.scene.models) {
    const std::vector<std::vector<Vec3>> cut = cut_lines(*model.shell, slice_.view, slice_.at);
    const auto to_px = [this](const Vec3& place) { return px(place); };
    stroke_cased(canvas, whole_outline(*model.shell, to_px, layout_.plot), far_model_stroke());
    signs_.insert(MapSign::far_model);
    if (cut.empty()) continue;
    signs_.insert(MapSign::model);
    std::vector<Path> paths;
    Rect bounds{1e300, 1e300, -1e300, -1e300};
    for (const std::vector<Vec3>& line : cut) {
      paths.emplace_back();
      for (const Vec3& place : line) {
        const Spot spot = px(place);
        paths.back().push_back(spot);
        bounds = {std::min(bounds.x0, spot.x), std::min(bounds.y0, spot.y), std::max(bounds.x1, spot.x),
                  std::max(bounds.y1, spot.y)};
      }
    }
    if (model.shell->closed()) canvas.fill(joined_rings(paths), kBark, kModelOpacity);
    stroke_cased(canvas, paths, {2.2, kBark});
    labels_.push_back({bounds, model.name, kBark, false});
  }
}

void MapScene::draw_crowns(Canvas& canvas) {
  for (const Plant& plant : survey_.scene.plants) {
    const Vec3 radii = plant.grown_radii();
    const double relative = off(plant.crown_centre) / across(slice_.view, radii);
    if (std::abs(relative) >= 1) continue;
    signs_.insert(MapSign::crown);
    const double shrunk = std::sqrt(1 - relative * relative) * layout_.px_per_m;
    const Spot centre = px(plant.crown_centre);
    const double half = along_u(slice_.view, radii) * shrunk, tall = along_v(slice_.view, radii) * shrunk;
    stroke_cased(canvas, {closed(ellipse_path(centre, half, tall))}, crown_stroke());
    labels_.push_back(
        {{centre.x - half, centre.y - tall, centre.x + half, centre.y + tall}, plant.name, kLeaf, true});
  }
}

void MapScene::draw_walls(Canvas& canvas) {
  // Boxes that this cut misses, for orientation.
  for (const Box& box : survey_.scene.boxes) {
    const double low = off(box.corner), high = off(box.far_corner());
    if (low <= 0 && high >= 0) continue;
    const Spot a = px(box.corner), b = px(box.far_corner());
    canvas.stroke(closed(rect_path({a.x, b.y, b.x, a.y})), {1.2, kMuted, 0.7, 6, 5});
  }
  std::array<std::vector<Path>, 4> by_kind;
  for (const FacePart& face : outer_faces(survey_.scene.boxes)) {
    // A side that the cut meets is seen as a line: from where it enters the rectangle to where it leaves it.
    const Vec3 far = face.corner + face.edge_u + face.edge_v;
    const double low = std::min(off(face.corner), off(far)), high = std::max(off(face.corner), off(far));
    if (high - low < 1e-9 || low > 0 || high < 0) continue;
    by_kind[static_cast<std::size_t>(wall_kind(survey_.scene, face.material))].push_back(
        {px(face.corner), px(far)});
  }
  for (const MapSign kind : {MapSign::open, MapSign::mesh, MapSign::pane, MapSign::wall}) {
    const std::vector<Path>& walls = by_kind[static_cast<std::size_t>(kind)];
    if (walls.empty()) continue;
    signs_.insert(kind);
    stroke_cased(canvas, walls, wall_stroke(kind));
  }
}

void MapScene::draw_marks(Canvas& canvas, LabelPlacer& placer) {
  const Scene& scene = survey_.scene;
  const bool section = slice_.view != View::plan;
  std::vector<PendingLabel> marked;
  const auto add = [&](const Vec3& at, const std::string& name, bool on_slice) {
    const Rect mark = Rect{px(at).x, px(at).y, px(at).x, px(at).y}.grown(on_slice ? 9 : 6);
    placer.block(mark);
    if (on_slice || section) marked.push_back({mark, name, kInk});
  };
  const double back = scene.animal ? scene.animal->back : 0;
  for (const Perch& perch : scene.perches) {
    const Vec3 reading = perch.at + back * Vec3::UnitZ();
    const bool on_slice = near(reading);
    if (!layout_.plot.contains(px(reading))) continue;
    signs_.insert(on_slice ? MapSign::perch : MapSign::elsewhere);
    if (section && back > 0) stroke_cased(canvas, {{px(perch.at), px(reading)}}, {1.4, kInk});
    draw_perch_mark(canvas, px(reading), on_slice);
    add(reading, perch.name, on_slice);
  }
  for (const Point& point : scene.points) {
    if (!layout_.plot.contains(px(point.at))) continue;
    const bool on_slice = near(point.at);
    signs_.insert(on_slice ? MapSign::point : MapSign::elsewhere);
    draw_point_mark(canvas, px(point.at), on_slice);
    add(point.at, point.name, on_slice);
  }
  const bool has_hottest = quantity_ == Quantity::uvi || quantity_ == Quantity::irradiance;
  if (survey_.hottest && has_hottest) {
    const HottestPlace& place =
        quantity_ == Quantity::uvi ? survey_.hottest->uvi : survey_.hottest->irradiance;
    if (near(place.at)) {
      signs_.insert(MapSign::hottest);
      draw_hottest_mark(canvas, px(place.at));
      const std::string figure = print_number(place.figure.value);
      add(place.at, quantity_ == Quantity::uvi ? "UVI " + figure : figure + " " + pretty_unit(quantity_),
          true);
    }
  }
  labels_.insert(labels_.begin(), marked.begin(), marked.end());  // perches and points get the best places
}

void MapScene::draw_labels(Canvas& canvas, LabelPlacer& placer) {
  for (const PendingLabel& label : labels_) {
    const std::string text =
        text_that_fits(shortened(label.text, 26), kLabelSize, 0.6 * layout_.plot.width());
    const double width = text_width(text, kLabelSize) + 6, height = text_height(kLabelSize) + 2;
    constexpr double kClearance = 3, kFar = 16;
    std::optional<Rect> box;
    if (label.inside && label.thing.width() > width && label.thing.height() > height) {
      box = placer.at(label.thing.centre(), width, height);
    }
    if (!box) box = placer.beside(label.thing, width, height, kClearance);
    if (!box) continue;
    // A leader where the label had to go far: between the nearest spots of both.
    const auto between = [](double low, double high, double other) { return std::clamp(other, low, high); };
    const Rect& thing = label.thing;
    const Spot middle = box->centre();
    const Spot from{between(thing.x0, thing.x1, middle.x), between(thing.y0, thing.y1, middle.y)};
    const Spot to{between(box->x0, box->x1, from.x), between(box->y0, box->y1, from.y)};
    if (std::hypot(to.x - from.x, to.y - from.y) > kFar)
      stroke_cased(canvas, {{from, to}}, {1, label.colour});
    canvas.text({box->x0 + 3, box->y0 + 1}, text, {kLabelSize, label.colour, 2.2, kPaper});
  }
}

}  // namespace boughlight
