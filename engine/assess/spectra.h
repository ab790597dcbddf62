// The spectrum at each reading, weighed from what was traced once.
#pragma once

#include <vector>

#include "assess/results.h"

namespace boughlight {

// Irradiance on the sensor of each of Survey::readings in each bin, W/m2, from all sources as declared,
// without the hours: a bin's divided by its width is the mean spectral irradiance over it, and all bins add
// up to `irradiance`.
std::vector<SpectralD> reading_spectra(const Survey& survey);

}  // namespace boughlight
