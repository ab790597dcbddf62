// What random numbers are for: every stage of a survey has a number of its own, so that no two draw the same
// ones (Setting::stream()). Below 600; what plans draw is numbered from there on (plan/stages.h).
#pragma once

#include <cstdint>

namespace boughlight {

enum : std::uint64_t {
  kOrientationStage = 101,
  kReadingStage = 102,
  kSensorStage = 103,
  kGridPilotStage = 201,
  kCellStage = 202,
  kZoneStage = 301,
  kPerchedStage = 302,
  kHottestSearchStage = 401,
  kHottestChoiceStage = 402,
  kHottestReadingStage = 403,
  kHottestScatterStage = 404,
  kDoubtReadingStage = 501,
  kDoubtHottestStage = 502,
  kDoubtScreenStage = 503,
  kClosestSearchStage = 511,
  kClosestFacingStage = 512,
  kClosestReadingStage = 513,
  kMendPlaceStage = 521,
  kMendPerchStage = 522,
  kBodyStage = 531,
  kCrownMiddleStage = 541,
  kCrownShadedStage = 542,
  kPeopleFacingStage = 551,
  kPeopleWorkStage = 552,
};

}  // namespace boughlight
