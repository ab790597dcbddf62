#include "plan/crown_reach.h"

#include <algorithm>

#include "scene/enclosure.h"

namespace boughlight {

double growth_to_reach(const Plant& plant, const Vec3& place) {
  return (place - plant.crown_centre).cwiseQuotient(plant.radii).norm();
}

std::vector<CrownTouch> crown_touches(const Scene& scene, const Plant& plant, const GrowthCurve& curve,
                                      double months) {
  std::vector<CrownTouch> touches;
  const auto add = [&](const char* what, const std::string& name, double growth) {
    const auto month = curve.months_until(plant.growth, growth);
    if (!month || *month > months) return;
    // A side in several parts is reached when the first of them is.
    for (CrownTouch& touch : touches)
      if (touch.name == name && touch.what == what) {
        if (*month < touch.month) touch.month = *month, touch.growth = growth;
        return;
      }
    touches.push_back({what, name, *month, std::max(growth, plant.growth)});
  };
  for (const FacePart& face : outer_faces(scene.boxes)) {
    if (face.material < 0) continue;
    const Material& material = scene.materials[static_cast<std::size_t>(face.material)];
    if (material.kind != SurfaceKind::mesh) continue;
    // Scaling the radii to 1 keeps an axis-parallel rectangle one, whose nearest place to the centre is the
    // centre clamped to it.
    const Vec3 far = face.corner + face.edge_u + face.edge_v;
    const Vec3 nearest =
        plant.crown_centre.cwiseMax(face.corner.cwiseMin(far)).cwiseMin(face.corner.cwiseMax(far));
    add("mesh", material.name + ", " + std::string(side_name(face.side)), growth_to_reach(plant, nearest));
  }
  const double back = scene.animal ? scene.animal->back : 0;
  for (const Perch& perch : scene.perches)
    add("perch", perch.name, growth_to_reach(plant, perch.at + Vec3(0, 0, back)));
  std::stable_sort(touches.begin(), touches.end(),
                   [](const CrownTouch& a, const CrownTouch& b) { return a.month < b.month; });
  return touches;
}

}  // namespace boughlight
