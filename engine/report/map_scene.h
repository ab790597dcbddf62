// What stands in and around the enclosure, drawn over a map: walls, branches, boards, models, crowns, lamps,
// perches, points.
#pragma once

#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "report/labels.h"
#include "report/map.h"

namespace boughlight {

// Signs that a map uses and its legend explains, in the legend's order.
enum class MapSign {
  wall,
  mesh,
  pane,
  open,
  perch,
  point,
  elsewhere,
  hottest,
  lamp,
  lamp_from_above,
  lamp_body,
  branch,
  far_branch,
  board,
  model,
  far_model,
  crown,
  rises,
  falls,
  blocked
};

struct PendingLabel {
  Rect thing;  // what it names
  std::string text;
  Rgb colour;
  bool inside = false;  // may lie on the thing where it fits
};

class MapScene {
 public:
  MapScene(const Survey& survey, Quantity quantity, const Slice& slice, const MapLayout& layout);

  // Metres that the picture must cover along u and v: the boxes, the lamps and what is close by.
  static Rect extent_m(const Survey& survey, View view);

  void draw_below(Canvas& canvas);  // models, branches, boards, crowns: under the contours
  void draw_above(Canvas& canvas, LabelPlacer& placer);  // walls, lamps, marks and their labels

  const std::set<MapSign>& signs() const { return signs_; }

 private:
  Spot px(const Vec3& p) const { return layout_.px(along_u(slice_.view, p), along_v(slice_.view, p)); }
  double off(const Vec3& p) const { return across(slice_.view, p) - slice_.at; }
  bool near(const Vec3& p) const { return std::abs(off(p)) <= near_; }

  void draw_branches(Canvas& canvas);
  void draw_boards(Canvas& canvas);
  void draw_models(Canvas& canvas);
  void draw_crowns(Canvas& canvas);
  void draw_walls(Canvas& canvas);
  void draw_lamps(Canvas& canvas, LabelPlacer& placer);
  void draw_marks(Canvas& canvas, LabelPlacer& placer);
  void draw_labels(Canvas& canvas, LabelPlacer& placer);

  const Survey& survey_;
  Quantity quantity_;
  const Slice& slice_;
  const MapLayout& layout_;
  double near_;  // m: what lies within one cell of the slice counts as being on it
  std::vector<PendingLabel> labels_;
  std::set<MapSign> signs_;
};

// One sign with its middle at `spot`, as in the legend; `size` is the room it may take across.
void draw_sign(Canvas& canvas, MapSign sign, const Spot& spot, double size);
std::string sign_name(MapSign sign);

}  // namespace boughlight
