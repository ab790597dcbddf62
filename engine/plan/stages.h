// What random numbers of plans are for; from 600 on (see assess/stages.h).
#pragma once

#include <cstdint>

namespace boughlight {

enum : std::uint64_t {
  kSharesPlaceStage = 601,
  kSharesLightStage = 602,
  kSharesLampStage = 603,
  kReachRoofStage = 651,
  kReachSpotStage = 652,
  kReachLookStage = 653,
  kReachReadStage = 654,
  kProspectPilotStage = 701,
  kProspectFinalStage = 702,
  kMonthReadingStage = 801,
  kMonthClosestStage = 802,
  kMonthMeshStage = 803,
  kFitBrightestStage = 811,
  kFitGatherStage = 812,
  kFitSpotStage = 813,
  kTrialReadingStage = 901,
  kTrialCrownStage = 902,
  kTrialReachStage = 903,
  kTrialZoneStage = 904,
  kTrialPickStage = 905,
};

}  // namespace boughlight
