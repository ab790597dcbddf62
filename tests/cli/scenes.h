// Small scenes with closed-form answers, written where a test wants them.
#pragma once

#include <filesystem>
#include <string>

namespace boughlight {

// A black crate, open at the top, under a point lamp that gives `lux` 1000 at 30 cm in every direction; a
// sensor that looks up hangs 40 cm below it, so that it reads 1000 lx x (30/40)^2 = 562.5 lx and nothing
// else. `want` is its lux want. Returns the scene's path; the lamp's file is beside it.
std::string write_crate(const std::filesystem::path& folder, const std::string& want = "{min: 500}",
                        const std::string& name = "crate.yaml");

inline constexpr double kCrateLux = 562.5;

}  // namespace boughlight
