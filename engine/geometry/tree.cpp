#include "geometry/tree.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <numeric>
#include <stdexcept>
#include <string>

#include "geometry/foliage.h"

namespace boughlight {
namespace {

// Embree may read 16 bytes at the last corner.
constexpr std::size_t kReadPastLast = 1;

void fail_loudly(void*, RTCError, const char* text) {
  throw std::runtime_error(std::string("ray casting failed: ") + (text ? text : "no reason given"));
}

// A buffer of Embree's own with room for `count` elements of `size` of T.
template <class T>
T* new_buffer(RTCGeometry geometry, RTCBufferType type, RTCFormat format, std::size_t size,
              std::size_t count) {
  return static_cast<T*>(rtcSetNewGeometryBuffer(geometry, type, 0, format, size * sizeof(T), count));
}

void set_vertices(RTCGeometry geometry, const std::vector<Vec3f>& places) {
  auto* vertices = new_buffer<float>(geometry, RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT3, 3, places.size());
  for (std::size_t i = 0; i < places.size(); ++i) std::copy_n(places[i].data(), 3, vertices + 3 * i);
}

}  // namespace

Tree::Tree() : device_(rtcNewDevice(nullptr)) {
  if (!device_) throw std::runtime_error("ray casting could not start");
  rtcSetDeviceErrorFunction(device_, fail_loudly, nullptr);
}

Tree::~Tree() {
  if (scene_) rtcReleaseScene(scene_);
  rtcReleaseDevice(device_);
}

void Tree::reserve(std::size_t rectangles) {
  corners_.reserve(4 * rectangles + kReadPastLast);
  optics_[kRectangles].reserve(rectangles);
}

void Tree::add(const Vec3& corner, const Vec3& u, const Vec3& v, int optics) {
  for (const Vec3& p : {corner, Vec3(corner + u), Vec3(corner + u + v), Vec3(corner + v)})
    corners_.push_back(p.cast<float>());
  optics_[kRectangles].push_back(optics);
}

void Tree::add(const Scene& scene, const Plant& plant, int optics) {
  const std::size_t first = corners_.size(), count = leaf_count(plant);
  corners_.resize(first + 4 * count);
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) {
    const Leaf leaf = grow_leaf(scene, plant, i);
    const Vec3 along = leaf.half_length, across = leaf.half_width;
    Vec3f* const corners = &corners_[first + 4 * i];
    corners[0] = (leaf.centre - along - across).cast<float>();
    corners[1] = (leaf.centre + along - across).cast<float>();
    corners[2] = (leaf.centre + along + across).cast<float>();
    corners[3] = (leaf.centre - along + across).cast<float>();
  });
  optics_[kRectangles].resize(corners_.size() / 4, optics);
}

void Tree::add(const Branch& branch, int optics) {
  const float radius = static_cast<float>(branch.diameter / 2);
  for (std::size_t i = 0; i < branch.path.size(); ++i) {
    if (i + 1 < branch.path.size()) {
      curve_starts_.push_back(static_cast<unsigned>(curve_points_.size()));
      optics_[kBranches].push_back(optics);
    }
    const Vec3f p = branch.path[i].cast<float>();
    curve_points_.emplace_back(p.x(), p.y(), p.z(), radius);
    optics_[kBalls].push_back(optics);
  }
}

void Tree::add(const Shell& shell, int optics) {
  const auto first = static_cast<std::uint32_t>(shell_vertices_.size());
  for (const Vec3& vertex : shell.vertices()) shell_vertices_.push_back(vertex.cast<float>());
  for (const Triangle& t : shell.triangles())
    triangles_.push_back({first + t[0], first + t[1], first + t[2]});
  optics_[kTriangles].resize(triangles_.size(), optics);
}

void Tree::attach(RTCGeometry geometry, Geometry id) {
  rtcSetGeometryBuildQuality(geometry, quality_);
  rtcCommitGeometry(geometry);
  rtcAttachGeometryByID(scene_, geometry, id);
  rtcReleaseGeometry(geometry);
}

void Tree::build(TreeBuild build) {
  scene_ = rtcNewScene(device_);
  // Robust: rays must not slip between rectangles or triangles that share an edge. Dynamic: Embree's quickest
  // builder is the one for scenes whose parts move.
  const bool soon = build == TreeBuild::for_few_rays;
  rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_ROBUST | (soon ? RTC_SCENE_FLAG_DYNAMIC : RTC_SCENE_FLAG_NONE));
  quality_ = soon ? RTC_BUILD_QUALITY_LOW : RTC_BUILD_QUALITY_MEDIUM;
  rtcSetSceneBuildQuality(scene_, quality_);
  if (!corners_.empty()) {
    RTCGeometry quads = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_QUAD);
    const std::size_t count = corners_.size();
    corners_.resize(count + kReadPastLast, Vec3f::Zero());
    rtcSetSharedGeometryBuffer(quads, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, corners_.data(), 0,
                               sizeof(Vec3f), count);
    auto* indices = new_buffer<unsigned>(quads, RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT4, 4, count / 4);
    std::iota(indices, indices + count, 0U);
    attach(quads, kRectangles);
  }
  if (!curve_starts_.empty()) {
    RTCGeometry curves = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_ROUND_LINEAR_CURVE);
    // Embree misses a round curve when a ray runs exactly along its axis; balls at its points stop such rays.
    RTCGeometry balls = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_SPHERE_POINT);
    for (RTCGeometry geometry : {curves, balls}) {
      auto* vertices =
          new_buffer<float>(geometry, RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, 4, curve_points_.size());
      for (std::size_t i = 0; i < curve_points_.size(); ++i)
        std::copy_n(curve_points_[i].data(), 4, vertices + 4 * i);
    }
    auto* indices =
        new_buffer<unsigned>(curves, RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT, 1, curve_starts_.size());
    std::copy(curve_starts_.begin(), curve_starts_.end(), indices);
    attach(curves, kBranches);
    attach(balls, kBalls);
  }
  if (!triangles_.empty()) {
    RTCGeometry triangles = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
    set_vertices(triangles, shell_vertices_);
    auto* indices =
        new_buffer<unsigned>(triangles, RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT3, 3, triangles_.size());
    for (std::size_t i = 0; i < triangles_.size(); ++i) std::copy_n(triangles_[i].data(), 3, indices + 3 * i);
    attach(triangles, kTriangles);
  }
  rtcCommitScene(scene_);
}

}  // namespace boughlight
