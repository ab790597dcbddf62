// What tuning found, for people and for programs.
#pragma once

#include <string>

#include "plan/tune.h"

namespace boughlight {

// At most 80 columns: what to change and why, what that makes of every want, and what cannot be met.
std::string tune_summary(const Scene& scene, const Tune& tune);

// Lengths in metres, ratios, 6 significant digits; `written`: the new scene's file, "" where none was
// written.
std::string tune_json(const Scene& scene, const Tune& tune, const std::string& written);

}  // namespace boughlight
