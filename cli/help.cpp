// boughlight help [COMMAND]

#include <CLI/CLI.hpp>
#include <memory>
#include <string>
#include <vector>

#include "line.h"
#include "terminal.h"

namespace boughlight::cli {

Run declare_help(CLI::App& app) {
  auto name = std::make_shared<std::string>();
  std::vector<std::string> names;
  for (const Command& command : commands()) names.emplace_back(command.name);
  app.add_option("COMMAND", *name, "Which; left out: how to begin")->check(one_of_words(names));
  app.footer(
      "Examples:\n"
      "  boughlight help             as boughlight --help\n"
      "  boughlight help survey      as boughlight survey --help");
  return [name](const CommonOptions&) {
    const WholeLine line;
    put(name->empty() ? line.app.help() : line.app.get_subcommand(*name)->help("boughlight"));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
