// Flat cuts through the enclosure, and a quantity's values on them.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "assess/results.h"
#include "report/canvas.h"
#include "report/scale.h"

namespace boughlight {

// plan: seen from above, u = x, v = y. front: u = x, v = z. side: seen from the right, u = y, v = z (front on
// the left).
enum class View { plan, front, side };

// The coordinate of a place along the picture's right, its up, and across the cut.
double along_u(View view, const Vec3& p);
double along_v(View view, const Vec3& p);
double across(View view, const Vec3& p);

struct Slice {
  View view = View::plan;
  double at = 0;        // m: z of a plan (the middle of a layer of cells), y of a front, x of a side section
  std::string name;     // for files: "plan-z143cm", "front", "side"
  std::string caption;  // for people: "plan at z = 142.5 cm (back height on sun perch)"
};

// What is mapped, for every quantity alike: plans, from the top down, at the layer of each perch's reading,
// of the hottest place for UVI, the middle and the floor, each layer once; then a front and a side section
// through the first perch with wants, else the first perch, else the middle of the enclosure. None where
// there is no grid.
std::vector<Slice> slices_of(const Survey& survey);

// The slab of cells of one box that a slice cuts.
struct SlicePatch {
  double u0 = 0, v0 = 0;  // corner, m
  double du = 0, dv = 0;  // edge of a cell, m
  int nu = 0, nv = 0;
  std::vector<double> value;  // u runs fastest; what has no free volume holds no value
  std::vector<char> free;

  double u1() const { return u0 + nu * du; }
  double v1() const { return v0 + nv * dv; }
};

// A quantity (facing up) on a slice. Between the centres of cells that have free volume values are bilinear,
// across the joint of two boxes too; from the outermost centres to the walls they go on straight (never below
// 0).
class SliceField {
 public:
  SliceField(const Survey& survey, Quantity quantity, const Slice& slice);
  // The same of anything else that cells have (>= 0).
  SliceField(const Survey& survey, const std::function<double(const Cell&)>& value, const Slice& slice);

  const std::vector<SlicePatch>& patches() const { return patches_; }
  std::vector<Rect> boxes() const;  // what the patches cover, edges included, m
  // Nothing outside the boxes and in cells without free volume.
  std::optional<double> value(double u, double v) const;

 private:
  const SlicePatch* patch_at(double u, double v) const;
  std::vector<SlicePatch> patches_;
};

}  // namespace boughlight
