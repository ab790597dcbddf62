#include "geometry/world.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "geometry/embree.h"
#include "geometry/foliage.h"
#include "geometry/tree.h"

namespace boughlight {
namespace {

constexpr float kInfinity = std::numeric_limits<float>::infinity();

template <class RayType>
void set_ray(RayType& ray, const Vec3f& origin, const Vec3f& direction, float distance) {
  ray.org_x = origin.x(), ray.org_y = origin.y(), ray.org_z = origin.z();
  ray.dir_x = direction.x(), ray.dir_y = direction.y(), ray.dir_z = direction.z();
  ray.tnear = 0, ray.tfar = distance;
  ray.time = 0, ray.mask = ~0u, ray.id = 0, ray.flags = 0;
}

}  // namespace

int World::add_diffuse(const Scene& scene, int material) {
  int& optics = optics_of_material_[static_cast<std::size_t>(material)];
  if (optics < 0) {
    const Material& m = scene.materials[static_cast<std::size_t>(material)];
    optics = static_cast<int>(diffuse_.size());
    DiffuseOptics surface;
    surface.reflectance = m.reflectance.cast<float>();
    if (m.kind == SurfaceKind::leaf) {
      surface.transmittance = m.transmittance.cast<float>();
      surface.transmits = true;
    }
    diffuse_.push_back(surface);
  }
  return optics;
}

void World::add_rectangle(const Scene& scene, int material, const Vec3& corner, const Vec3& u, const Vec3& v,
                          const Vec3& outward) {
  const Material& m = scene.materials[static_cast<std::size_t>(material)];
  if (m.kind == SurfaceKind::matte || m.kind == SurfaceKind::leaf) {
    tree_->add(corner, u, v, add_diffuse(scene, material));
    return;
  }
  Panel panel;
  panel.kind = m.kind == SurfaceKind::mesh ? Panel::Kind::mesh : Panel::Kind::pane;
  int& optics = optics_of_material_[static_cast<std::size_t>(material)];
  if (optics < 0 && panel.kind == Panel::Kind::mesh) {
    optics = static_cast<int>(meshes_.size());
    meshes_.emplace_back(m);
  } else if (optics < 0) {
    optics = static_cast<int>(panes_.size());
    panes_.emplace_back(m);
  }
  panel.optics = optics;
  panel.material = material;
  panel.u = u.normalized().cast<float>();
  panel.v = v.normalized().cast<float>();
  panel.normal = panel.u.cross(panel.v).normalized();
  panel.length_u = static_cast<float>(u.norm());
  panel.length_v = static_cast<float>(v.norm());
  panel.corner = corner.cast<float>();
  if (panel.kind == Panel::Kind::mesh) {
    panel.layers = m.layers;
    panel.dirty_layer = u.cross(v).dot(outward) > 0 ? 0 : m.layers - 1;
    panel.soiling = static_cast<float>(m.soiling);
  }
  if (panel.kind == Panel::Kind::pane) pane_panels_.push_back(static_cast<int>(panels_.size()));
  panels_.push_back(panel);
  planes_.add(panel);
}

void World::add_face(const Scene& scene, const FacePart& part) {
  // Walls that meet overlap by a few roundings, outwards: where the sides of stacked boxes end elsewhere than
  // those above, rays find gaps of a rounding otherwise.
  const SurfaceKind kind = scene.materials[static_cast<std::size_t>(part.material)].kind;
  const Vec3 far = part.corner + part.edge_u + part.edge_v;
  const double farthest = std::max(part.corner.cwiseAbs().maxCoeff(), far.cwiseAbs().maxCoeff());
  const double lip = kind == SurfaceKind::matte ? 4 * std::numeric_limits<float>::epsilon() * farthest : 0;
  const Vec3 u = lip * part.edge_u.normalized(), v = lip * part.edge_v.normalized();
  add_rectangle(scene, part.material, part.corner - u - v, part.edge_u + 2 * u, part.edge_v + 2 * v,
                part.outward);
}

void World::add_body(const OrientedBox& body, const SpectralD& reflectance) {
  const int optics = static_cast<int>(diffuse_.size());
  diffuse_.push_back({reflectance.cast<float>(), Spectral::Zero(), false});
  const std::array<Vec3, 8> corners = body.corners();
  for (unsigned axis = 0; axis < 3; ++axis) {
    const unsigned u = 1U << (axis + 1) % 3, v = 1U << (axis + 2) % 3;
    for (const unsigned side : {0U, 1U << axis})
      tree_->add(corners[side], corners[side | u] - corners[side], corners[side | v] - corners[side], optics);
  }
  for (const Vec3& corner : corners) bounds_.extend(corner.cast<float>());
}

World::World(const Scene& scene, TreeBuild build) : tree_(std::make_unique<Tree>()) {
  for (const Plant& plant : scene.plants) leaf_count_ += boughlight::leaf_count(plant);
  constexpr std::size_t kWalls = 1000;
  tree_->reserve(leaf_count_ + kWalls);
  optics_of_material_.assign(scene.materials.size(), -1);
  for (const Box& box : scene.boxes) {
    bounds_.extend(box.corner.cast<float>());
    bounds_.extend(box.far_corner().cast<float>());
  }
  for (const FacePart& part : outer_faces(scene.boxes))
    if (part.material >= 0) add_face(scene, part);
  for (const Board& board : scene.boards) {
    add_rectangle(scene, board.material, board.corner, board.edge_u, board.edge_v,
                  board.edge_u.cross(board.edge_v));
    for (const Vec3& p : {board.corner, Vec3(board.corner + board.edge_u), Vec3(board.corner + board.edge_v),
                          Vec3(board.corner + board.edge_u + board.edge_v)})
      bounds_.extend(p.cast<float>());
  }
  for (const Branch& branch : scene.branches) {
    const int optics = add_diffuse(scene, branch.material);
    const float radius = static_cast<float>(branch.diameter / 2);
    tree_->add(branch, optics);
    for (const Vec3& place : branch.path) {
      const Vec3f p = place.cast<float>();
      bounds_.extend(Vec3f(p.array() - radius));
      bounds_.extend(Vec3f(p.array() + radius));
    }
  }
  for (const Plant& plant : scene.plants) {
    tree_->add(scene, plant, add_diffuse(scene, plant.leaf_material));
    const float reach = static_cast<float>(std::hypot(plant.leaf_length, plant.leaf_width));
    for (const int sign : {-1, 1})
      bounds_.extend(Vec3f((plant.crown_centre + sign * plant.grown_radii()).cast<float>().array() +
                           static_cast<float>(sign) * reach));
  }
  for (const Model& model : scene.models) {
    tree_->add(*model.shell, add_diffuse(scene, model.material));
    bounds_.extend(model.shell->low().cast<float>());
    bounds_.extend(model.shell->high().cast<float>());
  }
  for (const Lamp& lamp : scene.lamps)
    if (const auto body = lamp.body()) add_body(*body, lamp.fixture->body->reflectance);
  const float size = bounds_.diagonal().norm();
  const float margin = 0.01f * size + 1e-3f;
  bounds_.min().array() -= margin;
  bounds_.max().array() += margin;
  const float farthest = std::max(bounds_.min().cwiseAbs().maxCoeff(), bounds_.max().cwiseAbs().maxCoeff());
  offset_ = std::max(1e-5f, 8 * std::numeric_limits<float>::epsilon() * farthest);
  indoors_ = Indoors(scene.boxes, offset_);
  tree_->build(build);
}

World::~World() = default;

bool World::closest(const Vec3f& origin, const Vec3f& direction, Hit& hit) const {
  RTCRayHit query;
  set_ray(query.ray, origin, direction, kInfinity);
  query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
  query.hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
  embree::intersect(tree_->scene(), query);
  if (query.hit.geomID == RTC_INVALID_GEOMETRY_ID) return false;
  hit.distance = query.ray.tfar;
  hit.normal = Vec3f(query.hit.Ng_x, query.hit.Ng_y, query.hit.Ng_z).normalized();
  if (hit.normal.dot(direction) > 0) hit.normal = -hit.normal;
  hit.optics = tree_->optics(query.hit.geomID, query.hit.primID);
  hit.place = indoors_.keep(origin, origin + hit.distance * direction, hit.normal);
  return true;
}

bool World::blocked(const Vec3f& origin, const Vec3f& direction, float distance) const {
  RTCRay query;
  set_ray(query, origin, direction, distance);
  embree::occluded(tree_->scene(), query);
  return query.tfar < 0;
}

std::uint32_t World::blocked(std::span<const Segment> segments) const {
  // For so few a packet does not pay (measured on the demo).
  constexpr std::size_t kFew = 3;
  std::uint32_t met = 0;
  if (segments.size() <= kFew) {
    for (std::size_t i = 0; i < segments.size(); ++i)
      met |=
          static_cast<std::uint32_t>(blocked(segments[i].origin, segments[i].direction, segments[i].distance))
          << i;
    return met;
  }
  alignas(64) std::array<int, kSegments> valid{};
  RTCRay16 rays{};
  for (std::size_t i = 0; i < segments.size(); ++i) {
    const Segment& segment = segments[i];
    valid[i] = -1;
    rays.org_x[i] = segment.origin.x(), rays.org_y[i] = segment.origin.y(),
    rays.org_z[i] = segment.origin.z();
    rays.dir_x[i] = segment.direction.x(), rays.dir_y[i] = segment.direction.y();
    rays.dir_z[i] = segment.direction.z();
    rays.tfar[i] = segment.distance;
    rays.mask[i] = ~0u;
  }
  embree::occluded(tree_->scene(), valid.data(), rays);
  for (std::size_t i = 0; i < segments.size(); ++i) met |= static_cast<std::uint32_t>(rays.tfar[i] < 0) << i;
  return met;
}

bool World::on_surface(const Vec3f& place, const Vec3f& direction, float within) const {
  const Vec3f from = place - within * direction;
  float at = 0;
  return blocked(from, direction, 2 * within) || next_panel(from, direction, 0, 2 * within, at) >= 0;
}

namespace {

// |w_u / w_n| and |w_v / w_n|; see MeshOptics.
std::array<float, 2> tangents(const Panel& panel, const Vec3f& direction) {
  const float along_normal = std::max(std::abs(panel.normal.dot(direction)), 1e-9f);
  return {std::abs(panel.u.dot(direction)) / along_normal, std::abs(panel.v.dot(direction)) / along_normal};
}

}  // namespace

MeshShares World::mesh_shares(const Panel& panel, int layer, const Vec3f& direction) const {
  const auto [tan_u, tan_v] = tangents(panel, direction);
  MeshShares shares = mesh(panel).shares(tan_u, tan_v);
  if (layer == panel.dirty_layer) shares.straight *= panel.soiling;
  return shares;
}

float World::mesh_straight(const Panel& panel, int first, int count, const Vec3f& direction) const {
  if (count == 0) return 1;
  const auto [tan_u, tan_v] = tangents(panel, direction);
  const float one = mesh(panel).straight(tan_u, tan_v);
  const bool dirty = panel.dirty_layer >= first && panel.dirty_layer < first + count;
  float all = dirty ? one * panel.soiling : one;
  for (int layer = 1; layer < count; ++layer) all *= one;
  return all;
}

void World::pane_shares(const Panel& panel, const Vec3f& direction, Spectral& transmittance,
                        Spectral& reflectance) const {
  const float cosine = std::clamp(std::abs(panel.normal.dot(direction)), 1e-6f, 1.0f);
  panes_[static_cast<std::size_t>(panel.optics)].evaluate(cosine, transmittance, reflectance);
}

bool World::straight(const Vec3f& origin, const Vec3f& direction, float distance, Straight& through) const {
  crossed(origin, direction, distance, [&](const Panel& panel, float) {
    if (through.scalar == 0) return;
    if (panel.kind == Panel::Kind::mesh) {
      through.scalar *= mesh_straight(panel, 0, panel.layers, direction);
    } else {
      Spectral transmittance, reflectance;
      pane_shares(panel, direction, transmittance, reflectance);
      through.multiply(transmittance);
    }
  });
  return through.scalar > 0;
}

int World::next_panel(const Vec3f& origin, const Vec3f& direction, float from, float before,
                      float& distance) const {
  int nearest = -1;
  planes_.crossed(origin, direction, from, before, [&](std::size_t index, float at) {
    if (!(at < before)) return;
    before = at;
    distance = at;
    nearest = static_cast<int>(index);
  });
  return nearest;
}

}  // namespace boughlight
