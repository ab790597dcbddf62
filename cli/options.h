// The options that every command takes.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "commands.h"

namespace boughlight::cli {

// As typed; numbers are read by checked(), so that mistakes are told in the same words as those of scene
// files.
struct TypedOptions {
  std::optional<std::string> seed, threads, tolerance, spacing, cache;
  bool no_cache = false;
  bool quiet = false;
  bool json = false;
};

// How the help groups them.
inline constexpr const char* kCommonGroup = "Options of every command";
inline constexpr const char* kTracingGroup = "Options of every command that traces light";
inline constexpr const char* kKeepingGroup = "Options of every command that keeps its light";
// Taken by every command, also where they do nothing: there no help, page or completion has them.
inline constexpr const char* kIdleGroup = "Options that do nothing";

void add_common_options(CLI::App& app, TypedOptions& typed, LightUse light);

// The check of an argument that is one of `words`: the help shows them in braces, and what is none of them is
// answered with the nearest.
CLI::Validator one_of_words(const std::vector<std::string>& words);

// Throws CallError that names every option that is wrong, and what it may be.
CommonOptions checked(const TypedOptions& typed);

}  // namespace boughlight::cli
