// The whole command line as it is declared: read by main, told by the reference pages and the completions.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "commands.h"
#include "options.h"

namespace boughlight::cli {

struct Declared {
  CLI::App* app;
  Run run;
};

// Adds every command to an app of the program's name, and what its --help says.
std::vector<Declared> declare_line(CLI::App& app, TypedOptions& typed);

// The line by itself, for those that tell of it.
struct WholeLine {
  CLI::App app{"", "boughlight"};
  TypedOptions typed;
  std::vector<Declared> declared = declare_line(app, typed);
};

// False of a flag, which stands alone.
bool takes_value(const CLI::Option& option);

// The words that an argument may be, as its help lists them in braces; none where it may be anything.
std::vector<std::string> words_of(const CLI::Option& option);

// "boughlight compare FIRST SECOND [OPTIONS]"
std::string call_of(const CLI::App& command);

// What it is for and how to begin; for who calls the program without a word.
std::string short_help();

}  // namespace boughlight::cli
