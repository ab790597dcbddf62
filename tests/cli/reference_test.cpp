// What the program tells of itself for editors, readers and shells: schemas, reference pages, completions.
#include <gtest/gtest.h>

#include <sstream>

#include "program.h"
#include "report/format_words.h"

namespace boughlight {
namespace {

std::string told(const std::vector<std::string>& arguments) {
  const Outcome outcome = boughlight_run(arguments);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  return outcome.out;
}

// As the help lists them.
std::vector<std::string> every_command() {
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
  for (const std::string& command : every_command()) {
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

TEST(Reference, ManReadsTheManualPagesWithoutAWarning) {
  const TemporaryFolder folder;
  for (const char* name : {"scene", "fixture", "material", "quantities", "commands"}) {
    write_file(folder / name, told({"reference", name, "--man"}));
    RunOptions plain;
    plain.variables = {{"LC_ALL", "C.UTF-8"}, {"MANWIDTH", "80"}};
    const Outcome shown = run_file("/usr/bin/man", {"--warnings=w", "-l", folder / name}, plain);
    EXPECT_EQ(shown.code, 0) << name;
    EXPECT_EQ(shown.err, "") << name;
    EXPECT_TRUE(contains(shown.out, "NAME")) << name << shown.out.substr(0, 500);
  }
}

TEST(Reference, AWrongNameIsTold) {
  for (const char* command : {"schema", "reference", "completion"}) {
    const Outcome outcome = boughlight_run({command, "nothing"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_TRUE(contains(outcome.err, "nothing")) << outcome.err;
  }
}

// What bash offers for the last word.
std::string bash_offers(const std::string& script, const std::string& words, int last) {
  const Outcome outcome = run_file(
      "/bin/bash", {"-c", "source '" + script + "'; COMP_WORDS=(" + words + "); COMP_CWORD=" +
                              std::to_string(last) + "; _boughlight; printf '%s\\n' \"${COMPREPLY[@]}\""});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  return outcome.out;
}

TEST(Completion, WorksInBash) {
  const TemporaryFolder folder;
  const std::string script = folder / "complete.bash";
  write_file(script, told({"completion", "bash"}));
  EXPECT_EQ(bash_offers(script, "boughlight su", 1), "survey\n");
  EXPECT_EQ(bash_offers(script, "boughlight survey --tol", 2), "--tolerance\n");
  EXPECT_EQ(bash_offers(script, "boughlight fixture tube-uv-55-m", 2), "tube-uv-55-mild\n");
  EXPECT_EQ(bash_offers(script, "boughlight schema f", 2), "fixture\nfit\n");
  EXPECT_EQ(bash_offers(script, "boughlight completion ''", 2), "bash\nzsh\nfish\n");
  write_file(folder / "my-cage.yaml", "");
  EXPECT_TRUE(contains(bash_offers(script, "boughlight survey " + folder / "my-", 2), "my-cage.yaml"));
}

TEST(Completion, WorksInFish) {
  const TemporaryFolder folder;
  const std::string script = folder / "complete.fish";
  write_file(script, told({"completion", "fish"}));
  RunOptions home;
  home.variables = {{"HOME", folder.path().string()}};
  const auto offers = [&](const std::string& line) {
    const Outcome outcome =
        run_file("/usr/bin/fish", {"-c", "source " + script + "; complete -C '" + line + "'"}, home);
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.out;
  };
  EXPECT_TRUE(contains(offers("boughlight su"), "survey\tWork out the light"));
  EXPECT_TRUE(contains(offers("boughlight survey --tol"), "--tolerance"));
  EXPECT_TRUE(contains(offers("boughlight fixture tube-uv-5"), "tube-uv-55"));
}

TEST(Completion, IsReadByZsh) {
  const TemporaryFolder folder;
  const std::string script = folder / "_boughlight";
  write_file(script, told({"completion", "zsh"}));
  const Outcome read = run_file("/usr/bin/zsh", {"-n", script});
  EXPECT_EQ(read.code, 0) << read.err;
  // _arguments says what it is given; the completion system itself would need a terminal.
  const std::string run =
      "_arguments() { state=argument; words=(survey x); CURRENT=2; print -rl -- \"$@\" }; _describe() { }; "
      "compdef() { }; "
      "source '" +
      script + "'; _boughlight";
  const Outcome offered = run_file("/usr/bin/zsh", {"-f", "-c", run});
  EXPECT_EQ(offered.code, 0) << offered.err;
  EXPECT_TRUE(contains(offered.out, "--tolerance[")) << offered.out << offered.err;
}

}  // namespace
}  // namespace boughlight
