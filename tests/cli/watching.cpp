#include "watching.h"

#include <gtest/gtest.h>
#include <signal.h>

#include <chrono>
#include <fstream>
#include <sstream>
#include <thread>

namespace boughlight {
namespace {

namespace fs = std::filesystem;

std::string quoted(const std::string& word) {
  return "'" + word + "'";
}

std::string command(const std::string& scene, const std::vector<std::string>& more, const fs::path& folder) {
  std::string line = "exec " + quoted(BOUGHLIGHT_PROGRAM) + " watch " + quoted(scene);
  for (const std::string& word : more) line += " " + quoted(word);
  return line + " > " + quoted(folder / "out") + " 2> " + quoted(folder / "err");
}

std::string text_of(const fs::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

}  // namespace

Watching::Watching(const std::string& scene, const std::vector<std::string>& more)
    : running_("/bin/sh", {"-c", command(scene, more, folder_.path())}, {}) {}

std::string Watching::out() const {
  return text_of(folder_.path() / "out");
}

std::string Watching::err() const {
  return text_of(folder_.path() / "err");
}

bool within_reason(const std::function<bool()>& there) {
  using namespace std::chrono_literals;
  const auto last = std::chrono::steady_clock::now() + 60s;
  while (!there()) {
    if (std::chrono::steady_clock::now() > last) return false;
    std::this_thread::sleep_for(5ms);
  }
  return true;
}

bool Watching::hears(const std::string& text, std::size_t times) const {
  return within_reason([&] { return count_of(out(), text) >= times; });
}

bool Watching::hears_of_trouble(const std::string& text, std::size_t times) const {
  return within_reason([&] { return count_of(err(), text) >= times; });
}

Outcome Watching::end(int signal_number) {
  running_.send(signal_number);
  Outcome outcome = running_.wait();
  outcome.out = out();
  outcome.err = err();
  return outcome;
}

std::map<std::string, std::string> surveyed(const std::string& scene) {
  const TemporaryFolder folder;
  const Outcome survey = boughlight_run({"survey", scene, "-o", folder / "results"});
  EXPECT_LE(survey.code, 1) << survey.err;
  return folder_contents(folder / "results");
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size()))
    ++count;
  return count;
}

std::size_t processes_with(const std::string& word) {
  std::size_t count = 0;
  for (const auto& entry : fs::directory_iterator("/proc")) {
    const std::string name = entry.path().filename().string();
    if (name.find_first_not_of("0123456789") == std::string::npos)
      count += contains(text_of(entry.path() / "cmdline"), word);
  }
  return count;
}

void save_by_rename(const fs::path& file, const std::string& text) {
  const fs::path beside = file.string() + "~";
  write_file(beside, text);
  fs::rename(beside, file);
}

}  // namespace boughlight
