#include "scene/enclosure.h"

#include <algorithm>

namespace boughlight {

namespace {

// Slivers thinner than this come from rounding of the boxes' corners, m.
constexpr double kSliver = 1e-9;

struct Axes {
  int normal, u, v;
  bool far;  // the side at the box's far corner along `normal`
};

Axes axes_of(Side side) {
  switch (side) {
    case Side::floor:
      return {2, 0, 1, false};
    case Side::top:
      return {2, 0, 1, true};
    case Side::front:
      return {1, 0, 2, false};
    case Side::back:
      return {1, 0, 2, true};
    case Side::left:
      return {0, 1, 2, false};
    default:
      return {0, 1, 2, true};
  }
}

// A rectangle in a side's own plane, in the scene's coordinates.
struct Rectangle {
  double u0, u1, v0, v1;
  bool empty() const { return u1 - u0 <= kSliver || v1 - v0 <= kSliver; }
  double area() const { return empty() ? 0 : (u1 - u0) * (v1 - v0); }
};

Rectangle side_rectangle(const Box& box, const Axes& axes) {
  const Vec3 far = box.far_corner();
  return {box.corner[axes.u], far[axes.u], box.corner[axes.v], far[axes.v]};
}

// The neighbour that stands on a box's top, or that the box's floor stands on; -1 for none.
int neighbour(const std::vector<Box>& boxes, int box, Side side) {
  if (side == Side::floor) return box - 1;
  if (side == Side::top && box + 1 < static_cast<int>(boxes.size())) return box + 1;
  return -1;
}

// The side's rectangle less its neighbour's: up to four strips, below, above, left and right of the overlap.
std::vector<Rectangle> uncovered(const std::vector<Box>& boxes, int box, Side side) {
  const Axes axes = axes_of(side);
  const Rectangle whole = side_rectangle(boxes[box], axes);
  const int other = neighbour(boxes, box, side);
  if (other < 0) return {whole};
  const Rectangle cover = side_rectangle(boxes[other], axes);
  const Rectangle hole = {std::max(whole.u0, cover.u0), std::min(whole.u1, cover.u1),
                          std::max(whole.v0, cover.v0), std::min(whole.v1, cover.v1)};
  if (hole.empty()) return {whole};
  std::vector<Rectangle> parts = {{whole.u0, whole.u1, whole.v0, hole.v0},
                                  {whole.u0, whole.u1, hole.v1, whole.v1},
                                  {whole.u0, hole.u0, hole.v0, hole.v1},
                                  {hole.u1, whole.u1, hole.v0, hole.v1}};
  std::erase_if(parts, [](const Rectangle& part) { return part.empty(); });
  return parts;
}

}  // namespace

bool is_opaque(const FacePart& face, const std::vector<Material>& materials) {
  return face.material >= 0 && materials[static_cast<std::size_t>(face.material)].kind == SurfaceKind::matte;
}

std::vector<FacePart> outer_faces(const std::vector<Box>& boxes) {
  std::vector<FacePart> faces;
  for (int box = 0; box < static_cast<int>(boxes.size()); ++box) {
    for (Side side : kSides) {
      const Axes axes = axes_of(side);
      for (const Rectangle& part : uncovered(boxes, box, side)) {
        FacePart face;
        face.box = box;
        face.side = side;
        face.material = boxes[box].face[static_cast<std::size_t>(side)];
        face.corner[axes.u] = part.u0;
        face.corner[axes.v] = part.v0;
        face.corner[axes.normal] =
            axes.far ? boxes[box].far_corner()[axes.normal] : boxes[box].corner[axes.normal];
        face.edge_u[axes.u] = part.u1 - part.u0;
        face.edge_v[axes.v] = part.v1 - part.v0;
        face.outward[axes.normal] = axes.far ? 1 : -1;
        faces.push_back(face);
      }
    }
  }
  return faces;
}

double uncovered_share(const std::vector<Box>& boxes, int box, Side side) {
  double area = 0;
  for (const Rectangle& part : uncovered(boxes, box, side)) area += part.area();
  return area / side_rectangle(boxes[box], axes_of(side)).area();
}

}  // namespace boughlight
