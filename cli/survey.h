// Surveying scenes, for the commands that end in it.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "assess/first_look.h"
#include "assess/results.h"
#include "commands.h"

namespace boughlight::cli {

// Traces a scene, with the options' settings, and writes its files into `folder`. `tell`, where there is any,
// hears how far it is (0..1), `first_look` what a pilot finds of the wants. Throws OutputError, and
// std::runtime_error where the light could not be computed.
Survey survey_into(Scene scene, const std::filesystem::path& folder, const CommonOptions& options,
                   const std::function<void(const std::string& stage, double share)>& tell,
                   const FirstLookTeller& first_look = {});

// Reads the scene, traces it, writes its files into `folder` (beside the scene, by its name, where that is
// empty) and prints the summary, or JSON where that is asked for. Returns the exit code.
int survey_scene(const std::filesystem::path& file, const std::filesystem::path& folder,
                 const CommonOptions& options);

}  // namespace boughlight::cli
