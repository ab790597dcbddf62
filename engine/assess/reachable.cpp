#include "assess/reachable.h"

#include <algorithm>
#include <cmath>

namespace boughlight {
namespace {

double distance_to(const FacePart& face, const Vec3& place) {
  const Vec3 offset = place - face.corner;
  const double along_u = face.edge_u.norm(), along_v = face.edge_v.norm();
  const Vec3 u = face.edge_u / along_u, v = face.edge_v / along_v;
  const Vec3 nearest =
      face.corner + std::clamp(offset.dot(u), 0.0, along_u) * u + std::clamp(offset.dot(v), 0.0, along_v) * v;
  return (place - nearest).norm();
}

}  // namespace

Reachable::Reachable(const Scene& scene) : scene_(scene), faces_(outer_faces(scene.boxes)) {
  constexpr double kHair = 2e-4;
  reach_ = std::max(scene.animal ? scene.animal->reach : 0, kHair);
}

bool Reachable::contains(const Vec3& place) const {
  // The slack keeps places that a search put exactly at reach.
  constexpr double kSlack = 1e-9;
  if (!scene_.inside(place)) return false;
  for (const FacePart& face : faces_)
    if (distance_to(face, place) < reach_ - kSlack) return false;
  for (const Lamp& lamp : scene_.lamps)
    if (lamp.fixture->emitter->distance(lamp.to_local(place)) < reach_ - kSlack) return false;
  return !scene_.inside_solid(place);
}

std::vector<Vec3> Reachable::near_lamp(const Lamp& lamp) const {
  std::vector<Vec3> places;
  const auto add = [&](const Vec3& place) {
    if (contains(place)) places.push_back(place);
  };
  const Emitter& emitter = *lamp.fixture->emitter;
  constexpr int kAcross = 8, kAlong = 300;
  constexpr double kStep = 0.01;
  for (int i = 0; i < kAcross; ++i)
    for (int j = 0; j < kAcross; ++j) {
      const EmittedRay ray =
          emitter.emit((i + 0.5) / kAcross, (j + 0.5) / kAcross, (j + 0.5) / kAcross, (i + 0.5) / kAcross);
      // The nearest places to the emitter: within the boxes' reachable part, and just off a lamp inside.
      const Vec3 on_lamp = lamp.to_scene(ray.origin);
      for (const Box& box : scene_.boxes) {
        const Vec3 low = box.corner.array() + reach_, high = box.far_corner().array() - reach_;
        if ((high - low).minCoeff() >= 0) add(on_lamp.cwiseMax(low).cwiseMin(high));
      }
      const Vec3 far = ray.origin + 10 * ray.direction, surface = emitter.nearest(far);
      add(lamp.to_scene(surface + (reach_ + 1e-6) * (far - surface).normalized()));
    }
  for (int i = 0; i < kAlong; ++i) add(lamp.at + i * kStep * lamp.aim);
  return places;
}

std::vector<Vec3> Reachable::starts(double spacing) const {
  std::vector<Vec3> starts;
  const auto add = [&](const Vec3& place) {
    if (contains(place)) starts.push_back(place);
  };
  for (const Box& box : scene_.boxes) {
    // A box thinner than twice the reach can still be open to its neighbours: its middle is looked at.
    const Vec3 low = box.corner.array() + box.size.array().cwiseMin(2 * reach_) / 2;
    const Vec3 size = (box.size.array() - 2 * reach_).cwiseMax(0);
    const Eigen::Array3i steps = (size.array() / spacing).ceil().cast<int>().max(1);
    for (int z = 0; z <= steps.z(); ++z)
      for (int y = 0; y <= steps.y(); ++y)
        for (int x = 0; x <= steps.x(); ++x)
          add(low + size.cwiseProduct((Eigen::Array3d(x, y, z) / steps.cast<double>()).matrix()));
  }
  for (const Lamp& lamp : scene_.lamps)
    for (const Vec3& place : near_lamp(lamp)) starts.push_back(place);
  return starts;
}

}  // namespace boughlight
