#include "report/stale.h"

#include <algorithm>
#include <system_error>

namespace boughlight {

namespace fs = std::filesystem;

std::vector<fs::path> stale_files(const fs::path& folder, const std::vector<std::string>& current,
                                  const std::function<bool(const std::string& name)>& ours) {
  std::error_code error;
  std::vector<fs::path> stale;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    const bool is_current = std::find(current.begin(), current.end(), name) != current.end();
    if (!is_current && ours(name) && entry->is_regular_file(error)) stale.push_back(entry->path());
  }
  return stale;
}

}  // namespace boughlight
