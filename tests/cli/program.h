// Runs the program, or a script, as a user would: arguments in, exit code and both streams out.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace boughlight {

struct Outcome {
  int code = -1;    // exit code; 128 + signal when killed
  std::string out;  // standard output
  std::string err;  // standard error
};

struct RunOptions {
  std::filesystem::path folder;                  // working directory; the current one when empty
  std::map<std::string, std::string> variables;  // added to the environment
  std::string output_to;                         // standard output goes to this file instead of Outcome::out
};

Outcome run_file(const std::string& program, const std::vector<std::string>& arguments,
                 const RunOptions& options = {});

// boughlight ARGUMENTS...
Outcome boughlight_run(const std::vector<std::string>& arguments, const RunOptions& options = {});

// A fresh folder that goes away with everything in it.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  std::string operator/(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

std::string read_file(const std::filesystem::path& file);
void write_file(const std::filesystem::path& file, const std::string& text);
// Every file below a folder, by its path from there.
std::map<std::string, std::string> folder_contents(const std::filesystem::path& folder);
std::size_t longest_line(const std::string& text);
bool contains(const std::string& text, const std::string& part);

}  // namespace boughlight
