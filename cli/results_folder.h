// Where a command's results go.
#pragma once

#include <filesystem>
#include <string>

namespace boughlight::cli {

// `given`, or where it is empty the scene's name without .yaml, beside the scene. Throws OutputError where
// nothing can be written there: before the work, rather than after it.
std::filesystem::path results_folder(const std::string& given, const std::string& scene);

}  // namespace boughlight::cli
