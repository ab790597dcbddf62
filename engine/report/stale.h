// Pictures of an earlier run that the new one did not draw would be taken for part of it.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace boughlight {

// The files of a folder whose names are `ours` to give, but for those named `current`.
std::vector<std::filesystem::path> stale_files(const std::filesystem::path& folder,
                                               const std::vector<std::string>& current,
                                               const std::function<bool(const std::string& name)>& ours);

// The names of files that know theirs.
template <class File>
std::vector<std::string> names_of_files(const std::vector<File>& files) {
  std::vector<std::string> names;
  for (const File& file : files) names.push_back(file.name);
  return names;
}

}  // namespace boughlight
