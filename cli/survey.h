// Surveying one scene, for the commands that end in it.
#pragma once

#include <filesystem>

#include "commands.h"

namespace boughlight::cli {

// Reads the scene, traces it, writes its files into `folder` (beside the scene, by its name, where that is
// empty) and prints the summary, or JSON where that is asked for. Returns the exit code.
int survey_scene(const std::filesystem::path& file, const std::filesystem::path& folder,
                 const CommonOptions& options);

}  // namespace boughlight::cli
