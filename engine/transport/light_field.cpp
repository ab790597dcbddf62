#include "transport/light_field.h"

#include <array>

#include "transport/directions.h"

namespace boughlight {

namespace {

// Whether any way from a place to a ball can cross the pane: false spares the work of connecting to a lamp
// that the mirror does not show. May be true where none can.
bool may_cross(const Panel& pane, const Vec3f& place, const Vec3f& centre, float radius) {
  const float near = std::abs(pane.signed_distance(place));
  const float across = -std::copysign(1.0f, pane.signed_distance(place)) * pane.signed_distance(centre);
  const float nearest = std::max(0.0f, across - radius), farthest = across + radius;
  if (!(farthest > 0)) return false;
  // How far along the way the crossing may lie, as a share of it.
  const float low = near / (near + farthest), high = near > 0 ? near / (near + nearest) : 1.0f;
  const auto overlaps = [&](const Vec3f& axis, float length) {
    const float from = axis.dot(place - pane.corner), way = axis.dot(centre - place);
    const float least = way - radius, most = way + radius;
    return from + std::max(low * most, high * most) >= 0 &&
           from + std::min(low * least, high * least) <= length;
  };
  return overlaps(pane.u, pane.length_u) && overlaps(pane.v, pane.length_v);
}

}  // namespace

PlacedLamp::PlacedLamp(const Lamp& lamp)
    : fixture(lamp.fixture), scene_from_local(lamp.scene_from_local()), at(lamp.at) {
  Vec3 reach = Vec3::Zero();
  for (const Vec3& axis : {Vec3(Vec3::UnitX()), Vec3(Vec3::UnitY()), Vec3(Vec3::UnitZ())})
    reach += std::max(emitter().extent(axis), emitter().extent(-axis)) * axis;
  constexpr double kRounding = 1e-5;
  radius = static_cast<float>(reach.norm() * (1 + kRounding) + kRounding);
}

LightField::LightField(const Scene& scene, Importance importance, TreeBuild build)
    : world_(std::make_shared<World>(scene, build)),
      importance_(std::move(importance)),
      lamps_(scene.lamps.begin(), scene.lamps.end()),
      has_room_(scene.has_room_light()) {
  find_cones();
}

LightField::LightField(const LightField& other, const std::vector<Lamp>& lamps)
    : world_(other.world_),
      importance_(other.importance_),
      lamps_(lamps.begin(), lamps.end()),
      has_room_(other.has_room_) {
  find_cones();
}

void LightField::find_cones() {
  for (const PlacedLamp& lamp : lamps_) cones_.add(lamp.at.cast<float>(), lamp.radius);
}

LightField::Connection LightField::connect(const PlacedLamp& lamp, const Vec3f& from, Pair pair) {
  const Vec3 local = lamp.scene_from_local.transpose() * (from.cast<double>() - lamp.at);
  const EmitterPoint sample = lamp.emitter().connect(local, pair.u, pair.v);
  return {(lamp.at + lamp.scene_from_local * sample.point).cast<float>(), static_cast<float>(sample.weight)};
}

bool LightField::straight_way(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal, Pair pair,
                              Segment& way, float& weight) const {
  const Connection connection = connect(lamp, place, pair);
  const Vec3f line = connection.target - place;
  const float distance = line.norm();
  if (!(connection.weight > 0) || !(distance > 0)) return false;
  const Vec3f direction = line / distance;
  way = {start(place, normal, direction), direction, distance};
  weight = connection.weight;
  return true;
}

bool LightField::straight_arrival(const Segment& way, float weight, Arrival& arrival) const {
  arrival.direction = way.direction;
  arrival.mirrored = false;
  arrival.through.clear();
  if (!world_->straight(way.origin, way.direction, way.distance, arrival.through)) return false;
  arrival.scalar = weight * arrival.through.scalar;
  return true;
}

bool LightField::reflected_arrival(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal,
                                   int mirrors, PairSampler& sampler, RayCount& rays,
                                   Arrival& arrival) const {
  constexpr int kMostMirrors = 24;  // reached with a chance of 4^-23
  if (mirrors > kMostMirrors) return false;
  const auto& panes = world_->pane_panels();
  const int count = static_cast<int>(panes.size());
  // The receiver's successive mirror images; a plane does not reflect twice in a row.
  std::array<int, kMostMirrors> order{};
  std::array<Vec3f, kMostMirrors + 1> images;
  images[0] = place;
  float choices = 1;  // 1 / probability of this order and of having come this far
  for (int m = 0; m < mirrors; ++m) {
    const int others = m == 0 ? count : count - 1;
    int pick = std::min(static_cast<int>(sampler.next().u * static_cast<float>(others)), others - 1);
    if (m > 0 && pick >= order[static_cast<std::size_t>(m - 1)]) ++pick;
    order[static_cast<std::size_t>(m)] = pick;
    choices *= static_cast<float>(others) / (m == 0 ? 1.0f : kAnotherMirror);
    const Panel& pane = world_->panels()[static_cast<std::size_t>(panes[static_cast<std::size_t>(pick)])];
    images[static_cast<std::size_t>(m + 1)] = pane.mirrored(images[static_cast<std::size_t>(m)]);
  }
  const Panel& last = world_->panels()[static_cast<std::size_t>(
      panes[static_cast<std::size_t>(order[static_cast<std::size_t>(mirrors - 1)])])];
  if (!may_cross(last, images[static_cast<std::size_t>(mirrors)], lamp.at.cast<float>(), lamp.radius))
    return false;
  const Connection connection = connect(lamp, images[static_cast<std::size_t>(mirrors)], sampler.next());
  if (!(connection.weight > 0)) return false;

  // Fold the straight way from the last image back to the receiver, mirror by mirror.
  arrival.through.clear();
  Vec3f end = connection.target;
  for (int m = mirrors - 1; m >= 0; --m) {
    const Panel& pane = world_->panels()[static_cast<std::size_t>(
        panes[static_cast<std::size_t>(order[static_cast<std::size_t>(m)])])];
    const Vec3f& image = images[static_cast<std::size_t>(m + 1)];
    const float near = pane.signed_distance(image), far = pane.signed_distance(end);
    if (!(near * far < 0)) return false;
    const Vec3f crossing = image + (near / (near - far)) * (end - image);
    if (!pane.covers(crossing)) return false;
    const Vec3f leg = end - crossing;
    const float distance = leg.norm(), margin = 4 * world_->offset();
    if (distance > 2 * margin) {
      const Vec3f direction = leg / distance, from = crossing + margin * direction;
      // Up to the next mirror, or to the lamp, which may rest on a mesh.
      const float until = distance - (m == mirrors - 1 ? 1 : 2) * margin;
      if (!world_->straight(from, direction, until, arrival.through)) return false;
      ++rays.shadow;
      if (world_->blocked(from, direction, distance - 2 * margin)) return false;
      Spectral transmittance, reflectance;
      world_->pane_shares(pane, direction, transmittance, reflectance);
      arrival.through.multiply(reflectance);
    }
    end = crossing;
  }
  const Vec3f way = end - place;
  const float distance = way.norm();
  if (!(distance > 0)) return false;
  arrival.direction = way / distance;
  const Vec3f from = start(place, normal, arrival.direction);
  const float until = distance - 4 * world_->offset();
  if (!world_->straight(from, arrival.direction, until, arrival.through)) return false;
  ++rays.shadow;
  if (until > 0 && world_->blocked(from, arrival.direction, until)) return false;
  arrival.scalar = connection.weight * choices * arrival.through.scalar;
  return true;
}

LightField::Emission LightField::emit(std::size_t lamp_index, Pair place, Pair direction) const {
  const PlacedLamp& lamp = lamps_[lamp_index];
  const EmittedRay ray = lamp.emitter().emit(place.u, place.v, direction.u, direction.v);
  Vec3f origin = (lamp.at + lamp.scene_from_local * ray.origin).cast<float>();
  const Vec3f way = (lamp.scene_from_local * ray.direction).cast<float>();
  // Where the lamp rests on a mesh, rounding must not put its light past it.
  const Vec3f before = origin - world_->offset() * way;
  float at = 0;
  if (world_->next_panel(before, way, 0, world_->offset(), at) >= 0) origin = before;
  return {origin, way, static_cast<float>(ray.weight)};
}

LightField::Emission LightField::emit_room(Pair place, Pair direction, float choice) const {
  const Vec3f low = world_->bounds().min(), size = world_->bounds().sizes();
  const std::array<float, 3> areas = {size.y() * size.z(), size.z() * size.x(), size.x() * size.y()};
  const float total = 2 * (areas[0] + areas[1] + areas[2]);
  float left = choice * total;
  int axis = 0;
  bool far_side = false;
  for (axis = 0; axis < 3; ++axis) {
    if (left < 2 * areas[static_cast<std::size_t>(axis)]) {
      far_side = left >= areas[static_cast<std::size_t>(axis)];
      break;
    }
    left -= 2 * areas[static_cast<std::size_t>(axis)];
  }
  axis = std::min(axis, 2);
  const int next = (axis + 1) % 3, last = (axis + 2) % 3;
  Emission emission;
  emission.origin[axis] = low[axis] + (far_side ? size[axis] : 0);
  emission.origin[next] = low[next] + place.u * size[next];
  emission.origin[last] = low[last] + place.v * size[last];
  Vec3f inward = Vec3f::Zero();
  inward[axis] = far_side ? -1.0f : 1.0f;
  emission.direction = sample_cosine(inward, direction);
  emission.weight = total;
  return emission;
}

}  // namespace boughlight
