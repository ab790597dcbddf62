#include "assess/exposure.h"

namespace boughlight {

std::optional<double> limit_seconds(double irradiance_w_m2, double limit_j_m2) {
  if (irradiance_w_m2 * kExposureHours * 3600 <= limit_j_m2) return std::nullopt;
  return limit_j_m2 / irradiance_w_m2;
}

std::optional<double> actinic_limit_seconds(double actinic_w_m2) {
  return limit_seconds(actinic_w_m2, kActinicLimit_j_m2);
}

std::optional<double> eye_uva_limit_seconds(double uva_w_m2) {
  return limit_seconds(uva_w_m2, kEyeUvaLimit_j_m2);
}

}  // namespace boughlight
