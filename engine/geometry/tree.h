// Everything that scatters light by the cosine law, in one tree that Embree casts rays into. Private to this
// room.
#pragma once

#include <array>
#include <vector>

#include "geometry/embree.h"
#include "geometry/panel.h"
#include "geometry/tree_build.h"
#include "scene/model.h"

namespace boughlight {

class Tree {
 public:
  // Throws std::runtime_error where Embree cannot start, now or in any later call.
  Tree();
  ~Tree();
  Tree(const Tree&) = delete;
  Tree& operator=(const Tree&) = delete;

  // Room for so many rectangles, so that none are moved as more are added.
  void reserve(std::size_t rectangles);
  // `optics` is handed back for what a ray meets.
  void add(const Vec3& corner, const Vec3& u, const Vec3& v, int optics);  // a parallelogram
  void add(const Branch& branch, int optics);
  void add(const Scene& scene, const Plant& plant, int optics);  // its leaves
  void add(const Shell& shell, int optics);
  // Once, after the last add().
  void build(TreeBuild build);

  RTCScene scene() const { return scene_; }
  // Of what a ray has met, by Embree's numbers of it.
  int optics(unsigned geometry, unsigned primitive) const { return optics_[geometry][primitive]; }

 private:
  enum Geometry : unsigned { kRectangles, kBranches, kBalls, kTriangles, kGeometries };
  void attach(RTCGeometry geometry, Geometry id);

  RTCDevice device_;
  RTCScene scene_ = nullptr;
  RTCBuildQuality quality_ = RTC_BUILD_QUALITY_MEDIUM;
  std::array<std::vector<int>, kGeometries> optics_;  // one a primitive
  std::vector<Vec3f> corners_;                        // four a rectangle; Embree reads them here
  std::vector<Eigen::Vector4f> curve_points_;         // x, y, z, radius
  std::vector<unsigned> curve_starts_;
  std::vector<Vec3f> shell_vertices_;
  std::vector<Triangle> triangles_;
};

}  // namespace boughlight
