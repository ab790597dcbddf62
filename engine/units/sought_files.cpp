#include "units/sought_files.h"

#include <sys/stat.h>

#include <algorithm>

namespace boughlight {
namespace {

thread_local SoughtFiles* listening = nullptr;

}  // namespace

FileStamp stamp_of(const std::filesystem::path& file) {
  struct stat found {};
  if (::stat(file.c_str(), &found) != 0) return {};
  constexpr std::int64_t kNanoseconds = 1'000'000'000;
  return {true, found.st_dev, found.st_ino, static_cast<std::uint64_t>(found.st_size),
          kNanoseconds * found.st_mtim.tv_sec + found.st_mtim.tv_nsec};
}

SoughtFiles::SoughtFiles() {
  listening = this;
}

SoughtFiles::~SoughtFiles() {
  listening = nullptr;
}

void SoughtFiles::note(const std::filesystem::path& file) {
  if (!listening) return;
  std::vector<SoughtFile>& files = listening->files_;
  const auto is_it = [&](const SoughtFile& sought) { return sought.file == file; };
  if (std::none_of(files.begin(), files.end(), is_it)) files.push_back({file, stamp_of(file)});
}

}  // namespace boughlight
