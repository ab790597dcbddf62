#include "spectrum/bins.h"

#include <algorithm>

namespace boughlight {

int bin_of(double wavelength_nm) {
  if (!(wavelength_nm >= kFirstNm && wavelength_nm <= kLastNm)) return -1;
  const auto above = std::upper_bound(kBinEdgesNm.begin(), kBinEdgesNm.end(), wavelength_nm);
  return std::min(static_cast<int>(above - kBinEdgesNm.begin()) - 1, kBins - 1);
}

}  // namespace boughlight
