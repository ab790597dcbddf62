// Scenes that commands write beside the one they were given.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "report/plan_page.h"

namespace boughlight::cli {

// `given`, or the scene's name with `ending` before .yaml. Throws CallError where it or its page (see below)
// is there and may not be replaced, where either is the scene itself or another of the files that were
// `read` for it, or where its folder is missing.
std::filesystem::path place_for_scene(const std::filesystem::path& scene, const std::string& given,
                                      const std::string& ending, bool overwrite,
                                      const std::vector<std::filesystem::path>& read);

// Checks that the text loads as a scene from there, and writes it together with the page of the command that
// made it, whose name is the scene's with .html and is returned. Both or none; throws OutputError.
std::filesystem::path write_scene(const std::filesystem::path& file, const std::string& text,
                                  const PlanPage& page);

}  // namespace boughlight::cli
