#include "geometry/world.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "geometry/embree.h"
#include "geometry/foliage.h"

namespace boughlight {
namespace {

constexpr float kInfinity = std::numeric_limits<float>::infinity();

void fail_loudly(void*, RTCError, const char* text) {
  throw std::runtime_error(std::string("ray casting failed: ") + (text ? text : "no reason given"));
}

template <class RayType>
void set_ray(RayType& ray, const Vec3f& origin, const Vec3f& direction, float distance) {
  ray.org_x = origin.x(), ray.org_y = origin.y(), ray.org_z = origin.z();
  ray.dir_x = direction.x(), ray.dir_y = direction.y(), ray.dir_z = direction.z();
  ray.tnear = 0, ray.tfar = distance;
  ray.time = 0, ray.mask = ~0u, ray.id = 0, ray.flags = 0;
}

}  // namespace

// Geometry 0 holds every flat diffuse rectangle, geometry 1 the branches, geometry 2 the balls at their
// ends and bends.
struct World::Tree {
  RTCDevice device = rtcNewDevice(nullptr);
  RTCScene scene = nullptr;
  std::vector<Vec3f> corners;  // four a rectangle
  std::vector<int> rectangle_optics;
  std::vector<Eigen::Vector4f> curve_points;  // x, y, z, radius
  std::vector<unsigned> curve_starts;
  std::vector<int> curve_optics;
  std::vector<int> point_optics;  // one a curve point

  ~Tree() {
    if (scene) rtcReleaseScene(scene);
    if (device) rtcReleaseDevice(device);
  }

  void add(const Vec3& corner, const Vec3& u, const Vec3& v, int optics) {
    for (const Vec3& p : {corner, Vec3(corner + u), Vec3(corner + u + v), Vec3(corner + v)})
      corners.push_back(p.cast<float>());
    rectangle_optics.push_back(optics);
  }

  void build();
};

void World::Tree::build() {
  rtcSetDeviceErrorFunction(device, fail_loudly, nullptr);
  scene = rtcNewScene(device);
  // Robust: rays must not slip between rectangles that share an edge.
  rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
  const auto attach = [this](RTCGeometry geometry, unsigned id) {
    rtcCommitGeometry(geometry);
    rtcAttachGeometryByID(scene, geometry, id);
    rtcReleaseGeometry(geometry);
  };
  if (!rectangle_optics.empty()) {
    RTCGeometry quads = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_QUAD);
    auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
        quads, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), corners.size()));
    for (std::size_t i = 0; i < corners.size(); ++i)
      for (int axis = 0; axis < 3; ++axis)
        vertices[3 * i + static_cast<std::size_t>(axis)] = corners[i][axis];
    auto* indices = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
        quads, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT4, 4 * sizeof(unsigned), rectangle_optics.size()));
    for (unsigned i = 0; i < corners.size(); ++i) indices[i] = i;
    attach(quads, 0);
  }
  if (!curve_starts.empty()) {
    RTCGeometry curves = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_ROUND_LINEAR_CURVE);
    auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
        curves, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4, 4 * sizeof(float), curve_points.size()));
    for (std::size_t i = 0; i < curve_points.size(); ++i)
      for (int axis = 0; axis < 4; ++axis)
        vertices[4 * i + static_cast<std::size_t>(axis)] = curve_points[i][axis];
    auto* indices = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
        curves, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT, sizeof(unsigned), curve_starts.size()));
    for (std::size_t i = 0; i < curve_starts.size(); ++i) indices[i] = curve_starts[i];
    attach(curves, 1);
    // Embree misses a round curve when a ray runs exactly along its axis; balls at its points stop such rays.
    RTCGeometry balls = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_SPHERE_POINT);
    auto* centres = static_cast<float*>(rtcSetNewGeometryBuffer(
        balls, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4, 4 * sizeof(float), curve_points.size()));
    std::copy_n(vertices, 4 * curve_points.size(), centres);
    attach(balls, 2);
  }
  rtcCommitScene(scene);
}

