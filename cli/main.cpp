// boughlight: reads the command line, runs one command, and turns whatever happens into an exit code.

#include <fmt/format.h>
#include <signal.h>

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "failure.h"
#include "interrupt.h"
#include "line.h"
#include "report/write.h"
#include "terminal.h"
#include "units/problem.h"

namespace boughlight::cli {
namespace {

// What to say when CLI11 could not read the line: its own words, but a wrong command gets the nearest right
// one.
std::string parse_complaint(const CLI::App& app, const CLI::ParseError& error) {
  const std::vector<std::string> left = app.remaining();
  if (app.get_subcommands().empty() && !left.empty() && left.front().front() != '-') {
    std::vector<std::string> names;
    for (const Command& command : commands()) names.emplace_back(command.name);
    return fmt::format("there is no command '{}'{}; there are {}", left.front(),
                       did_you_mean(left.front(), names), one_of(names));
  }
  return error.what();
}

int run_command(const std::vector<Declared>& declared, const TypedOptions& typed) {
  for (const auto& [app, run] : declared) {
    if (!app->parsed()) continue;
    const int code = run(checked(typed));
    flush_output();
    return code;
  }
  return kBadInput;
}

int run_guarded(const std::vector<Declared>& declared, const TypedOptions& typed) {
  try {
    return run_command(declared, typed);
  } catch (...) {
    const Failure failure = current_failure();
    fmt::print(stderr, "{}", failure.text);
    return failure.code;
  }
}

int main_guarded(int argc, char** argv) {
  CLI::App app("", "boughlight");
  TypedOptions typed;
  const std::vector<Declared> declared = declare_line(app, typed);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& asked) {
    // --help and --version: what was asked for goes to standard output.
    const bool help = dynamic_cast<const CLI::CallForHelp*>(&asked) != nullptr;
    try {
      put(help ? app.help() : std::string(asked.what()) + "\n");
      flush_output();
    } catch (const OutputError& error) {
      fmt::print(stderr, "{}", complaint(error.what()));
      return kNoOutput;
    }
    return kAllMet;
  } catch (const CLI::ParseError& error) {
    fmt::print(stderr, "{}Run 'boughlight --help' or 'boughlight COMMAND --help' for examples.\n",
               complaint(parse_complaint(app, error)));
    return kBadInput;
  }
  return run_guarded(declared, typed);
}

}  // namespace
}  // namespace boughlight::cli

int main(int argc, char** argv) {
  boughlight::cli::end_on_interrupt();
  // A file that may not grow any further is told as any other failed write.
  ::signal(SIGXFSZ, SIG_IGN);
  return boughlight::cli::main_guarded(argc, argv);
}
