// boughlight reference PAGE [--man]

#include "report/reference.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <memory>
#include <string>
#include <vector>

#include "line.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

struct ReferenceArguments {
  std::string page;
  bool manual = false;
};

// "  boughlight library   what there is", as in the help.
std::string without_empty_lines_at_end(std::string text) {
  while (!text.empty() && text.back() == '\n') text.pop_back();
  return text;
}

std::string term_of(const CLI::Option& option) {
  std::string term = option.get_name(option.get_positional(), true);
  if (option.get_positional()) return option.get_name(true);
  const std::string type = option.get_type_name();
  if (takes_value(option) && !type.empty()) term += " " + type.substr(0, type.find(':'));
  return term;
}

constexpr std::array<std::string_view, 3> kShared = {kTracingGroup, kKeepingGroup, kCommonGroup};

// Of the group; "": of the command alone.
void add_options(const CLI::App& app, const std::string& group, PageSection& section) {
  for (const CLI::Option* option : app.get_options()) {
    if (option->get_group() == kIdleGroup) continue;
    const std::string of = option->get_name() == "--help" ? kCommonGroup : option->get_group();
    const bool is_shared = std::find(kShared.begin(), kShared.end(), of) != kShared.end();
    if ((is_shared ? of : "") != group) continue;
    PageEntry entry{term_of(*option), option->get_description()};
    for (const std::string& word : words_of(*option))
      entry.takes += (entry.takes.empty() ? "`" : ", `") + word + "`";
    section.entries.push_back(std::move(entry));
  }
}

Page commands_page() {
  const WholeLine line;
  Page page{.name = "boughlight",
            .part = 1,
            .purpose = "light and ultraviolet in an enclosure, before a lamp is hung"};
  page.text = line.app.get_description();
  for (char& c : page.text)
    if (c == '\n') c = ' ';
  for (const Declared& command : line.declared) {
    PageSection section{command.app->get_name(),
                        fmt::format("{}: `{}`.", command.app->get_description(), call_of(*command.app))};
    add_options(*command.app, "", section);
    section.verbatim = without_empty_lines_at_end(command.app->get_footer());
    page.sections.push_back(std::move(section));
  }
  for (const std::string_view shared : kShared) {
    const std::string group(shared);
    PageSection section{"o" + group.substr(1)};
    add_options(line.app, group, section);
    page.sections.push_back(std::move(section));
  }
  page.sections.push_back(
      {.heading = "exit codes",
       .entries = {{"0", "done; of a survey: every want, need, zone want and `never` is met"},
                   {"1", "any is unmet or unsure"},
                   {"2", "the scene or the call is wrong"},
                   {"3", "the result could not be made or written"}}});
  page.sections.push_back({.heading = "see also",
                           .text = "boughlight-scene(5), boughlight-fixture(5), boughlight-material(5), "
                                   "boughlight-quantities(7)"});
  return page;
}

Page page_named(const std::string& name) {
  if (name == "commands") return commands_page();
  if (name == "quantities") return quantities_page();
  if (name == "scene") return format_page(SchemaOf::scene);
  return format_page(name == "fixture" ? SchemaOf::fixture : SchemaOf::material);
}

}  // namespace

Run declare_reference(CLI::App& app) {
  auto arguments = std::make_shared<ReferenceArguments>();
  app.add_option("PAGE", arguments->page, "Which: scene, fixture, material, quantities or commands")
      ->required()
      ->check(one_of_words({"scene", "fixture", "material", "quantities", "commands"}));
  app.add_flag("--man", arguments->manual, "As a manual page (roff) instead of Markdown");
  app.footer(
      "Examples:\n"
      "  boughlight reference scene                      as Markdown\n"
      "  boughlight reference scene --man > scene.5      then: man ./scene.5\n"
      "\n"
      "The pages are made from the tables that the program itself goes by.");
  return [arguments](const CommonOptions&) {
    const Page page = page_named(arguments->page);
    put(arguments->manual ? page_as_manual(page) : page_as_markdown(page));
    return kAllMet;
  };
}

}  // namespace boughlight::cli