int World::add_diffuse(const Scene& scene, int material) {
  int& optics = optics_of_material_[static_cast<std::size_t>(material)];
  if (optics < 0) {
    const Material& m = scene.materials[static_cast<std::size_t>(material)];
    optics = static_cast<int>(diffuse_.size());
    DiffuseOptics surface;
    surface.reflectance = m.reflectance.cast<float>();
    if (m.kind == SurfaceKind::leaf) surface.transmittance = m.transmittance.cast<float>();
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
  // Layers are panels of their own, a tenth of a millimetre apart, so that light scatters between them too.
  // Dirt counts once.
  constexpr double kLayerGap = 1e-4;
  const int layers = panel.kind == Panel::Kind::mesh ? m.layers : 1;
  for (int layer = 0; layer < layers; ++layer) {
    panel.corner = (corner + layer * kLayerGap * outward).cast<float>();
    panel.soiling = layer == 0 ? static_cast<float>(m.soiling) : 1.0f;
    if (panel.kind == Panel::Kind::pane) pane_panels_.push_back(static_cast<int>(panels_.size()));
    panels_.push_back(panel);
  }
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

World::World(const Scene& scene) : tree_(std::make_unique<Tree>()) {
  if (!tree_->device) throw std::runtime_error("ray casting could not start");
  optics_of_material_.assign(scene.materials.size(), -1);
  for (const Box& box : scene.boxes) {
    bounds_.extend(box.corner.cast<float>());
    bounds_.extend(box.far_corner().cast<float>());
  }
  for (const FacePart& part : outer_faces(scene.boxes))
    if (part.material >= 0) add_face(scene, part);
  for (const Board& board : scene.boards) {
    add_rectangle(scene, board.material, board.corner, board.edge_u, board.edge_v,
                  board.edge_u.cross(board.edge_v).normalized());
    for (const Vec3& p : {board.corner, Vec3(board.corner + board.edge_u), Vec3(board.corner + board.edge_v),
                          Vec3(board.corner + board.edge_u + board.edge_v)})
      bounds_.extend(p.cast<float>());
  }
  for (const Branch& branch : scene.branches) {
    const int optics = add_diffuse(scene, branch.material);
    const float radius = static_cast<float>(branch.diameter / 2);
    for (std::size_t i = 0; i < branch.path.size(); ++i) {
      const Vec3f p = branch.path[i].cast<float>();
      bounds_.extend(Vec3f(p.array() - radius));
      bounds_.extend(Vec3f(p.array() + radius));
      if (i + 1 < branch.path.size()) {
        tree_->curve_starts.push_back(static_cast<unsigned>(tree_->curve_points.size()));
        tree_->curve_optics.push_back(optics);
      }
      tree_->curve_points.emplace_back(p.x(), p.y(), p.z(), radius);
      tree_->point_optics.push_back(optics);
    }
  }
  for (const Plant& plant : scene.plants) {
    const int optics = add_diffuse(scene, plant.leaf_material);
    const std::vector<Leaf> leaves = grow_leaves(scene, plant);
    leaf_count_ += leaves.size();
    for (const Leaf& leaf : leaves)
      tree_->add(leaf.centre - leaf.half_length - leaf.half_width, 2 * leaf.half_length, 2 * leaf.half_width,
                 optics);
    const float reach = static_cast<float>(std::hypot(plant.leaf_length, plant.leaf_width));
    for (const int sign : {-1, 1})
      bounds_.extend(Vec3f((plant.crown_centre + sign * plant.grown_radii()).cast<float>().array() +
                           static_cast<float>(sign) * reach));
  }
  const float size = bounds_.diagonal().norm();
  const float margin = 0.01f * size + 1e-3f;
  bounds_.min().array() -= margin;
  bounds_.max().array() += margin;
  const float farthest = std::max(bounds_.min().cwiseAbs().maxCoeff(), bounds_.max().cwiseAbs().maxCoeff());
  offset_ = std::max(1e-5f, 8 * std::numeric_limits<float>::epsilon() * farthest);
  indoors_ = Indoors(scene.boxes, offset_);
  tree_->build();
}

World::~World() = default;

bool World::closest(const Vec3f& origin, const Vec3f& direction, Hit& hit) const {
  RTCRayHit query;
  set_ray(query.ray, origin, direction, kInfinity);
  query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
  query.hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
  embree::intersect(tree_->scene, query);
  if (query.hit.geomID == RTC_INVALID_GEOMETRY_ID) return false;
  hit.distance = query.ray.tfar;
  hit.normal = Vec3f(query.hit.Ng_x, query.hit.Ng_y, query.hit.Ng_z).normalized();
  if (hit.normal.dot(direction) > 0) hit.normal = -hit.normal;
  const std::vector<int>& optics = query.hit.geomID == 0   ? tree_->rectangle_optics
                                   : query.hit.geomID == 1 ? tree_->curve_optics
                                                           : tree_->point_optics;
  hit.optics = optics[query.hit.primID];
  hit.place = indoors_.keep(origin, origin + hit.distance * direction, hit.normal);
  return true;
}

bool World::blocked(const Vec3f& origin, const Vec3f& direction, float distance) const {
  RTCRay query;
  set_ray(query, origin, direction, distance);
  embree::occluded(tree_->scene, query);
  return query.tfar < 0;
}

bool World::on_surface(const Vec3f& place, const Vec3f& direction, float within) const {
  const Vec3f from = place - within * direction;
  float at = 0;
  return blocked(from, direction, 2 * within) || next_panel(from, direction, 0, 2 * within, at) >= 0;
}

MeshShares World::mesh_shares(const Panel& panel, const Vec3f& direction) const {
  const float along_normal = std::max(std::abs(panel.normal.dot(direction)), 1e-9f);
  MeshShares shares = mesh(panel).shares(std::abs(panel.u.dot(direction)) / along_normal,
                                         std::abs(panel.v.dot(direction)) / along_normal);
  shares.straight *= panel.soiling;
  return shares;
}

void World::pane_shares(const Panel& panel, const Vec3f& direction, Spectral& transmittance,
                        Spectral& reflectance) const {
  const float cosine = std::clamp(std::abs(panel.normal.dot(direction)), 1e-6f, 1.0f);
  panes_[static_cast<std::size_t>(panel.optics)].evaluate(cosine, transmittance, reflectance);
}

bool World::straight(const Vec3f& origin, const Vec3f& direction, float distance, Straight& through) const {
  for (const Panel& panel : panels_) {
    const float at = panel.crossing(origin, direction, 0);
    if (at < 0 || at >= distance) continue;
    if (panel.kind == Panel::Kind::mesh) {
      through.scalar *= mesh_shares(panel, direction).straight;
      if (through.scalar == 0) return false;
    } else {
      Spectral transmittance, reflectance;
      pane_shares(panel, direction, transmittance, reflectance);
      through.multiply(transmittance);
    }
  }
  return true;
}

int World::next_panel(const Vec3f& origin, const Vec3f& direction, float from, float before,
                      float& distance) const {
  int nearest = -1;
  for (std::size_t i = 0; i < panels_.size(); ++i) {
    const float at = panels_[i].crossing(origin, direction, from);
    if (at < 0 || at >= before) continue;
    before = at;
    distance = at;
    nearest = static_cast<int>(i);
  }
  return nearest;
}

}  // namespace boughlight
