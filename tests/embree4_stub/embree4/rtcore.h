// A stand-in for Embree 4's header: of its interface only what Boughlight calls, so that the branch for
// Embree 4 in engine/geometry/embree.h is compiled on systems that have Embree 3. Nothing here links. Names,
// signatures and defaults as documented for Embree 4.3 (manual pages of 4.3.0: rtcIntersect1, rtcOccluded1,
// rtcOccluded16, rtcInitIntersectArguments, RTCFeatureFlags, RTCRay, RTCHit; and "Upgrading from Embree 3 to
// Embree 4" of its readme). What Embree 3 had and 4 has not (RTCIntersectContext) is left out on purpose.
#pragma once

#include <cstddef>

#define RTC_VERSION_MAJOR 4
#define RTC_VERSION_MINOR 3
#define RTC_MAX_INSTANCE_LEVEL_COUNT 1
#define RTC_INVALID_GEOMETRY_ID (static_cast<unsigned int>(-1))

using RTCDevice = struct RTCDeviceTy*;
using RTCScene = struct RTCSceneTy*;
using RTCGeometry = struct RTCGeometryTy*;

enum RTCError { RTC_ERROR_NONE = 0, RTC_ERROR_UNKNOWN = 1 };
enum RTCFormat {
  RTC_FORMAT_UINT = 0x5001,
  RTC_FORMAT_UINT2,
  RTC_FORMAT_UINT3,
  RTC_FORMAT_UINT4,
  RTC_FORMAT_FLOAT = 0x9001,
  RTC_FORMAT_FLOAT2,
  RTC_FORMAT_FLOAT3,
  RTC_FORMAT_FLOAT4
};
enum RTCBufferType { RTC_BUFFER_TYPE_INDEX = 0, RTC_BUFFER_TYPE_VERTEX = 1, RTC_BUFFER_TYPE_TANGENT = 4 };
enum RTCGeometryType {
  RTC_GEOMETRY_TYPE_TRIANGLE = 0,
  RTC_GEOMETRY_TYPE_QUAD = 1,
  RTC_GEOMETRY_TYPE_ROUND_LINEAR_CURVE = 16,
  RTC_GEOMETRY_TYPE_ROUND_HERMITE_CURVE = 40,
  RTC_GEOMETRY_TYPE_SPHERE_POINT = 50
};
enum RTCSceneFlags {
  RTC_SCENE_FLAG_NONE = 0,
  RTC_SCENE_FLAG_DYNAMIC = 1 << 0,
  RTC_SCENE_FLAG_ROBUST = 1 << 2
};
inline RTCSceneFlags operator|(RTCSceneFlags a, RTCSceneFlags b) {
  return static_cast<RTCSceneFlags>(static_cast<std::size_t>(a) | static_cast<std::size_t>(b));
}
enum RTCBuildQuality { RTC_BUILD_QUALITY_LOW = 0, RTC_BUILD_QUALITY_MEDIUM = 1, RTC_BUILD_QUALITY_HIGH = 2 };
enum RTCRayQueryFlags {
  RTC_RAY_QUERY_FLAG_NONE = 0,
  RTC_RAY_QUERY_FLAG_INCOHERENT = 0 << 16,
  RTC_RAY_QUERY_FLAG_COHERENT = 1 << 16
};
enum RTCFeatureFlags {
  RTC_FEATURE_FLAG_NONE = 0,
  RTC_FEATURE_FLAG_TRIANGLE = 1 << 1,
  RTC_FEATURE_FLAG_QUAD = 1 << 2,
  RTC_FEATURE_FLAG_ROUND_LINEAR_CURVE = 1 << 6,
  RTC_FEATURE_FLAG_SPHERE_POINT = 1 << 20,
  RTC_FEATURE_FLAG_ALL = static_cast<int>(0xffffffffu)
};

struct alignas(16) RTCRay {
  float org_x, org_y, org_z, tnear;
  float dir_x, dir_y, dir_z, time;
  float tfar;
  unsigned int mask, id, flags;
};
struct alignas(64) RTCRay16 {
  float org_x[16], org_y[16], org_z[16], tnear[16];
  float dir_x[16], dir_y[16], dir_z[16], time[16];
  float tfar[16];
  unsigned int mask[16], id[16], flags[16];
};
struct alignas(16) RTCHit {
  float Ng_x, Ng_y, Ng_z, u, v;
  unsigned int primID, geomID, instID[RTC_MAX_INSTANCE_LEVEL_COUNT];
};
struct RTCRayHit {
  RTCRay ray;
  RTCHit hit;
};

// Take the place of the intersection context of Embree 3.
struct RTCRayQueryContext;
struct RTCFilterFunctionNArguments;
struct RTCIntersectFunctionNArguments;
struct RTCOccludedFunctionNArguments;
struct RTCIntersectArguments {
  RTCRayQueryFlags flags;
  RTCFeatureFlags feature_mask;
  RTCRayQueryContext* context;
  void (*filter)(const RTCFilterFunctionNArguments*);
  void (*intersect)(const RTCIntersectFunctionNArguments*);
};
struct RTCOccludedArguments {
  RTCRayQueryFlags flags;
  RTCFeatureFlags feature_mask;
  RTCRayQueryContext* context;
  void (*filter)(const RTCFilterFunctionNArguments*);
  void (*occluded)(const RTCOccludedFunctionNArguments*);
};

extern "C" {
RTCDevice rtcNewDevice(const char* config);
void rtcReleaseDevice(RTCDevice device);
void rtcSetDeviceErrorFunction(RTCDevice device, void (*error)(void*, RTCError, const char*), void* user);

RTCScene rtcNewScene(RTCDevice device);
void rtcReleaseScene(RTCScene scene);
void rtcSetSceneFlags(RTCScene scene, RTCSceneFlags flags);
void rtcSetSceneBuildQuality(RTCScene scene, RTCBuildQuality quality);
void rtcCommitScene(RTCScene scene);
unsigned int rtcAttachGeometry(RTCScene scene, RTCGeometry geometry);
void rtcAttachGeometryByID(RTCScene scene, RTCGeometry geometry, unsigned int id);

RTCGeometry rtcNewGeometry(RTCDevice device, RTCGeometryType type);
void rtcSetGeometryBuildQuality(RTCGeometry geometry, RTCBuildQuality quality);
void rtcCommitGeometry(RTCGeometry geometry);
void rtcReleaseGeometry(RTCGeometry geometry);
void* rtcSetNewGeometryBuffer(RTCGeometry geometry, RTCBufferType type, unsigned int slot, RTCFormat format,
                              std::size_t stride, std::size_t count);
void rtcSetSharedGeometryBuffer(RTCGeometry geometry, RTCBufferType type, unsigned int slot, RTCFormat format,
                                const void* data, std::size_t offset, std::size_t stride, std::size_t count);

void rtcIntersect1(RTCScene scene, RTCRayHit* ray, RTCIntersectArguments* arguments = nullptr);
void rtcOccluded1(RTCScene scene, RTCRay* ray, RTCOccludedArguments* arguments = nullptr);
void rtcOccluded16(const int* valid, RTCScene scene, RTCRay16* ray,
                   RTCOccludedArguments* arguments = nullptr);
}
