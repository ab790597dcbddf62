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

constexpr const char* kExamples =
    "Start here:\n"
    "  boughlight new my-cage.yaml       write a scene to start from; then edit it\n"
    "  boughlight check my-cage.yaml     have it read and every mistake told\n"
    "  boughlight survey my-cage.yaml    work out the light; results go to my-cage/\n"
    "  boughlight watch my-cage.yaml     survey it again whenever you save it\n"
    "  boughlight place my-cage.yaml 'uv tube'    where that lamp may hang\n"
    "  boughlight window my-cage.yaml 'uv tube'   how strong, how high, how deep\n"
    "  boughlight library                what lamps and materials there are\n"
    "  boughlight fixture tube-uv-55     what one lamp gives, by distance\n"
    "  boughlight tune my-cage.yaml      change lamps until every want is met\n"
    "  boughlight fit my-cage.yaml my-cage/meter-sheet.csv   learn from your meter\n"
    "  boughlight index surveys          many scenes' results side by side\n"
    "  boughlight survey --help          more on one command\n"
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

// Breaks a long list of words that an argument may be, which the library leaves in one line.
class NarrowFormatter : public CLI::Formatter {
 public:
  std::string make_option_opts(const CLI::Option* option) const override {
    constexpr std::size_t kColumns = 78;
    std::size_t column = 2 + option->get_name(option->get_positional()).size();
    std::string broken;
    std::istringstream words(CLI::Formatter::make_option_opts(option));
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
  add_common_options(app, typed);

  std::vector<Declared> declared;
  for (const Command& command : commands()) {
    CLI::App* sub = app.add_subcommand(command.name, command.purpose);
    sub->group("Commands");
    Run run = command.declare(*sub);
    add_common_options(*sub, typed);
    declared.push_back({sub, std::move(run)});
  }
  return declared;
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

}  // namespace boughlight::cli
