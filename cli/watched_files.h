// When the files of a scene were saved, and are whole again.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "units/sought_files.h"

namespace boughlight::cli {

// Looks at files again and again, to be driven by look(). A save is one change or several in a row: a file
// that is emptied and written, one that is renamed away before its successor comes. So after a change it
// waits until nothing moved for a moment; longer while a file is missing or empty.
class WatchedFiles {
 public:
  using Clock = std::chrono::steady_clock;

  // From now on these, as they were when they were read.
  void watch(std::vector<SoughtFile> files) { known_ = std::move(files); }
  const std::vector<SoughtFile>& files() const { return known_; }

  enum class Look {
    quiet,    // as they were read
    changed,  // one is another than was read, from this look on
    moving,   // not settled yet
    settled,  // all is there to be read again; the next look is quiet unless something else happens
  };
  Look look(Clock::time_point now);
  // The names, without their folders, of those that changed up to the last `settled`; each once.
  std::vector<std::string> changed() const { return changed_; }

 private:
  bool is_whole() const;
  void note_changes();

  std::vector<SoughtFile> known_;   // as read; as last looked at while they move
  std::vector<SoughtFile> before_;  // as read, while they move
  std::vector<std::string> changed_;
  bool moving_ = false;
  Clock::time_point moved_{};  // when something was seen to have changed last
};

}  // namespace boughlight::cli
