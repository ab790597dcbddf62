// Pictures of an earlier run that the new one did not draw would be taken for part of it.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "report/map.h"

namespace boughlight {

// Removes the files of a folder whose names are `ours` to give, but for the current ones. What cannot be
// removed stays.
void remove_stale(const std::filesystem::path& folder, const std::vector<MapFile>& current,
                  const std::function<bool(const std::string& name)>& ours);

}  // namespace boughlight
