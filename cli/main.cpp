// boughlight: reads the command line, runs one command, and turns whatever happens into an exit code.

#include <fcntl.h>
#include <fmt/format.h>
#include <malloc.h>
#include <signal.h>
#include <unistd.h>

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

// The command of the line, or the whole program where there is none.
const CLI::App& chosen(const CLI::App& app) {
  const auto commands_given = app.get_subcommands();
  return commands_given.empty() ? app : *commands_given.front();
}

// A word that no option and no argument of the command takes.
std::string stray_complaint(const CLI::App& command, const std::string& word) {
  std::vector<std::string> names;
  if (word.starts_with('-')) {
    for (const CLI::Option* option : command.get_options())
      for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    const std::string name = word.substr(0, word.find('='));
    return fmt::format("there is no option '{}'{}", name, did_you_mean(name, names));
  }
  if (command.get_parent() != nullptr)
    return fmt::format("'{}' is one word too many; the call is: {}", word, call_of(command));
  for (const Command& row : commands()) names.emplace_back(row.name);
  return fmt::format("there is no command '{}'{}; there are {}", word, did_you_mean(word, names),
                     one_of(names));
}

// What to say when CLI11 could not read the line. What it counts is told as what to do.
std::string parse_complaint(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App& command = chosen(app);
  // Also where CLI11 complains that there is no command.
  if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr || &command == &app)
    for (const CLI::App* part : {&command, &app})
      if (!part->remaining().empty()) return stray_complaint(*part, part->remaining().front());
  if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr)
    for (const CLI::Option* option : command.get_options())
      if (option->get_required() && option->count() == 0)
        return fmt::format("{} is missing; the call is: {}", option->get_name(true), call_of(command));
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) != nullptr)
    for (const CLI::Option* option : command.get_options()) {
      if (option->get_positional() || !std::string(error.what()).starts_with(option->get_name() + ":"))
        continue;
      return option->count() > 1 ? fmt::format("{}: it can be given only once", option->get_name())
                                 : fmt::format("{}: what it is set to is missing ({})", option->get_name(),
                                               option->get_description());
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
    remark("{}", failure.text);
    return failure.code;
  }
}

int main_guarded(int argc, char** argv) {
  WholeLine line;
  auto& [app, typed, declared] = line;
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& asked) {
    // --help and --version: what was asked for goes to standard output.
    const bool help = dynamic_cast<const CLI::CallForHelp*>(&asked) != nullptr;
    try {
      put(help ? app.help() : std::string(asked.what()) + "\n");
      flush_output();
    } catch (const OutputError& error) {
      remark("{}", complaint(error.what()));
      return kNoOutput;
    }
    return kAllMet;
  } catch (const CLI::ParseError& error) {
    const bool without_command = app.get_subcommands().empty();
    if (without_command && dynamic_cast<const CLI::RequiredError*>(&error) != nullptr &&
        app.remaining().empty()) {
      remark("{}", short_help());
    } else {
      remark("{}Run 'boughlight {}--help' for examples.\n", complaint(parse_complaint(app, error)),
             without_command ? "" : chosen(app).get_name() + " ");
    }
    return kBadInput;
  }
  return run_guarded(declared, typed);
}

// So that no file that is written takes the number of a stream that was closed, and gets its messages.
void occupy_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (::fcntl(stream, F_GETFD) == -1) ::open("/dev/null", O_RDONLY | O_CLOEXEC);
}

// What is freed stays with the program for its next allocation. Pictures, tallies and leaves are large, and
// to get each anew from the system and cleared takes longer than to fill many of them.
void keep_freed_memory() {
#ifdef __GLIBC__
  constexpr int kLargestKept = 32 << 20;  // bytes; the most that the C library takes
  ::mallopt(M_MMAP_THRESHOLD, kLargestKept);
  ::mallopt(M_TRIM_THRESHOLD, 8 * kLargestKept);
#endif
}

}  // namespace
}  // namespace boughlight::cli

int main(int argc, char** argv) {
  boughlight::cli::keep_freed_memory();
  boughlight::cli::occupy_standard_streams();
  boughlight::cli::end_on_interrupt();
  // A file that may not grow any further is told as any other failed write.
  ::signal(SIGXFSZ, SIG_IGN);
  return boughlight::cli::main_guarded(argc, argv);
}
