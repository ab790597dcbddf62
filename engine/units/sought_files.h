// Which files an input was read from: what somebody who waits for a change of it must look at.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace boughlight {

// The state of a file as the system tells it, without its bytes: another one after each save, whether that
// writes the file or puts a new one in its place. Links are followed; what cannot be looked at is not there.
struct FileStamp {
  bool there = false;
  std::uint64_t device = 0, number = 0;  // which file it is
  std::uint64_t bytes = 0;
  std::int64_t changed_ns = 0;

  bool operator==(const FileStamp&) const = default;
};
FileStamp stamp_of(const std::filesystem::path& file);

struct SoughtFile {
  std::filesystem::path file;  // as it was asked for
  FileStamp stamp;             // from before it was read
};

// While it lives, every file that this thread reads through read_bytes(), and every one that it finds to be
// missing, is listed: each once, in the order in which they were asked for. Of several that live in a thread,
// each lists them; the last one made ends first.
class SoughtFiles {
 public:
  SoughtFiles();
  ~SoughtFiles();
  SoughtFiles(const SoughtFiles&) = delete;
  SoughtFiles& operator=(const SoughtFiles&) = delete;

  const std::vector<SoughtFile>& files() const { return files_; }
  // To be called before a file is read or missed.
  static void note(const std::filesystem::path& file);

 private:
  SoughtFiles* const outer_;  // that lives longer
  std::vector<SoughtFile> files_;
};

}  // namespace boughlight
