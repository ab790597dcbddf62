#include "result_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

std::string stem_of(const fs::path& file) {
  const bool yaml = file.extension() == ".yaml" || file.extension() == ".yml";
  return (yaml ? file.stem() : file.filename()).string();
}

// The stem with `depth` of the folders above it; fewer where there are no more.
std::string name_at(const fs::path& file, int depth) {
  std::string name = stem_of(file);
  fs::path folder = file.parent_path();
  for (int i = 0; i < depth && folder.has_filename(); ++i, folder = folder.parent_path())
    name = folder.filename().string() + "-" + name;
  return name;
}

}  // namespace

std::vector<NamedScene> named_scenes(const std::vector<std::string>& files) {
  std::vector<NamedScene> scenes;
  std::vector<fs::path> places;
  for (const std::string& file : files) {
    std::error_code unknown;
    // A link to a scene is that scene; what is not there is told later, by its own name.
    const fs::path place = fs::weakly_canonical(fs::absolute(file), unknown);
    if (std::find(places.begin(), places.end(), place) != places.end()) continue;
    places.push_back(place);
    scenes.push_back({file, stem_of(file)});
  }
  std::map<std::string, std::vector<std::size_t>> alike;
  for (std::size_t i = 0; i < scenes.size(); ++i) alike[scenes[i].name].push_back(i);
  for (const auto& [stem, group] : alike) {
    if (group.size() < 2) continue;
    const auto deepest = std::distance(places[group[0]].begin(), places[group[0]].end());
    for (int depth = 1; depth <= deepest; ++depth) {
      std::set<std::string> names;
      for (const std::size_t i : group)
        names.insert(scenes[i].name = name_at(fs::absolute(scenes[i].file).lexically_normal(), depth));
      if (names.size() == group.size()) break;
    }
  }
  // The index's own files lie beside the folders.
  std::set<std::string> taken = {"index.html", "index.csv", "index.json"};
  for (NamedScene& scene : scenes) {
    const std::string wanted = scene.name;
    for (int number = 2; !taken.insert(scene.name).second; ++number)
      scene.name = fmt::format("{}-{}", wanted, number);
  }
  return scenes;
}

}  // namespace boughlight::cli
