// What bash, fish and zsh offer, for every option and every argument that the help of a command lists.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "program.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// A row of a command's help: an argument, or an option with the type of what it takes.
struct Row {
  std::string name, type;
  bool positional() const { return name.front() != '-'; }
};

struct Told {
  std::string command;
  std::vector<Row> arguments, options;
};

// "  -o,--output DIR     Folder ..." is { "--output", "DIR" }.
std::vector<Told> told_commands() {
  std::vector<Told> all;
  const std::string help = told({"--help"});
  std::istringstream commands(help.substr(help.find("\nCommands:\n") + 11));
  for (std::string line; std::getline(commands, line) && line.starts_with("  ");) {
    if (line[2] == ' ') continue;
    Told one{line.substr(2, line.find(' ', 2) - 2), {}, {}};
    std::istringstream rows(told({one.command, "--help"}));
    bool listed = false;
    for (std::string row; std::getline(rows, row) && row != "Examples:";) {
      if (row.ends_with(':') && !row.starts_with(' ')) listed = true;
      if (!listed || !row.starts_with("  ") || row[2] == ' ') continue;
      const std::size_t end = std::min(row.find("  ", 2), row.size()),
                        blank = std::min(row.find(' ', 2), end);
      std::string name = row.substr(2, blank - 2);
      if (name.find(",--") != std::string::npos) name = name.substr(name.find(",--") + 1);
      const std::string type = blank < end ? row.substr(blank + 1, end - blank - 1) : "";
      const Row told_row{name, type.substr(0, type.find(' '))};
      (told_row.positional() ? one.arguments : one.options).push_back(told_row);
    }
    EXPECT_GE(one.options.size(), 3u) << one.command;
    all.push_back(std::move(one));
  }
  EXPECT_GE(all.size(), 17u);
  return all;
}

// A line that somebody has typed up to a blank, and what should be offered then.
struct Case {
  std::string line;
  std::vector<std::string> offered, not_offered;
};

// A folder with a scene and a folder in it.
struct Desk {
  TemporaryFolder folder;
  RunOptions there;

  Desk() {
    EXPECT_EQ(boughlight_run({"new", folder / "my-cage.yaml"}).code, 0);
    fs::create_directory(folder.path() / "results");
    there.folder = folder.path();
    there.variables = {{"HOME", folder.path().string()},
                       {"PATH", fs::path(BOUGHLIGHT_PROGRAM).parent_path().string() + ":" + getenv("PATH")}};
  }
};

Case case_of(const std::string& line, const std::string& what, const std::string& command) {
  const std::vector<std::string> file = {"my-cage.yaml"};
  if (what == "DIR" || what == "FOLDER") return {line, {"results"}, file};
  if (what == "LAMP" && command == "fixture") return {line, {"tube-uv-55", "my-cage.yaml"}, {}};
  if (what == "LAMP") return {line, {"uv tube"}, {}};
  if (what == "PERCH") return {line, {"sun perch"}, file};
  if (what.starts_with("WHAT:")) return {line, {"dim", "fixture"}, file};
  if (what == "COMMAND") return {line, {"survey", "help"}, file};
  if (what == "WHAT" || what == "PAGE") return {line, {"scene", "fixture"}, file};
  if (what == "SHELL") return {line, {"bash", "fish"}, file};
  if (what == "N" || what == "P" || what == "L" || what == "K/N")
    return {line, {}, {"my-cage.yaml", "results"}};
  return {line, file, {}};  // SCENE, FIRST, SECOND, READINGS, FILE
}

std::vector<Case> every_case() {
  std::vector<Case> cases;
  for (const Told& told : told_commands()) {
    std::string line = "boughlight " + told.command + " ";
    for (const Row& option : told.options)
      if (!option.type.empty())
        cases.push_back(case_of(line + "my-cage.yaml " + option.name + " ", option.type, told.command));
    for (const Row& argument : told.arguments) {
      cases.push_back(case_of(line, argument.name, told.command));
      // A flag takes nothing, so that what follows is offered as without it.
      for (const Row& option : told.options)
        if (option.type.empty() && option.name != "--help")
          cases.push_back(case_of(line + option.name + " ", argument.name, told.command));
      line += "my-cage.yaml ";
    }
  }
  EXPECT_GE(cases.size(), 100u);
  return cases;
}

