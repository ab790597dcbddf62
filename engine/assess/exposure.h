// Limits for people at work in the light of lamps, in 8 hours: ICNIRP 2004, "Guidelines on limits of exposure
// to ultraviolet radiation of wavelengths between 180 nm and 400 nm", Health Phys. 87:171-186.
#pragma once

#include <optional>

namespace boughlight {

inline constexpr double kActinicLimit_j_m2 =
    30;  // bare skin and eyes, weighted by the actinic hazard function
inline constexpr double kEyeUvaLimit_j_m2 = 1e4;  // eyes, 315 to 400 nm, unweighted
inline constexpr double kExposureHours = 8;       // the day that they are for

// Seconds until a dose is reached; nothing when 8 h do not reach it. `irradiance_w_m2` >= 0, weighted as the
// limit is.
std::optional<double> limit_seconds(double irradiance_w_m2, double limit_j_m2);
// 30 J/m2 of actinic dose.
std::optional<double> actinic_limit_seconds(double actinic_w_m2);
// 1e4 J/m2 from 315 to 400 nm.
std::optional<double> eye_uva_limit_seconds(double uva_w_m2);

}  // namespace boughlight
