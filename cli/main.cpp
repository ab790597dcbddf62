// boughlight: reads the command line, runs one command, and turns whatever happens into an exit code.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <exception>
#include <string>
#include <vector>

#include "commands.h"
#include "options.h"
#include "report/write.h"
#include "terminal.h"
#include "units/problem.h"
#include "versions.h"

namespace boughlight::cli {
namespace {

constexpr const char* kAbout =
    "Boughlight works out the light and ultraviolet inside a tall, screen-topped\n"
    "enclosure before a lamp is hung, and says whether the perch, the shade, the\n"
    "plants and every place that the animal can reach are right.";

constexpr const char* kExamples =
    "Start here:\n"
    "  boughlight new my-cage.yaml       write a scene to start from; then edit it\n"
    "  boughlight check my-cage.yaml     have it read and every mistake told\n"
    "  boughlight survey my-cage.yaml    work out the light; results go to my-cage/\n"
    "  boughlight library                what lamps and materials there are\n"
    "  boughlight fixture tube-uv-55     what one lamp gives, by distance\n"
    "  boughlight tune my-cage.yaml      change lamps until every want is met\n"
    "  boughlight fit my-cage.yaml my-cage/meter-sheet.csv   learn from your meter\n"
    "  boughlight survey --help          more on one command\n"
    "\n"
    "Exit codes: 0 every want is met; 1 any is unmet or unsure; 2 the scene or the\n"
    "call is wrong; 3 the result could not be made or written.\n"
    "\n"
    "Figures are estimates. Check with a meter before an animal goes in.";

struct Declared {
  CLI::App* app;
  Run run;
};

void complain(const std::string& text) {
  fmt::print(stderr, "boughlight: {}\n", text);
}

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
  } catch (const InputError& error) {
    fmt::print(stderr, "{}\n", error.what());
    const std::size_t count = error.problems().size();
    complain(
        fmt::format("{} {} in the input; nothing was computed", count, count == 1 ? "mistake" : "mistakes"));
    return kBadInput;
  } catch (const CallError& error) {
    complain(error.what());
    return kBadInput;
  } catch (const OutputError& error) {
    complain(error.what());
    return kNoOutput;
  } catch (const std::bad_alloc&) {
    complain("there is not enough memory for this; a larger --spacing needs less");
    return kNoOutput;
  } catch (const std::exception& error) {
    complain(fmt::format("the work had to stop and there is no result: {}", error.what()));
    return kNoOutput;
  }
}

int main_guarded(int argc, char** argv) {
  CLI::App app(kAbout, "boughlight");
  app.footer(kExamples);
  app.get_formatter()->column_width(22);
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  app.set_help_flag("-h,--help", "Print this and stop");
  app.set_version_flag("--version", kVersions, "Print the version, and of what it was built with");
  app.require_subcommand(1);
  TypedOptions typed;
  add_common_options(app, typed);

  std::vector<Declared> declared;
  for (const Command& command : commands()) {
    CLI::App* sub = app.add_subcommand(command.name, command.purpose);
    sub->group("Commands");
    Run run = command.declare(*sub);
    add_common_options(*sub, typed);
    declared.push_back({sub, std::move(run)});
  }

  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& asked) {
    // --help and --version: what was asked for goes to standard output.
    const bool help = dynamic_cast<const CLI::CallForHelp*>(&asked) != nullptr;
    try {
      put(help ? app.help() : std::string(asked.what()) + "\n");
      flush_output();
    } catch (const OutputError& error) {
      complain(error.what());
      return kNoOutput;
    }
    return kAllMet;
  } catch (const CLI::ParseError& error) {
    complain(parse_complaint(app, error));
    fmt::print(stderr, "Run 'boughlight --help' or 'boughlight COMMAND --help' for examples.\n");
    return kBadInput;
  }
  return run_guarded(declared, typed);
}

}  // namespace
}  // namespace boughlight::cli

int main(int argc, char** argv) {
  return boughlight::cli::main_guarded(argc, argv);
}