// `run` completes each line in a shell of its own kind, and says "==" after each.
void expect_offers(const std::vector<Case>& cases, const Outcome& outcome) {
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  std::istringstream lines(outcome.out);
  for (const Case& one : cases) {
    std::vector<std::string> offers;
    std::string all;
    for (std::string line; std::getline(lines, line) && line != "==";) {
      std::string word = line.substr(0, line.find('\t'));
      if (word.ends_with('/')) word.pop_back();
      offers.push_back(word);
      all += word + " | ";
    }
    const auto has = [&](const std::string& word) {
      return std::find(offers.begin(), offers.end(), word) != offers.end();
    };
    for (const std::string& word : one.offered)
      EXPECT_TRUE(has(word)) << one.line << ": " << word << " of " << all;
    for (const std::string& word : one.not_offered) EXPECT_FALSE(has(word)) << one.line << ": " << word;
  }
}

// Of bash: the last word may be begun.
std::string bash_case(const std::string& line) {
  const bool fresh = line.ends_with(' ');
  return "COMP_WORDS=(" + line + (fresh ? "''" : "") +
         "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); COMPREPLY=(); _boughlight; "
         "((${#COMPREPLY[@]} == 0)) || printf '%s\\n' \"${COMPREPLY[@]}\"; echo ==\n";
}

Outcome in_bash(const Desk& desk, const std::vector<Case>& cases) {
  std::string script = told({"completion", "bash"});
  for (const Case& one : cases) script += bash_case(one.line);
  write_file(desk.folder / "script", script);
  return run_file("/bin/bash", {desk.folder / "script"}, desk.there);
}

TEST(Completion, InBashEveryOptionAndArgumentIsOffered) {
  const Desk desk;
  const std::vector<Case> cases = every_case();
  expect_offers(cases, in_bash(desk, cases));
}

TEST(Completion, InBashWordsThatAreBegunAreCompleted) {
  const Desk desk;
  const std::vector<Case> cases = {
      {"boughlight su", {"survey"}, {"place"}},
      {"boughlight --quiet su", {"survey"}, {}},
      {"boughlight --tolerance 5% su", {"survey"}, {}},
      {"boughlight --tolerance = 5% su", {"survey"}, {}},
      {"boughlight survey --tol", {"--tolerance"}, {"--quiet"}},
      {"boughlight library --", {"--json"}, {"--tolerance"}},
      {"boughlight fixture tube-uv-55-m", {"tube-uv-55-mild"}, {}},
      {"boughlight schema f", {"fixture", "fit"}, {"scene"}},
      {"boughlight survey my-", {"my-cage.yaml"}, {}},
      {"boughlight index results --scenes a.yaml my-", {"my-cage.yaml"}, {}},
      {"boughlight tune my-cage.yaml --only dim,g", {"dim,gap"}, {"gap"}},
      {"boughlight tune my-cage.yaml --keep basking", {"basking flood"}, {"uv tube"}},
  };
  expect_offers(cases, in_bash(desk, cases));
}

TEST(Completion, InFishEveryOptionAndArgumentIsOffered) {
  const Desk desk;
  std::vector<Case> cases = every_case();
  cases.push_back({"boughlight su", {"survey"}, {"place"}});
  cases.push_back({"boughlight --quiet su", {"survey"}, {}});
  cases.push_back({"boughlight survey --tol", {"--tolerance"}, {}});
  cases.push_back({"boughlight fixture tube-uv-5", {"tube-uv-55"}, {}});
  std::string script = told({"completion", "fish"});
  for (const Case& one : cases) script += "complete -C '" + one.line + "'; echo ==\n";
  write_file(desk.folder / "script", script);
  expect_offers(cases, run_file("/usr/bin/fish", {desk.folder / "script"}, desk.there));
}

// _arguments says what it is given; the completion system itself would need a terminal.
std::string zsh_arguments(const Desk& desk, const std::string& command) {
  const std::string run = "_arguments() { state=argument; words=(" + command +
                          " x); CURRENT=2; print -rl -- \"$@\" }; _describe() { }; compdef() { }; source " +
                          desk.folder / "_boughlight" + "; _boughlight";
  const Outcome offered = run_file("/usr/bin/zsh", {"-f", "-c", run}, desk.there);
  EXPECT_EQ(offered.err, "") << command;
  return "\n" + offered.out;
}

