// What meter readings said of a scene, for people and for programs.
#pragma once

#include <string>

#include "plan/fit.h"

namespace boughlight {

// At most 80 columns: what the readings say, what is behind it, what was left out and why.
std::string fit_summary(const Scene& scene, const Fit& fit);

// Factors and figures with 6 significant digits, lengths in metres; `written`: the calibrated scene's file,
// "" where none was written.
std::string fit_json(const Scene& scene, const Fit& fit, const std::string& written);

}  // namespace boughlight
