// The wavelength bins that every ray carries: 64 from 250 nm to 25 um.
#pragma once

#include <Eigen/Core>
#include <array>

namespace boughlight {

inline constexpr int kBins = 64;

// Bin edges, nm: 5 nm wide from 250 to 400, 25 nm to 700, then wider through the near infrared (to 2.5 um)
// and the thermal infrared (to 25 um). 280, 315, 400 and 700 nm are edges.
inline constexpr std::array<double, kBins + 1> kBinEdgesNm = {
    250,  255,  260,  265,  270,  275,  280,  285,  290,  295,  300,   305,   310,   315,  320,  325,  330,
    335,  340,  345,  350,  355,  360,  365,  370,  375,  380,  385,   390,   395,   400,  425,  450,  475,
    500,  525,  550,  575,  600,  625,  650,  675,  700,  800,  900,   1000,  1100,  1200, 1350, 1500, 1700,
    1900, 2200, 2500, 3000, 3500, 4000, 5000, 6000, 7000, 8500, 10000, 13000, 18000, 25000};
inline constexpr double kFirstNm = kBinEdgesNm.front();
inline constexpr double kLastNm = kBinEdgesNm.back();

// One value per bin. What it means (a factor, 1/m2, W ...) is said where it is used.
using Spectral = Eigen::Array<float, kBins, 1>;    // on the rays
using SpectralD = Eigen::Array<double, kBins, 1>;  // in tables and results

// The bin that holds a wavelength; one on an edge belongs to the bin above (25 um itself to the last bin).
// -1 outside [250 nm, 25 um].
int bin_of(double wavelength_nm);

}  // namespace boughlight
