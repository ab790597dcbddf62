// Constants of nature, exact since the SI of 2019 (values as in CODATA 2018).
#pragma once

namespace boughlight {

inline constexpr double kPlanck = 6.62607015e-34;   // J s
inline constexpr double kLight = 299792458.0;       // m/s
inline constexpr double kBoltzmann = 1.380649e-23;  // J/K
inline constexpr double kAvogadro = 6.02214076e23;  // 1/mol

}  // namespace boughlight
