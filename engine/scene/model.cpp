#include "scene/model.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace boughlight {

namespace {

// Rounding slack where touching counts as inside, m.
constexpr double kTouch = 1e-9;

double distance_to_segment(const Vec3& p, const Vec3& a, const Vec3& b) {
  const Vec3 ab = b - a;
  const double length2 = ab.squaredNorm();
  const double t = length2 > 0 ? std::clamp((p - a).dot(ab) / length2, 0.0, 1.0) : 0.0;
  return (p - a - t * ab).norm();
}

}  // namespace

std::string_view surface_kind_name(SurfaceKind kind) {
  switch (kind) {
    case SurfaceKind::matte:
      return "matte";
    case SurfaceKind::mesh:
      return "mesh";
    case SurfaceKind::pane:
      return "pane";
    case SurfaceKind::leaf:
      return "leaf";
  }
  return "";
}

std::string_view side_name(Side side) {
  switch (side) {
    case Side::floor:
      return "floor";
    case Side::top:
      return "top";
    case Side::front:
      return "front";
    case Side::back:
      return "back";
    case Side::left:
      return "left";
    case Side::right:
      return "right";
  }
  throw std::logic_error("side_name: no such side");
}

std::string_view zone_share_name(ZoneShare share) {
  switch (share) {
    case ZoneShare::volume:
      return "volume";
    case ZoneShare::perch:
      return "perch";
    case ZoneShare::each_level:
      return "each_level";
  }
  throw std::logic_error("zone_share_name: no such share");
}

bool Box::contains(const Vec3& p, double slack) const {
  return (p.array() >= corner.array() - slack).all() && (p.array() <= far_corner().array() + slack).all();
}

double Branch::signed_distance(const Vec3& p) const {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    nearest = std::min(nearest, distance_to_segment(p, path[i], path[i + 1]));
  }
  return nearest - diameter / 2;
}

double Board::distance(const Vec3& p) const {
  // Foot of the perpendicular in the board's own, perhaps oblique, axes: corner + s edge_u + t edge_v.
  const Vec3 from_corner = p - corner;
  const double uu = edge_u.squaredNorm(), vv = edge_v.squaredNorm(), uv = edge_u.dot(edge_v);
  const double pu = from_corner.dot(edge_u), pv = from_corner.dot(edge_v);
  const double det = uu * vv - uv * uv;
  const double s = (pu * vv - pv * uv) / det, t = (pv * uu - pu * uv) / det;
  if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return (from_corner - s * edge_u - t * edge_v).norm();
  const Vec3 a = corner, b = corner + edge_u, c = b + edge_v, d = corner + edge_v;
  return std::min({distance_to_segment(p, a, b), distance_to_segment(p, b, c), distance_to_segment(p, c, d),
                   distance_to_segment(p, d, a)});
}

Eigen::Matrix3d Lamp::scene_from_local() const {
  Eigen::Matrix3d rotation;
  rotation.col(0) = along;
  rotation.col(1) = aim.cross(along);
  rotation.col(2) = aim;
  return rotation;
}

Vec3 Lamp::to_local(const Vec3& scene_point) const {
  return scene_from_local().transpose() * (scene_point - at);
}

Vec3 Lamp::to_scene(const Vec3& local_point) const {
  return at + scene_from_local() * local_point;
}

std::optional<OrientedBox> Lamp::body() const {
  if (!fixture || !fixture->body) return std::nullopt;
  // A hair of room, so that rays to the emitter's own back do not end on the body by rounding.
  constexpr double kBehind = 2e-4;
  const LampBody& body = *fixture->body;
  OrientedBox box;
  box.half = 0.5 * Vec3(body.length, body.width, body.height);
  box.axes = scene_from_local();
  box.centre = at - (fixture->emitter->extent(-Vec3::UnitZ()) + kBehind + box.half.z()) * aim;
  return box;
}

double Fixture::radiant_flux_w() const {
  double sum = 0;
  for (const LampPart& part : parts) sum += part.radiant_flux_w;
  return sum;
}

bool Fixture::radiates_too_much() const {
  constexpr double kRounding = 1.01;  // both are declared to two or three digits
  return power_w && radiant_flux_w() > kRounding * *power_w;
}

bool Scene::inside(const Vec3& p) const {
  return std::any_of(boxes.begin(), boxes.end(), [&](const Box& box) { return box.contains(p, kTouch); });
}

bool Scene::inside_solid(const Vec3& p) const {
  return std::any_of(branches.begin(), branches.end(),
                     [&](const Branch& branch) { return branch.signed_distance(p) < 0; }) ||
         std::any_of(models.begin(), models.end(),
                     [&](const Model& model) { return model.shell->contains(p); }) ||
         std::any_of(lamps.begin(), lamps.end(), [&](const Lamp& lamp) {
           const auto body = lamp.body();
           return body && body->contains(p);
         });
}

std::string Scene::source_name(std::size_t source) const {
  return source < lamps.size() ? lamps[source].name : "room";
}

}  // namespace boughlight
