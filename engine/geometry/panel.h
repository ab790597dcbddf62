// Flat panels that light passes without scattering by every surface: woven mesh and clear panes. They stay
// out of the ray-cast geometry and are crossed analytically, so that each crossing counts exactly once.
#pragma once

#include "scene/model.h"
#include "spectrum/bins.h"

namespace boughlight {

using Vec3f = Eigen::Vector3f;

// Where light goes that meets a mesh, as shares of what arrives; scattered shares are before the wires'
// reflectance.
struct MeshShares {
  float straight = 1;
  float back = 0;     // scattered to the side it came from, by the cosine law about the normal
  float forward = 0;  // scattered through, likewise
};

// A woven or welded mesh of round wires. `tan_u`, `tan_v`: |w_u / w_n| and |w_v / w_n| of the direction of
// travel, where u is the direction along which the first pitch is counted and n the panel's normal.
class MeshOptics {
 public:
  explicit MeshOptics(const Material& material);
  MeshShares shares(float tan_u, float tan_v) const;
  float straight(float tan_u, float tan_v) const;               // MeshShares::straight alone
  const Spectral& reflectance() const { return reflectance_; }  // of the wires, less what neighbours keep

 private:
  float ratio_u_ = 0, ratio_v_ = 0;  // wire / pitch
  float flat_ = -1;                  // >= 0: measured transmittance at every angle, no scatter
  Spectral reflectance_;
};

// A clear slab, both faces, all inner reflections added incoherently; unpolarised light.
class PaneOptics {
 public:
  explicit PaneOptics(const Material& material);
  // cosine of the angle of incidence in air, in (0, 1]. Shares of the light that arrives; their sum is at
  // most 1.
  void evaluate(float cosine, Spectral& transmittance, Spectral& reflectance) const;

  // The internal transmittance at normal incidence that gives `total` through two faces of `index`, 0..1.
  static double internal_transmittance(double total, double index);

 private:
  float index_ = 1.5f;
  Spectral log_internal_;  // ln of the internal transmittance at normal incidence
};

struct Panel {
  enum class Kind { mesh, pane };
  Kind kind = Kind::mesh;
  int optics = 0;     // index into World::meshes() or panes()
  int material = -1;  // index into Scene::materials
  // Of a mesh: how many lie on each other, without room between them, counted along `normal`. Its dirt, a
  // further factor on what goes straight through, lies on one of them: of a face on the innermost.
  int layers = 1, dirty_layer = 0;
  float soiling = 1;
  Vec3f corner, u, v, normal;  // u, v, normal: unit, at right angles
  float length_u = 0, length_v = 0;

  bool covers(const Vec3f& place) const {
    const Vec3f offset = place - corner;
    const float a = offset.dot(u), b = offset.dot(v);
    return a >= 0 && a < length_u && b >= 0 && b < length_v;
  }
  float signed_distance(const Vec3f& place) const { return normal.dot(place - corner); }
  Vec3f mirrored(const Vec3f& place) const { return place - 2.0f * signed_distance(place) * normal; }
};

}  // namespace boughlight
