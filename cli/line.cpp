#include "line.h"

#include <memory>
#include <sstream>

#include "versions.h"

namespace boughlight::cli {
namespace {

constexpr const char* kAbout =
    "Boughlight works out the light and ultraviolet inside a tall, screen-topped\n"
    "enclosure before a lamp is hung, and says whether the perch, the shade, the\n"
    "plants and every place that the animal can reach are right.";

constexpr const char* kFirstSteps =
    "Start here:\n"
    "  boughlight new my-cage.yaml --ask  plain questions, then the first survey\n"
    "  boughlight check my-cage.yaml      what you changed, read: every mistake told\n"
    "  boughlight survey my-cage.yaml     work out the light; results go to my-cage/\n"
    "  boughlight help survey             more on one command\n";

constexpr const char* kExamples =
    "Then:\n"
    "  boughlight new my-cage.yaml       a scene with remarks instead of questions\n"
    "  boughlight watch my-cage.yaml     survey it again whenever you save it\n"
    "  boughlight library                what lamps and materials there are\n"
    "  boughlight fixture tube-uv-55     what one lamp gives, by distance\n"
    "  boughlight place my-cage.yaml 'uv lamp'    where that lamp may hang\n"
    "  boughlight window my-cage.yaml 'uv lamp'   how strong, how high, how deep\n"
    "  boughlight tune my-cage.yaml      change lamps until every want is met\n"
    "  boughlight compare my-cage.yaml my-cage-tuned.yaml    better or worse?\n"
    "  boughlight outlook my-cage.yaml   the months ahead: what fails when\n"
    "  boughlight fit my-cage.yaml my-cage/meter-sheet.csv   learn from your meter\n"
    "  boughlight index surveys          many scenes' results side by side\n"
    "\n"
    "For your editor and your shell:\n"
    "  boughlight schema scene           completion and checks while you type\n"
    "  boughlight reference scene        every field of a scene, as a page\n"
    "  boughlight completion bash        completion of this command line\n"
    "\n"
    "Exit codes: 0 every want is met; 1 any is unmet or unsure; 2 the scene or the\n"
    "call is wrong; 3 the result could not be made or written.\n"
    "\n"
    "Figures are estimates. Check with a meter before an animal goes in.";

// The library's own layout, but how to begin comes before all else, with a blank line between two parts; and
// positionals stand without type and 'REQUIRED', which the usage has told.
class NarrowFormatter : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override {
    std::string help = make_description(app) + "\n" + make_usage(app, std::move(name));
    if (app->get_parent() == nullptr) help += std::string("\n") + kFirstSteps + make_subcommands(app, mode);
    help += make_positionals(app) + make_groups(app, mode) + "\n" + make_footer(app);
    for (std::size_t at = 0; (at = help.find("\n\n\n", at)) != std::string::npos;) help.erase(at, 1);
    return help;
  }

  std::string make_group(std::string group, bool is_positional,
                         std::vector<const CLI::Option*> options) const override {
    return group == kIdleGroup ? "" : CLI::Formatter::make_group(group, is_positional, options);
  }

  // Breaks a long list of words that an argument may be, which the library leaves in one line.
  std::string make_option_opts(const CLI::Option* option) const override {
    constexpr std::size_t kColumns = 78;
    const std::vector<std::string> choice = words_of(*option);
    if (option->get_positional() && choice.empty()) return "";
    std::size_t column = 2 + option->get_name(option->get_positional()).size();
    std::string broken, list = CLI::Formatter::make_option_opts(option);
    if (option->get_positional()) list = " " + CLI::detail::join(choice, ",");
    std::istringstream words(list);
    for (std::string word; std::getline(words, word, ',');) {
      if (!words.eof()) word += ',';
      if (column + word.size() > kColumns) {
        broken += "\n      ";
        column = 6;
      }
      broken += word;
      column += word.size();
    }
    return broken;
  }
};

}  // namespace

std::vector<Declared> declare_line(CLI::App& app, TypedOptions& typed) {
  app.description(kAbout);
  app.footer(kExamples);
  app.formatter(std::make_shared<NarrowFormatter>());
  app.get_formatter()->column_width(22);
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  app.set_help_flag("-h,--help", "Print this and stop");
  app.set_version_flag("--version", kVersions, "Print the version, and of what it was built with");
  app.require_subcommand(1);
  add_common_options(app, typed, LightUse::kept);

  std::vector<Declared> declared;
  for (const Command& command : commands()) {
    CLI::App* sub = app.add_subcommand(command.name, command.purpose);
    sub->group("Commands");
    Run run = command.declare(*sub);
    // As a shell leaves it of a variable that is not set: never meant.
    for (CLI::Option* option : sub->get_options())
      if (takes_value(*option))
        option->check(
            [](const std::string& value) { return value.empty() ? "is empty; a value is needed" : ""; });
    add_common_options(*sub, typed, command.light);
    declared.push_back({sub, std::move(run)});
  }
  return declared;
}

bool takes_value(const CLI::Option& option) {
  return option.get_expected_max() > 0;
}

std::vector<std::string> words_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t from = type.find('{'), to = type.find('}');
  if (from == std::string::npos || to == std::string::npos) return {};
  std::vector<std::string> words;
  std::istringstream stream(type.substr(from + 1, to - from - 1));
  for (std::string word; std::getline(stream, word, ',');) words.push_back(word);
  return words;
}

std::string call_of(const CLI::App& command) {
  std::string call = "boughlight " + command.get_name();
  for (const CLI::Option* option : command.get_options()) {
    if (!option->get_positional()) continue;
    const std::string name = option->get_name(true) + (option->get_expected_max() > 1 ? "..." : "");
    call += option->get_required() ? " " + name : " [" + name + "]";
  }
  return call + " [OPTIONS]";
}

std::string short_help() {
  return std::string(kAbout) + "\n\n" + kFirstSteps +
         "\nThere is more: 'boughlight --help' lists every command.\n";
}

}  // namespace boughlight::cli