TEST(Completion, InZshEveryOptionAndArgumentIsDeclared) {
  const Desk desk;
  const std::string file = desk.folder / "_boughlight";
  write_file(file, told({"completion", "zsh"}));
  const Outcome read = run_file("/usr/bin/zsh", {"-n", file});
  EXPECT_EQ(read.code, 0) << read.err;
  for (const Told& told : told_commands()) {
    const std::string declared = zsh_arguments(desk, told.command);
    for (const Row& option : told.options) {
      const std::size_t at = declared.rfind("\n" + option.name + "[");
      ASSERT_NE(at, std::string::npos) << told.command << " " << option.name << declared;
      const std::string line = declared.substr(at + 1, declared.find('\n', at + 1) - at - 1);
      EXPECT_EQ(line.ends_with(']'), option.type.empty()) << told.command << ": " << line;
      const std::string action = option.type == "DIR"    ? ":_files -/"
                                 : option.type == "LAMP" ? ": _boughlight_in_scene lamps"
                                 : option.type == "FILE" || option.type == "SCENE" ? ":_files"
                                                                                   : "";
      EXPECT_TRUE(line.ends_with(action)) << told.command << ": " << line;
    }
    for (std::size_t i = 0; i < told.arguments.size(); ++i) {
      const std::string number = "\n" + std::to_string(i + 1) + ":argument:";
      std::size_t at = declared.find(number);
      if (at == std::string::npos) at = declared.find("\n*:argument:");
      ASSERT_NE(at, std::string::npos) << told.command << " " << told.arguments[i].name << declared;
      const std::string line = declared.substr(at + 1, declared.find('\n', at + 1) - at - 1);
      EXPECT_FALSE(line.ends_with(": ")) << told.command << ": " << line;
    }
  }
}

TEST(Completion, InZshTheLampsOfTheSceneOnTheLineAreOffered) {
  const Desk desk;
  write_file(desk.folder / "_boughlight", told({"completion", "zsh"}));
  const std::string run = "compdef() { }; compadd() { print -rl -- ${(P)2} }; source " +
                          desk.folder / "_boughlight" +
                          "; words=(place --quiet my-cage.yaml x); _boughlight_in_scene lamps";
  const Outcome offered = run_file("/usr/bin/zsh", {"-f", "-c", run}, desk.there);
  EXPECT_TRUE(contains("\n" + offered.out, "\nuv tube\nbasking flood\n")) << offered.out << offered.err;
}

// As somebody at a terminal sees it: each line is typed, with a tab after it, and what comes is waited for.
TEST(Completion, InZshAtATerminalLinesAreCompleted) {
  const Desk desk;
  write_file(desk.folder / "_boughlight", told({"completion", "zsh"}));
  std::string script =
      "zmodload zsh/zpty; export TERM=dumb; zpty z zsh -f -i\n"
      "zpty -w z 'PS1=; unsetopt beep; fpath=($HOME $fpath); autoload -U compinit; compinit -u -D; echo "
      "set-\"\"up'\n"
      "zpty -r -m z seen '*set-up*'\n";
  const std::vector<std::pair<std::string, std::string>> lines = {
      {"boughlight surv", "ey"},
      {"boughlight --tolerance 5% surv", "ey"},
      {"boughlight check --quiet my", "-cage.yaml"},
      {"boughlight --quiet compare a.yaml --json my", "-cage.yaml"},
      {"boughlight place --quiet my-cage.yaml uv", "tube"},
      {"boughlight tune my-cage.yaml --keep basking", "flood"},
      {"boughlight tune my-cage.yaml --only dim,ga", "p"},
      {"boughlight fixture tube-uv-55-mi", "ld"},
      {"boughlight index --quiet re", "sults/"},
  };
  for (const auto& [line, rest] : lines)
    script += "zpty -w -n z '" + line + "'$'\\t'; zpty -r -m z seen '*" + rest + "*' && echo '" + line +
              "'; zpty -w -n z $'\\C-u'\n";
  write_file(desk.folder / "script", script);
  const Outcome outcome =
      run_file("/usr/bin/timeout", {"30", "zsh", "-f", desk.folder / "script"}, desk.there);
  for (const auto& [line, rest] : lines)
    EXPECT_TRUE(contains(outcome.out, line + "\n")) << line << ": " << outcome.out << outcome.err;
}

}  // namespace
}  // namespace boughlight
