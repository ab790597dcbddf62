// Spectra in the XML of IES TM-27 (Standard Format for the Electronic Transfer of Spectral Data; 2014
// edition, as the open-source package colour-science reads and writes it: docs of
// colour.SpectralDistribution_IESTM2714).
#pragma once

#include <string>

#include "spectrum/table.h"

namespace boughlight {

enum class SpectrumUse {
  emission,  // flux, intensity, irradiance, radiance, exitance or relative: power against wavelength
  ratio      // reflectance, transmittance, R-Factor or T-Factor, from 0 to 1
};

// Wavelength in nm, rising, against the value as it stands in the file, linear in between. Bandwidth and
// header are not used. Throws InputError with the line where the XML is broken, where there is no such data,
// where the file's quantity does not fit the use, and where a wavelength or value is none, falls, or is out
// of range.
Table read_tm27_file(const std::string& path, SpectrumUse use, Beyond beyond);
// Whether a file is taken for one, by its name: .spdx, .xml.
bool is_tm27_name(const std::string& path);

}  // namespace boughlight
