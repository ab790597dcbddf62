#include "results_folder.h"

#include <fmt/format.h>
#include <unistd.h>

#include "report/staging.h"

namespace boughlight::cli {
namespace {

namespace fs = std::filesystem;

fs::path default_folder(const fs::path& scene) {
  fs::path folder = scene;
  if (scene.extension() == ".yaml" || scene.extension() == ".yml") return folder.replace_extension();
  return folder += "-results";
}

void require_writable(const fs::path& folder) {
  std::error_code ignored;
  fs::path standing = fs::absolute(folder, ignored).lexically_normal();
  while (!fs::exists(standing, ignored) && standing.has_relative_path()) standing = standing.parent_path();
  if (!fs::is_directory(standing, ignored)) {
    throw OutputError(fmt::format("results cannot go to '{}': '{}' is not a folder; name another with -o",
                                  folder.string(), standing.string()));
  }
  if (access(standing.c_str(), W_OK | X_OK) != 0) {
    throw OutputError(
        fmt::format("results cannot go to '{}': you may not write in '{}'; name another "
                    "folder with -o",
                    folder.string(), standing.string()));
  }
}

}  // namespace

fs::path results_folder(const std::string& given, const std::string& scene) {
  const fs::path folder = given.empty() ? default_folder(scene) : fs::path(given);
  require_writable(folder);
  return folder;
}

}  // namespace boughlight::cli
