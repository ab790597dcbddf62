// What the commands share. A command is one file with a declare function, and one row in the table of
// commands.cpp.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>

#include "scene/model.h"
#include "transport/light_store.h"

namespace boughlight::cli {

// Exit codes, the same for every command.
inline constexpr int kAllMet = 0;     // done; of a survey: every want, need, zone want and `never` met
inline constexpr int kNotAllMet = 1;  // any unmet or unsure
inline constexpr int kBadInput = 2;   // the input or the call is wrong
inline constexpr int kNoOutput = 3;   // the result could not be made or written

// The call itself is wrong; what() tells a person how. Exit code 2.
class CallError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// Options that every command takes, as checked. Each that is not given leaves the scene's own value standing.
struct CommonOptions {
  std::optional<std::uint64_t> seed;
  std::optional<double> tolerance;  // ratio
  std::optional<double> spacing;    // m
  int threads = 0;                  // 0: all
  bool quiet = false;
  bool json = false;
  std::optional<std::filesystem::path> cache_folder;  // of traced light; nothing: none is kept

  void apply_to(SurveySettings& settings) const;
  // Of that folder; null where none is kept. What was traced is there in full when it is gone.
  std::shared_ptr<LightCache> cache() const;
};

// What a command does once the line has been read; returns the exit code.
using Run = std::function<int(const CommonOptions&)>;

// How a command comes by light, and so which options it takes.
enum class LightUse { none, traced, kept };  // kept: for another time as well

struct Command {
  const char* name;
  const char* purpose;            // one line
  Run (*declare)(CLI::App& app);  // adds the command's own arguments and examples
  LightUse light = LightUse::none;
};
std::span<const Command> commands();

}  // namespace boughlight::cli
