// What a planning command leaves behind and says in the end.
#pragma once

#include <filesystem>
#include <string>

#include "commands.h"
#include "report/plan_page.h"
#include "terminal.h"

namespace boughlight::cli {

// Writes STEM.json, STEM.html and the page's pictures into the folder, all or none, wipes the progress line,
// and prints the page's text and where the files are; the JSON alone where that is asked for. Throws
// OutputError.
void finish_plan(const PlanPage& page, const std::string& stem, const std::filesystem::path& folder,
                 Progress& progress, const CommonOptions& options);

}  // namespace boughlight::cli
