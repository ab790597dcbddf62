#include "spectrum/library_path.h"

#include <cstdlib>
#include <vector>

#include "units/problem.h"

namespace boughlight {

namespace {

std::vector<std::filesystem::path>& offered() {
  static std::vector<std::filesystem::path> folders;
  return folders;
}

std::filesystem::path find_library() {
  std::vector<std::filesystem::path> places;
  if (const char* set = std::getenv("BOUGHLIGHT_FIXTURES"); set != nullptr && *set != '\0')
    places.emplace_back(set);
  std::error_code error;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
  if (!error) places.push_back(program.parent_path().parent_path() / "share" / "boughlight" / "fixtures");
  places.insert(places.end(), offered().begin(), offered().end());
  places.emplace_back(BOUGHLIGHT_FIXTURES_DIR);

  std::string tried;
  for (const auto& place : places) {
    if (std::filesystem::is_directory(place, error)) return place;
    tried += (tried.empty() ? "" : ", ") + place.string();
  }
  throw InputError({{{},
                     "",
                     "the library of lamps and materials was not found (looked in " + tried +
                         "); set BOUGHLIGHT_FIXTURES to its folder"}});
}

}  // namespace

const std::filesystem::path& library_path() {
  static const std::filesystem::path found = find_library();
  return found;
}

bool offer_library_path(const std::filesystem::path& folder) {
  offered().push_back(folder);
  return true;
}

}  // namespace boughlight
