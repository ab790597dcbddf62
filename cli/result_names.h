// What the results of several scenes are called.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace boughlight::cli {

struct NamedScene {
  std::filesystem::path file;
  std::string name;  // of its folder of results: one path component, no two alike
};

// Each scene once, in the order given, named as its file without .yaml. Where two files are called so, the
// folders that they lie in are put before it, as few as tell them apart: "rack-2-cage". What is still alike
// ends in "-2", "-3", ... The names depend on the list as a whole and on nothing else.
std::vector<NamedScene> named_scenes(const std::vector<std::string>& files);

}  // namespace boughlight::cli
