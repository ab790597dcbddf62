// The few calls that differ between Embree 3.13 and 4.x, behind one face.
#pragma once

#if __has_include(<embree4/rtcore.h>)
#include <embree4/rtcore.h>
#define BOUGHLIGHT_EMBREE 4
#else
#include <embree3/rtcore.h>
#define BOUGHLIGHT_EMBREE 3
#endif

namespace boughlight::embree {

inline void intersect(RTCScene scene, RTCRayHit& ray) {
#if BOUGHLIGHT_EMBREE == 4
  rtcIntersect1(scene, &ray, nullptr);
#else
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcIntersect1(scene, &context, &ray);
#endif
}

inline void occluded(RTCScene scene, RTCRay& ray) {
#if BOUGHLIGHT_EMBREE == 4
  rtcOccluded1(scene, &ray, nullptr);
#else
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcOccluded1(scene, &context, &ray);
#endif
}

// Those of the sixteen rays whose `valid` is -1.
inline void occluded(RTCScene scene, const int* valid, RTCRay16& rays) {
#if BOUGHLIGHT_EMBREE == 4
  rtcOccluded16(valid, scene, &rays, nullptr);
#else
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcOccluded16(valid, scene, &context, &rays);
#endif
}

}  // namespace boughlight::embree
