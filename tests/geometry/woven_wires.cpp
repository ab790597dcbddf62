#include "geometry/woven_wires.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

namespace boughlight {

using Eigen::Vector3d;
using std::numbers::pi;

namespace {

constexpr int kReach = 24;                // wires on either side of the middle
constexpr double kHalfThickness = 1.001;  // of the weave, in diameters
constexpr double kClear = 2e-3;           // what a ray starts off the wire it leaves, in diameters

struct Vertex {
  float x, y, z, radius;
};

}  // namespace

struct WovenWires::Strike {
  Vector3d place, normal;
};

WovenWires::WovenWires(double diameter, double pitch_x, double pitch_y)
    : pitch_x_(pitch_x / diameter),
      pitch_y_(pitch_y / diameter),
      device_(rtcNewDevice(nullptr)),
      scene_(rtcNewScene(device_)) {
  std::vector<Vertex> vertices, tangents;
  std::vector<unsigned> indices;
  // One wire of the family that runs along `run`, number `k`; four pieces of curve from crossing to crossing
  // and on.
  const auto add_wire = [&](bool along_y, int k) {
    const double across = k * (along_y ? pitch_x_ : pitch_y_), pitch = along_y ? pitch_y_ : pitch_x_;
    const double lift = (along_y ? 0.5 : -0.5) * (k % 2 == 0 ? 1 : -1);
    constexpr int kPieces = 4;  // to a crossing
    for (int i = -kPieces * kReach; i <= kPieces * kReach; ++i) {
      const double phase = pi * i / kPieces, at = pitch * i / kPieces;
      const double z = lift * std::cos(phase), slope = -lift * pi / kPieces * std::sin(phase),
                   step = pitch / kPieces;
      const auto f = [](double v) { return static_cast<float>(v); };
      if (i < kPieces * kReach) indices.push_back(static_cast<unsigned>(vertices.size()));
      vertices.push_back(along_y ? Vertex{f(across), f(at), f(z), 0.5f}
                                 : Vertex{f(at), f(across), f(z), 0.5f});
      tangents.push_back(along_y ? Vertex{0, f(step), f(slope), 0} : Vertex{f(step), 0, f(slope), 0});
    }
  };
  for (int k = -kReach; k <= kReach; ++k) add_wire(true, k), add_wire(false, k);
  RTCGeometry curves = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_ROUND_HERMITE_CURVE);
  const auto fill = [&](RTCBufferType type, RTCFormat format, const auto& from) {
    using Item = typename std::decay_t<decltype(from)>::value_type;
    auto* to =
        static_cast<Item*>(rtcSetNewGeometryBuffer(curves, type, 0, format, sizeof(Item), from.size()));
    std::copy(from.begin(), from.end(), to);
  };
  fill(RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, vertices);
  fill(RTC_BUFFER_TYPE_TANGENT, RTC_FORMAT_FLOAT4, tangents);
  fill(RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT, indices);
  rtcCommitGeometry(curves);
  rtcAttachGeometry(scene_, curves);
  rtcReleaseGeometry(curves);
  rtcCommitScene(scene_);
}

WovenWires::~WovenWires() {
  rtcReleaseScene(scene_);
  rtcReleaseDevice(device_);
}

bool WovenWires::meets(const Vector3d& origin, const Vector3d& direction, Strike& strike) const {
  RTCRayHit query{};
  query.ray.org_x = static_cast<float>(origin.x()), query.ray.org_y = static_cast<float>(origin.y());
  query.ray.org_z = static_cast<float>(origin.z());
  query.ray.dir_x = static_cast<float>(direction.x()), query.ray.dir_y = static_cast<float>(direction.y());
  query.ray.dir_z = static_cast<float>(direction.z());
  query.ray.tfar = std::numeric_limits<float>::infinity();
  query.ray.mask = ~0u;
  query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
  embree::intersect(scene_, query);
  if (query.hit.geomID == RTC_INVALID_GEOMETRY_ID) return false;
  strike.place = origin + static_cast<double>(query.ray.tfar) * direction;
  strike.normal = Vector3d(static_cast<double>(query.hit.Ng_x), static_cast<double>(query.hit.Ng_y),
                           static_cast<double>(query.hit.Ng_z))
                      .normalized();
  return true;
}

// Places even over two wires' pitch each way, the period of the weave (R2 sequence), at the top of the weave.
Vector3d WovenWires::entry(int sample, int, const Vector3d& direction) const {
  constexpr double kPlastic = 1.32471795724474602596;
  const double u = std::fmod(0.5 + sample / kPlastic, 1.0),
               v = std::fmod(0.5 + sample / (kPlastic * kPlastic), 1.0);
  const Vector3d middle(2 * pitch_x_ * (u - 0.5), 2 * pitch_y_ * (v - 0.5), 0);
  return middle - (kHalfThickness / std::abs(direction.z())) * direction;
}

double WovenWires::straight(const Vector3d& direction, int samples) const {
  int through = 0;
  Strike strike;
  for (int i = 0; i < samples; ++i) through += !meets(entry(i, samples, direction), direction, strike);
  return static_cast<double>(through) / samples;
}

WovenWires::Scattered WovenWires::scattered(const Vector3d& direction, double reflectance,
                                            int samples) const {
  std::mt19937_64 engine(17);
  const auto uniform = [&] { return std::generate_canonical<double, 53>(engine); };
  Scattered sums;
  for (int i = 0; i < samples; ++i) {
    Vector3d origin = entry(i, samples, direction), way = direction;
    double left = 1.0 / samples;
    Strike strike;
    bool met = false;
    while (meets(origin, way, strike)) {
      met = true;
      left *= reflectance;
      if (strike.normal.dot(way) > 0) strike.normal = -strike.normal;
      // The cosine law: a place on the unit sphere about the normal's tip.
      const double z = 2 * uniform() - 1, turn = 2 * pi * uniform(), r = std::sqrt(1 - z * z);
      way = (strike.normal * (1 + 1e-9) + Vector3d(r * std::cos(turn), r * std::sin(turn), z)).normalized();
      origin = strike.place + kClear * strike.normal;
    }
    if (!met) continue;
    const auto zone =
        std::min(Scattered::kZones - 1, static_cast<int>((1 - way.z() * way.z()) * Scattered::kZones));
    (way.z() > 0 ? sums.back : sums.forward) += left;
    (way.z() > 0 ? sums.back_zones : sums.forward_zones)[static_cast<std::size_t>(zone)] += left;
  }
  return sums;
}

}  // namespace boughlight
