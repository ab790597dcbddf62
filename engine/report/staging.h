// Files that appear all together and whole, or not at all: whatever stops the program, and whenever.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "report/commit.h"

namespace boughlight {

// A result could not be written; what() names the file and the reason.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct ResultFile {
  std::filesystem::path file;
  std::string bytes;
};

// Results are written in full before the first of them gets its name. Until then they are unnamed files
// (Linux: O_TMPFILE), of which nothing is left when the program ends, by SIGKILL too. On file systems that
// have no unnamed files they are hidden ones, ".boughlight-HOST-PID-N.part": what a killed run left of these
// is removed by the next one that writes there. All functions throw OutputError.
class Staging {
 public:
  enum class Unnamed { where_there_are, never };
  explicit Staging(Unnamed unnamed = Unnamed::where_there_are) : unnamed_(unnamed) {}
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;
  ~Staging();

  // Files that must stay as they are: to write one of them, by whatever name, fails.
  void spare(const std::vector<std::filesystem::path>& files);
  // Where it is missing it is made, with its parents, when all is put in place.
  void make_folder(const std::filesystem::path& folder);
  // Its folder is made like that as well.
  void write(const ResultFile& result);
  // Renames a file before new ones come. Nothing may be there under the other name.
  void keep(const std::filesystem::path& file, const std::filesystem::path& kept);
  // Removes a file after new ones came; that it cannot be removed is no failure.
  void remove(const std::filesystem::path& file);
  // The last written first: the first appears when everything else is there. Where it fails, all is as
  // before. Once begun it is carried through, even if the program is killed in the meantime (see commit.h).
  void put_in_place();

 private:
  std::filesystem::path base_for(const std::filesystem::path& folder);
  void write_bytes(int descriptor, const ResultFile& result) const;

  Unnamed unnamed_;
  std::vector<std::filesystem::path> spared_;
  std::vector<std::filesystem::path> folders_;  // to be made, parents first
  std::vector<std::filesystem::path> bases_;    // folders that are there already, in which files are staged
  std::vector<CommitStep> keeps_, files_, removals_;
  std::vector<int> descriptors_;     // of unnamed files
  std::vector<std::string> hidden_;  // names of staged files on file systems without unnamed ones
};

// All of them, with their folders; what stands there under the same names is replaced.
void write_files(const std::vector<ResultFile>& results);

}  // namespace boughlight
