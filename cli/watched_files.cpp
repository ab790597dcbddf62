#include "watched_files.h"

#include <algorithm>

namespace boughlight::cli {
namespace {

constexpr std::chrono::milliseconds kMoment{80}, kLongMoment{600};

// Takes what is there now; true where that is another than before.
bool look_again(std::vector<SoughtFile>& files) {
  bool moved = false;
  for (SoughtFile& file : files) {
    const FileStamp now = stamp_of(file.file);
    moved = moved || now != file.stamp;
    file.stamp = now;
  }
  return moved;
}

}  // namespace

bool WatchedFiles::is_whole() const {
  for (std::size_t i = 0; i < known_.size(); ++i) {
    const bool was_there = before_[i].stamp.there && before_[i].stamp.bytes > 0;
    const bool is_there = known_[i].stamp.there && known_[i].stamp.bytes > 0;
    if (was_there && !is_there) return false;
  }
  return true;
}

void WatchedFiles::note_changes() {
  changed_.clear();
  for (std::size_t i = 0; i < known_.size(); ++i) {
    const std::string name = known_[i].file.filename().string();
    if (known_[i].stamp != before_[i].stamp &&
        std::find(changed_.begin(), changed_.end(), name) == changed_.end())
      changed_.push_back(name);
  }
}

WatchedFiles::Look WatchedFiles::look(Clock::time_point now) {
  if (!moving_) before_ = known_;
  const bool moved = look_again(known_);
  if (moved) moved_ = now;
  if (!moving_) {
    moving_ = moved;
    return moved ? Look::changed : Look::quiet;
  }
  if (now - moved_ < (is_whole() ? kMoment : kLongMoment)) return Look::moving;
  moving_ = false;
  note_changes();
  return Look::settled;
}

}  // namespace boughlight::cli
