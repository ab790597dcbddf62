#include "program.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <optional>
#include <sstream>

namespace boughlight {

namespace fs = std::filesystem;

namespace {

void limit(int resource, std::size_t bytes) {
  const rlimit both{bytes, bytes};
  if (bytes > 0 && setrlimit(static_cast<__rlimit_resource>(resource), &both) != 0) _exit(126);
}

// In the child between fork and exec: only calls that are safe there.
[[noreturn]] void become(const char* program, char* const* arguments, const char* folder, const char* out,
                         const char* err, const RunOptions& options) {
  const int output = open(out, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  const int errors = open(err, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  const int nothing = open("/dev/null", O_RDONLY);
  if (output >= 0 && errors >= 0 && nothing >= 0 && dup2(output, 1) == 1 && dup2(errors, 2) == 2 &&
      dup2(nothing, 0) == 0 && (*folder == '\0' || chdir(folder) == 0)) {
    limit(RLIMIT_AS, options.most_memory);
    limit(RLIMIT_FSIZE, options.most_file);
    execv(program, arguments);
  }
  _exit(127);
}

}  // namespace

struct Running::Streams {
  TemporaryFolder folder;
  std::string out, err;
  bool keeps_output = true;
};

Running::Running(const std::string& program, const std::vector<std::string>& arguments,
                 const RunOptions& options)
    : streams_(std::make_unique<Streams>()) {
  streams_->keeps_output = options.output_to.empty();
  streams_->out = options.output_to.empty() ? streams_->folder / "out" : options.output_to;
  streams_->err = streams_->folder / "err";
  const std::string folder = options.folder.string();
  std::vector<std::string> words = {program};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);

  // Nobody's own cache is read or filled; a test of the cache names its folder.
  std::map<std::string, std::string> variables = options.variables;
  variables.try_emplace("XDG_CACHE_HOME", "/dev/null");
  // Set before the fork and put back after it, so that the child needs no memory of its own.
  std::map<std::string, std::optional<std::string>> before;
  for (const auto& [name, value] : variables) {
    const char* standing = std::getenv(name.c_str());
    before[name] = standing == nullptr ? std::nullopt : std::optional<std::string>(standing);
    setenv(name.c_str(), value.c_str(), 1);
  }
  // What is killed at once has written nothing, but its files are there.
  if (streams_->keeps_output) write_file(streams_->out, "");
  write_file(streams_->err, "");
  begin_ = std::chrono::steady_clock::now();
  child_ = fork();
  if (child_ == 0)
    become(program.c_str(), pointers.data(), folder.c_str(), streams_->out.c_str(), streams_->err.c_str(),
           options);
  for (const auto& [name, value] : before) {
    if (value) {
      setenv(name.c_str(), value->c_str(), 1);
    } else {
      unsetenv(name.c_str());
    }
  }
}

Running::~Running() {
  if (child_ <= 0) return;
  kill(child_, SIGKILL);
  waitpid(child_, nullptr, 0);
}

void Running::send(int signal_number) const {
  kill(child_, signal_number);
}

double Running::cpu_seconds() const {
  clockid_t clock{};
  timespec time{};
  if (clock_getcpuclockid(child_, &clock) != 0 || clock_gettime(clock, &time) != 0) return 0;
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

Outcome Running::wait() {
  int status = 0;
  rusage used{};
  wait4(child_, &status, 0, &used);
  child_ = -1;
  Outcome outcome;
  outcome.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
  for (const timeval& time : {used.ru_utime, used.ru_stime})
    outcome.cpu_seconds += static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
  outcome.peak_bytes = static_cast<std::size_t>(used.ru_maxrss) * 1024;  // told in KiB
  outcome.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (streams_->keeps_output) outcome.out = read_file(streams_->out);
  outcome.err = read_file(streams_->err);
  return outcome;
}

Outcome run_file(const std::string& program, const std::vector<std::string>& arguments,
                 const RunOptions& options) {
  return Running(program, arguments, options).wait();
}

Outcome boughlight_run(const std::vector<std::string>& arguments, const RunOptions& options) {
  return run_file(BOUGHLIGHT_PROGRAM, arguments, options);
}

std::string told(const std::vector<std::string>& arguments) {
  const Outcome outcome = boughlight_run(arguments);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  return outcome.out;
}

TemporaryFolder::TemporaryFolder() {
  std::string name = (fs::temp_directory_path() / "boughlight-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder can be made");
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string read_file(const fs::path& file) {
  const std::ifstream stream(file, std::ios::binary);
  EXPECT_TRUE(stream) << file;
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

void write_file(const fs::path& file, const std::string& text) {
  std::ofstream stream(file, std::ios::binary);
  stream << text;
  stream.close();
  ASSERT_TRUE(stream) << file;
}

std::map<std::string, std::string> folder_contents(const fs::path& folder) {
  std::map<std::string, std::string> contents;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file()) {
      contents[fs::relative(entry.path(), folder).generic_string()] = read_file(entry.path());
    }
  }
  return contents;
}

std::size_t longest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t longest = 0;
  for (std::string line; std::getline(lines, line);) longest = std::max(longest, line.size());
  return longest;
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace boughlight
