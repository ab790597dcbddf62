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

SoughtFiles::SoughtFiles() : outer_(listening) {
  listening = this;
}

SoughtFiles::~SoughtFiles() {
  listening = outer_;
}

void SoughtFiles::note(const std::filesystem::path& file) {
  const auto is_it = [&](const SoughtFile& sought) { return sought.file == file; };
  for (SoughtFiles* each = listening; each; each = each->outer_)
    if (std::none_of(each->files_.begin(), each->files_.end(), is_it))
      each->files_.push_back({file, stamp_of(file)});
}

}  // namespace boughlight
