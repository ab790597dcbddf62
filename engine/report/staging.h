// Files that appear whole or not at all.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

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

// Files beside their final places, and folders made for them: whatever was not put in place is removed again.
// All throw OutputError.
class Staging {
 public:
  Staging() = default;
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;
  ~Staging();

  // With its parents where they are missing.
  void make_folder(const std::filesystem::path& folder);
  // Beside its final place, in a folder that is there.
  void write(const ResultFile& result);
  // Last written first: the first appears when everything else is there.
  void put_in_place();

 private:
  std::vector<std::pair<std::filesystem::path, std::filesystem::path>> staged_;
  std::vector<std::filesystem::path> made_;
  bool in_place_ = false;  // at least one file
};

// All of them, with their folders; what stands there under the same names is replaced.
void write_files(const std::vector<ResultFile>& results);

}  // namespace boughlight
