// A watch that runs while a test saves files.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "program.h"

namespace boughlight {

// Waits until `there` holds; false where it does not within a time that is long on a busy machine too.
bool within_reason(const std::function<bool()>& there);

class Watching {
 public:
  explicit Watching(const std::string& scene, const std::vector<std::string>& more = {});

  // What it has said up to now.
  std::string out() const;
  std::string err() const;
  // Until `text` was said so many times on standard output, or on standard error.
  bool hears(const std::string& text, std::size_t times = 1) const;
  bool hears_of_trouble(const std::string& text, std::size_t times = 1) const;
  // Both streams are in the outcome.
  Outcome end(int signal_number);
  void send(int signal_number) const { running_.send(signal_number); }

 private:
  TemporaryFolder folder_;
  Running running_;
};

// What it says at the beginning and at the end of each survey.
inline constexpr const char* kLook = "First look, still rough:\n";
inline constexpr const char* kDone = "the meter decides.\n";

// The files of a survey of the scene as it is now.
std::map<std::string, std::string> surveyed(const std::string& scene);

// `from`, which must be there, replaced.
std::string changed(std::string text, const std::string& from, const std::string& to);

std::size_t count_of(const std::string& text, const std::string& part);

// Processes that have `word` in their command line; zombies are none.
std::size_t processes_with(const std::string& word);

// As many editors do: written beside, then put in the place of the old one.
void save_by_rename(const std::filesystem::path& file, const std::string& text);

}  // namespace boughlight
