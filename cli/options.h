// The options that every command takes.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

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

void add_common_options(CLI::App& app, TypedOptions& typed);

// Throws CallError that names every option that is wrong, and what it may be.
CommonOptions checked(const TypedOptions& typed);

}  // namespace boughlight::cli
