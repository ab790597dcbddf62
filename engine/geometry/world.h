// The scene as the rays meet it: opaque diffuse surfaces in an Embree tree, mesh and panes beside it.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "geometry/indoors.h"
#include "geometry/panel.h"
#include "geometry/panel_planes.h"
#include "geometry/tree_build.h"
#include "scene/enclosure.h"

namespace boughlight {

// A surface that scatters by the cosine law: matte (transmittance 0) or leaf.
struct DiffuseOptics {
  Spectral reflectance = Spectral::Zero();
  Spectral transmittance = Spectral::Zero();
  bool transmits = false;
};

struct Hit {
  float distance = 0;
  Vec3f place = Vec3f::Zero();    // kept inside the enclosure where the ray started inside; see Indoors
  Vec3f normal = Vec3f::UnitZ();  // unit, on the side the ray came from
  int optics = 0;                 // index into World::diffuse()
};

// What goes straight through the panels along a segment: scalar x spectral.
struct Straight {
  float scalar = 1;
  bool is_spectral = false;
  Spectral spectral;  // only set where is_spectral

  void clear() { scalar = 1, is_spectral = false; }
  void multiply(const Spectral& factor) {
    if (is_spectral) {
      spectral *= factor;
    } else {
      spectral = factor;
      is_spectral = true;
    }
  }
};

// A straight piece of a ray: from its origin along its direction (unit), m.
struct Segment {
  Vec3f origin, direction;
  float distance;
};

class Tree;

class World {
 public:
  explicit World(const Scene& scene, TreeBuild build = TreeBuild::for_many_rays);
  ~World();
  World(const World&) = delete;
  World& operator=(const World&) = delete;

  // Nearest diffuse surface beyond the origin, panels ignored; false when the ray leaves the scene.
  bool closest(const Vec3f& origin, const Vec3f& direction, Hit& hit) const;
  // Whether a diffuse surface lies within `distance`, panels ignored.
  bool blocked(const Vec3f& origin, const Vec3f& direction, float distance) const;
  // The same of up to kSegments at once, which takes less time than one by one: bit i is segment i's.
  static constexpr std::size_t kSegments = 16;
  std::uint32_t blocked(std::span<const Segment> segments) const;

  // Calls visit(const Panel&, distance along the ray) for every panel crossed before `distance`, or a hair
  // (an offset()) past it: a lamp may rest on a mesh.
  template <class Visit>
  void crossed(const Vec3f& origin, const Vec3f& direction, float distance, Visit&& visit) const {
    planes_.crossed(origin, direction, 0, distance + offset_,
                    [&](std::size_t index, float at) { visit(panels_[index], at); });
  }
  // Multiplies `through` by the straight transmittance of all those. False when nothing is left.
  bool straight(const Vec3f& origin, const Vec3f& direction, float distance, Straight& through) const;
  // The nearest panel crossed in (from, before): its index and the distance, or -1.
  int next_panel(const Vec3f& origin, const Vec3f& direction, float from, float before,
                 float& distance) const;

  // Where a path that scatters at a panel goes on from; see Indoors.
  Vec3f kept_inside(const Vec3f& origin, const Vec3f& place, const Vec3f& normal) const {
    return indoors_.keep(origin, place, normal);
  }

  // Whether a surface or panel lies within `within` (m) of a place, along the line of `direction`.
  bool on_surface(const Vec3f& place, const Vec3f& direction, float within) const;

  // Of one layer of a mesh, and the part of light along `direction` that goes straight through `count` of
  // them from number `first` on: 1 of none.
  MeshShares mesh_shares(const Panel& panel, int layer, const Vec3f& direction) const;
  float mesh_straight(const Panel& panel, int first, int count, const Vec3f& direction) const;
  void pane_shares(const Panel& panel, const Vec3f& direction, Spectral& transmittance,
                   Spectral& reflectance) const;

  const std::vector<Panel>& panels() const { return panels_; }
  const std::vector<int>& pane_panels() const {
    return pane_panels_;
  }  // indices of the panels that are panes
  const DiffuseOptics& diffuse(int optics) const { return diffuse_[static_cast<std::size_t>(optics)]; }
  const MeshOptics& mesh(const Panel& panel) const { return meshes_[static_cast<std::size_t>(panel.optics)]; }

  // How far a new ray must start from the surface it leaves, m.
  float offset() const { return offset_; }
  std::size_t leaf_count() const { return leaf_count_; }
  // A box around everything that light can meet, widened a little; for light that comes from outside.
  const Eigen::AlignedBox3f& bounds() const { return bounds_; }

 private:
  int add_diffuse(const Scene& scene, int material);
  void add_face(const Scene& scene, const FacePart& part);
  void add_rectangle(const Scene& scene, int material, const Vec3& corner, const Vec3& u, const Vec3& v,
                     const Vec3& outward);
  void add_body(const OrientedBox& body, const SpectralD& reflectance);

  std::unique_ptr<Tree> tree_;
  std::vector<Panel> panels_;
  PanelPlanes planes_;  // of panels_, in the same order
  std::vector<int> pane_panels_;
  std::vector<DiffuseOptics> diffuse_;
  std::vector<MeshOptics> meshes_;
  std::vector<PaneOptics> panes_;
  std::vector<int> optics_of_material_;
  float offset_ = 2e-5f;
  std::size_t leaf_count_ = 0;
  Eigen::AlignedBox3f bounds_;
  Indoors indoors_;
};

}  // namespace boughlight
