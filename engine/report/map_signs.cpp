// The look of each sign, shared by the map and its legend.
#include "report/map_signs.h"
#include "report/map_scene.h"
#include "report/map_style.h"

namespace boughlight {

using namespace map_style;

void stroke_cased(Canvas& canvas, const std::vector<Path>& paths, const Stroke& stroke) {
  Stroke casing = stroke;
  casing.width += 2.4;
  casing.colour = kPaper;
  casing.opacity = 0.75;
  casing.dash = casing.gap = 0;
  canvas.stroke(paths, casing);
  canvas.stroke(paths, stroke);
}

void draw_perch_mark(Canvas& canvas, const Spot& spot, bool on_slice) {
  const auto diamond = [&](double r) {
    return Path{{spot.x, spot.y - r}, {spot.x + r, spot.y}, {spot.x, spot.y + r}, {spot.x - r, spot.y}};
  };
  if (on_slice) {
    canvas.fill(diamond(9.5), kPaper);
    canvas.fill(diamond(7.5), kInk);
    canvas.fill(diamond(3), kPaper);
  } else {
    stroke_cased(canvas, {closed(diamond(5.5))}, {1.4, kInk});
  }
}

void draw_point_mark(Canvas& canvas, const Spot& spot, bool on_slice) {
  const double r = on_slice ? 5 : 4;
  const Path square = rect_path({spot.x - r, spot.y - r, spot.x + r, spot.y + r});
  stroke_cased(canvas, {closed(square)}, {on_slice ? 2.0 : 1.2, kInk});
  if (on_slice) canvas.fill(Rect{spot.x - 1.5, spot.y - 1.5, spot.x + 1.5, spot.y + 1.5}, kInk);
}

void draw_hottest_mark(Canvas& canvas, const Spot& spot) {
  constexpr double kArm = 6;
  stroke_cased(canvas,
               {{{spot.x - kArm, spot.y - kArm}, {spot.x + kArm, spot.y + kArm}},
                {{spot.x - kArm, spot.y + kArm}, {spot.x + kArm, spot.y - kArm}}},
               {2.6, kInk});
}

void draw_change_mark(Canvas& canvas, const Spot& spot, bool rises, Rgb colour) {
  constexpr double kArm = 4;
  std::vector<Path> arms = {{{spot.x - kArm, spot.y}, {spot.x + kArm, spot.y}}};
  if (rises) arms.push_back({{spot.x, spot.y - kArm}, {spot.x, spot.y + kArm}});
  canvas.stroke(arms, {1.5, colour, 0.8});
}

Stroke wall_stroke(MapSign kind) {
  switch (kind) {
    case MapSign::mesh:
      return {2.4, kInk, 1, 5, 5};
    case MapSign::pane:
      return {1.4, kInk};
    case MapSign::open:
      return {1.6, kMuted, 1, 1, 6};
    default:
      return {3.2, kInk};
  }
}

Stroke crown_stroke() {
  return {2.2, kLeafEdge, 1, 9, 5};
}

Stroke far_model_stroke() {
  return {1.4, kBark, 1, 7, 4};
}

Stroke lamp_body_stroke() {
  return {1.8, kMuted};
}

void draw_hatch(Canvas& canvas, const Rect& rect) {
  canvas.fill(rect, kHatchGround);
  for (int y = static_cast<int>(rect.y0); y < static_cast<int>(rect.y1); ++y) {
    for (int x = static_cast<int>(rect.x0); x < static_cast<int>(rect.x1); ++x) {
      if (is_hatch_line(x, y)) canvas.set(x, y, kHatch);
    }
  }
}

void draw_sign(Canvas& canvas, MapSign sign, const Spot& spot, double size) {
  const double half = size / 2;
  const Path level = {{spot.x - half, spot.y}, {spot.x + half, spot.y}};
  const Rect swatch{spot.x - half, spot.y - 5, spot.x + half, spot.y + 5};
  switch (sign) {
    case MapSign::wall:
    case MapSign::mesh:
    case MapSign::pane:
    case MapSign::open:
      canvas.stroke(level, wall_stroke(sign));
      break;
    case MapSign::perch:
      draw_perch_mark(canvas, spot, true);
      break;
    case MapSign::point:
      draw_point_mark(canvas, spot, true);
      break;
    case MapSign::elsewhere:
      draw_perch_mark(canvas, {spot.x - 7, spot.y}, false);
      draw_point_mark(canvas, {spot.x + 7, spot.y}, false);
      break;
    case MapSign::hottest:
      draw_hottest_mark(canvas, spot);
      break;
    case MapSign::lamp:
      canvas.fill(swatch, kLamp);
      canvas.stroke(closed(rect_path(swatch)), {1.4, kLampEdge});
      break;
    case MapSign::lamp_from_above:
      canvas.stroke(closed(rect_path(swatch)), {1.8, kLampEdge});
      break;
    case MapSign::lamp_body:
      canvas.stroke(closed(rect_path(swatch)), lamp_body_stroke());
      break;
    case MapSign::branch:
      canvas.stroke(level, {7, kInk});
      canvas.stroke(level, {5, kBark});
      break;
    case MapSign::far_branch:
      canvas.stroke(level, {1.4, kBark, 1, 3, 4});
      break;
    case MapSign::board:
      canvas.stroke(level, {3, kBark});
      break;
    case MapSign::model:
      canvas.fill(swatch, kBark, kModelOpacity);
      canvas.stroke(closed(rect_path(swatch)), {2.2, kBark});
      break;
    case MapSign::far_model:
      canvas.stroke(level, far_model_stroke());
      break;
    case MapSign::crown:
      canvas.stroke(level, crown_stroke());
      break;
    case MapSign::rises:
    case MapSign::falls:
      draw_change_mark(canvas, spot, sign == MapSign::rises, kInk);
      break;
    case MapSign::blocked:
      draw_hatch(canvas, swatch);
      break;
  }
}

std::string sign_name(MapSign sign) {
  switch (sign) {
    case MapSign::wall:
      return "wall";
    case MapSign::mesh:
      return "mesh";
    case MapSign::pane:
      return "pane";
    case MapSign::open:
      return "open side";
    case MapSign::perch:
      return "perch, at the back";
    case MapSign::point:
      return "point";
    case MapSign::elsewhere:
      return "the same, off this cut";
    case MapSign::hottest:
      return "highest in reach";
    case MapSign::lamp:
      return "lamp";
    case MapSign::lamp_from_above:
      return "lamp, seen from above";
    case MapSign::lamp_body:
      return "body of a lamp";
    case MapSign::branch:
      return "branch";
    case MapSign::far_branch:
      return "branch off this cut";
    case MapSign::board:
      return "board";
    case MapSign::model:
      return "model, cut";
    case MapSign::far_model:
      return "outline of a model";
    case MapSign::crown:
      return "crown of leaves, cut";
    case MapSign::rises:
      return "clearly more";
    case MapSign::falls:
      return "clearly less";
    case MapSign::blocked:
      return "no free space";
  }
  return "";
}

}  // namespace boughlight
