// Runs the program, or a script, as a user would: arguments in, exit code and both streams out.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace boughlight {

struct Outcome {
  int code = -1;    // exit code; 128 + signal when killed
  std::string out;  // standard output
  std::string err;  // standard error
  double seconds = 0, cpu_seconds = 0;
  std::size_t peak_bytes = 0;  // of resident memory
};

struct RunOptions {
  std::filesystem::path folder;                  // working directory; the current one when empty
  std::map<std::string, std::string> variables;  // added to the environment
  std::string output_to;                         // standard output goes to this file instead of Outcome::out
  std::size_t most_memory = 0;                   // bytes of address space (RLIMIT_AS); 0: no limit
  std::size_t most_file = 0;                     // bytes of a file (RLIMIT_FSIZE); 0: no limit
};

// A program that goes on while the test does something else. It is killed where nobody waited for it.
class Running {
 public:
  Running(const std::string& program, const std::vector<std::string>& arguments, const RunOptions& options);
  ~Running();
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;

  void send(int signal_number) const;
  // Of the processor, so far; before wait().
  double cpu_seconds() const;
  Outcome wait();

 private:
  struct Streams;
  std::unique_ptr<Streams> streams_;
  pid_t child_ = -1;
  std::chrono::steady_clock::time_point begin_;
};

Outcome run_file(const std::string& program, const std::vector<std::string>& arguments,
                 const RunOptions& options = {});

// boughlight ARGUMENTS...
Outcome boughlight_run(const std::vector<std::string>& arguments, const RunOptions& options = {});

// What it prints; fails where it complains.
std::string told(const std::vector<std::string>& arguments);

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
