// What the program tells of itself for editors and readers: schemas and reference pages.
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "program.h"
#include "report/format_words.h"

namespace boughlight {
namespace {

// As the help lists them.
std::vector<std::string> listed_commands() {
  const std::string help = told({"--help"});
  std::istringstream lines(help.substr(help.find("\nCommands:\n") + 11));
  std::vector<std::string> names;
  for (std::string line; std::getline(lines, line) && line.rfind("  ", 0) == 0;)
    if (line[2] != ' ') names.push_back(line.substr(2, line.find(' ', 2) - 2));
  EXPECT_GE(names.size(), 14u);
  return names;
}

TEST(Reference, HasEveryFieldOfEveryFile) {
  const std::pair<const char*, const Mapping*> pages[] = {
      {"scene", &format::scene}, {"fixture", &format::fixture}, {"material", &format::library_material}};
  for (const auto& [name, top] : pages) {
    const std::string page = told({"reference", name}), manual = told({"reference", name, "--man"});
    const std::string schema = told({"schema", name});
    EXPECT_TRUE(contains(schema, "\"$schema\": \"http://json-schema.org/draft-07/schema#\""));
    for (const Mapping* mapping : mappings_below(*top))
      for (const Key* key : mapping->keys_of(nullptr)) {
        EXPECT_TRUE(contains(schema, "\"" + std::string(key->name) + "\": {")) << name << " " << key->name;
        // Quantities stand on a page of their own.
        if (mapping->name.starts_with("wants") || mapping->name == "needs" || mapping->name == "never" ||
            mapping->name == "instant-wants")
          continue;
        EXPECT_TRUE(contains(page, "`" + std::string(key->name) + "`")) << name << " " << key->name;
        EXPECT_TRUE(contains(manual, "\n.B " + std::string(key->name) + "\n")) << name << " " << key->name;
      }
  }
}

TEST(Reference, HasEveryQuantityAndCommand) {
  const std::string quantities = told({"reference", "quantities"}),
                    commands = told({"reference", "commands"});
  for (const QuantityInfo& row : all_quantities()) {
    EXPECT_TRUE(contains(quantities, "`" + std::string(row.name) + "`"));
    EXPECT_TRUE(contains(quantities, std::string(row.meaning)));
  }
  for (const std::string& command : listed_commands()) {
    const std::size_t at = commands.find("\n## " + command + "\n");
    ASSERT_NE(at, std::string::npos) << command;
    const std::string section = commands.substr(at, commands.find("\n## ", at + 1) - at);
    EXPECT_TRUE(contains(section, "Examples:\n  ")) << command;
    EXPECT_TRUE(contains(section, "boughlight " + command)) << command;
    EXPECT_TRUE(contains(told({command, "--help"}), "Examples:\n  ")) << command;
  }
  EXPECT_TRUE(contains(commands, "`--tolerance P`"));
}

// For reading without the program; 'boughlight reference PAGE > cli/reference/PAGE.md' writes one anew.
TEST(Reference, ThePagesThatAreKeptAreWhatIsPrinted) {
  for (const char* name : {"scene", "fixture", "material", "quantities", "commands"})
    EXPECT_EQ(read_file(std::string(BOUGHLIGHT_SOURCE_DIR) + "/cli/reference/" + name + ".md"),
              told({"reference", name}))
        << "cli/reference/" << name << ".md is out of date: boughlight reference " << name
        << " > cli/reference/" << name << ".md";
}

TEST(Reference, LinksOnItsPagesLeadSomewhere) {
  for (const char* name : {"scene", "fixture", "material", "quantities", "commands"}) {
    const std::string page = told({"reference", name});
    EXPECT_FALSE(contains(page, "<<")) << name;
    for (std::size_t at = 0; (at = page.find("](#", at)) != std::string::npos; ++at) {
      std::string heading = page.substr(at + 3, page.find(')', at) - at - 3);
      EXPECT_TRUE(contains(page, "\n## " + heading + "\n")) << name << ": " << heading;
    }
  }
}

// Lines over 80 columns; other than ASCII a character may be of several bytes.
std::string wide_lines(const std::string& text) {
  std::istringstream lines(text);
  std::string wide;
  for (std::string line; std::getline(lines, line);)
    if (std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) > 80)
      wide += line + "\n";
  return wide;
}

TEST(Reference, ManReadsTheManualPagesWithoutAWarningIn80Columns) {
  const TemporaryFolder folder;
  for (const char* name : {"scene", "fixture", "material", "quantities", "commands"}) {
    write_file(folder / name, told({"reference", name, "--man"}));
    RunOptions plain;
    plain.variables = {{"LC_ALL", "C.UTF-8"}, {"MANWIDTH", "80"}};
    const Outcome shown = run_file("/usr/bin/man", {"--warnings=w", "-l", folder / name}, plain);
    EXPECT_EQ(shown.code, 0) << name;
    EXPECT_EQ(shown.err, "") << name;
    EXPECT_TRUE(contains(shown.out, "NAME")) << name << shown.out.substr(0, 500);
    EXPECT_EQ(wide_lines(shown.out), "") << name;
  }
}

TEST(Reference, AWrongNameIsTold) {
  for (const char* command : {"schema", "reference", "completion"}) {
    const Outcome outcome = boughlight_run({command, "nothing"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_TRUE(contains(outcome.err, "nothing")) << outcome.err;
  }
}

}  // namespace
}  // namespace boughlight
