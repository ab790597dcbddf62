#include "program.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <optional>
#include <sstream>

namespace boughlight {

namespace fs = std::filesystem;

namespace {

// In the child between fork and exec: only calls that are safe there.
[[noreturn]] void become(const char* program, char* const* arguments, const char* folder, const char* out,
                         const char* err) {
  const int output = open(out, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  const int errors = open(err, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  const int nothing = open("/dev/null", O_RDONLY);
  if (output >= 0 && errors >= 0 && nothing >= 0 && dup2(output, 1) == 1 && dup2(errors, 2) == 2 &&
      dup2(nothing, 0) == 0 && (*folder == '\0' || chdir(folder) == 0)) {
    execv(program, arguments);
  }
  _exit(127);
}

}  // namespace

Outcome run_file(const std::string& program, const std::vector<std::string>& arguments,
                 const RunOptions& options) {
  const TemporaryFolder streams;
  const std::string out = options.output_to.empty() ? streams / "out" : options.output_to;
  const std::string err = streams / "err";
  const std::string folder = options.folder.string();
  std::vector<std::string> words = {program};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);

  // Set before the fork and put back after it, so that the child needs no memory of its own.
  std::map<std::string, std::optional<std::string>> before;
  for (const auto& [name, value] : options.variables) {
    const char* standing = std::getenv(name.c_str());
    before[name] = standing == nullptr ? std::nullopt : std::optional<std::string>(standing);
    setenv(name.c_str(), value.c_str(), 1);
  }
  const pid_t child = fork();
  if (child == 0) become(program.c_str(), pointers.data(), folder.c_str(), out.c_str(), err.c_str());
  for (const auto& [name, value] : before) {
    if (value) {
      setenv(name.c_str(), value->c_str(), 1);
    } else {
      unsetenv(name.c_str());
    }
  }
  int status = 0;
  waitpid(child, &status, 0);

  Outcome outcome;
  outcome.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  if (options.output_to.empty()) outcome.out = read_file(out);
  outcome.err = read_file(err);
  return outcome;
}

Outcome boughlight_run(const std::vector<std::string>& arguments, const RunOptions& options) {
  return run_file(BOUGHLIGHT_PROGRAM, arguments, options);
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
