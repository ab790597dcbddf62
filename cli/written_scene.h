// Scenes that commands write beside the one they were given.
#pragma once

#include <filesystem>
#include <string>

#include "report/plan_page.h"

namespace boughlight::cli {

// `given`, or the scene's name with `ending` before .yaml. Throws CallError where a file is there and may not
// be replaced, where it is the scene itself, or where its folder is missing.
std::filesystem::path place_for_scene(const std::filesystem::path& scene, const std::string& given,
                                      const std::string& ending, bool overwrite);

// Checks that the text loads as a scene from there, written beside first and then renamed. Throws
// OutputError.
void write_scene(const std::filesystem::path& file, const std::string& text);

// The page of the command that wrote the scene, beside it: its name with .html. Throws OutputError.
std::filesystem::path write_scene_page(const std::filesystem::path& file, const PlanPage& page);

}  // namespace boughlight::cli
