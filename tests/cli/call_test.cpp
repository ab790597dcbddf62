// How the program is called: help, versions, wrong calls.
#include <gtest/gtest.h>

#include <algorithm>

#include "program.h"

namespace boughlight {
namespace {

const std::vector<std::string> kTracing = {"survey", "watch",   "fit",     "tune", "place",
                                           "window", "compare", "outlook", "new"};
const std::vector<std::string> kKeeping = {"survey", "watch", "compare", "new"};
const std::vector<std::string> kOthers = {"index",  "check",     "library",    "fixture",
                                          "schema", "reference", "completion", "help"};

std::vector<std::string> known_commands() {
  std::vector<std::string> all = kTracing;
  all.insert(all.end(), kOthers.begin(), kOthers.end());
  return all;
}

TEST(Call, HelpTeachesByExampleAndSucceeds) {
  for (const char* flag : {"--help", "-h"}) {
    const Outcome help = boughlight_run({flag});
    EXPECT_EQ(help.code, 0);
    EXPECT_EQ(help.err, "");
    for (const std::string& command : known_commands()) {
      EXPECT_TRUE(contains(help.out, "boughlight " + command)) << command << " has no example";
    }
    EXPECT_TRUE(contains(help.out, "Exit codes: 0"));
    EXPECT_TRUE(contains(help.out, "are right.\n\nUsage: boughlight [OPTIONS] COMMAND\n\nStart here:\n"));
    EXPECT_TRUE(contains(help.out, "boughlight new my-cage.yaml --ask"));
    EXPECT_LT(help.out.find("Start here:"), help.out.find("Commands:"));
    EXPECT_LT(help.out.find("Commands:"), help.out.find("Options:"));
    EXPECT_FALSE(contains(help.out, "\n\n\n"));
    EXPECT_LE(longest_line(help.out), 80u) << help.out;
  }
}

TEST(Call, EveryCommandHasHelpWithAnExampleAndTheOptionsThatDoSomething) {
  for (const std::string& command : known_commands()) {
    const Outcome help = boughlight_run({command, "--help"});
    EXPECT_EQ(help.code, 0) << command;
    EXPECT_EQ(help.err, "") << command;
    EXPECT_TRUE(contains(help.out, "  boughlight " + command)) << help.out;
    EXPECT_LE(longest_line(help.out), 80u) << help.out;
    EXPECT_FALSE(contains(help.out, "\n\n\n")) << help.out;
    for (const char* option : {"  --quiet ", "  --json "})
      EXPECT_TRUE(contains(help.out, option)) << command << " " << option;
    const bool traces = std::find(kTracing.begin(), kTracing.end(), command) != kTracing.end();
    for (const char* option : {"--seed N", "--threads N", "--tolerance P", "--spacing L"})
      EXPECT_EQ(contains(help.out, option), traces) << command << " " << option;
    const bool keeps = std::find(kKeeping.begin(), kKeeping.end(), command) != kKeeping.end();
    for (const char* option : {"--cache DIR", "--no-cache"})
      EXPECT_EQ(contains(help.out, option), keeps) << command << " " << option;
  }
}

TEST(Call, VersionNamesWhatItWasBuiltWith) {
  const Outcome version = boughlight_run({"--version"});
  EXPECT_EQ(version.code, 0);
  EXPECT_EQ(version.err, "");
  for (const char* library :
       {"Eigen 3.", "Embree ", "oneTBB ", "yaml-cpp 0.", "CLI11 ", "fmt ", "nlohmann-json ", "NLopt "}) {
    const std::size_t at = version.out.find(library);
    ASSERT_NE(at, std::string::npos) << library << " in\n" << version.out;
    EXPECT_TRUE(std::isdigit(static_cast<unsigned char>(version.out[version.out.find(' ', at + 2) + 1])) ||
                std::isdigit(static_cast<unsigned char>(version.out[at + std::string(library).size()])))
        << library << " has no number in\n"
        << version.out;
  }
}

void expect_wrong_call(const std::vector<std::string>& arguments, const std::string& told) {
  const Outcome outcome = boughlight_run(arguments);
  std::string line;
  for (const std::string& argument : arguments) line += argument + " ";
  EXPECT_EQ(outcome.code, 2) << line;
  EXPECT_EQ(outcome.out, "") << line;
  EXPECT_TRUE(contains(outcome.err, told)) << line << "\n" << outcome.err;
}

TEST(Call, WithoutACommandTheFirstStepsAreTold) {
  for (const std::vector<std::string>& call : {std::vector<std::string>{}, {"--json"}}) {
    expect_wrong_call(call, "Start here:\n  boughlight new my-cage.yaml --ask");
    expect_wrong_call(call, "'boughlight --help' lists every command");
    EXPECT_FALSE(contains(boughlight_run(call).err, "subcommand"));
  }
}

TEST(Call, HelpIsACommandToo) {
  EXPECT_EQ(boughlight_run({"help"}).out, boughlight_run({"--help"}).out);
  for (const std::string& command : known_commands()) {
    const Outcome help = boughlight_run({"help", command});
    EXPECT_EQ(help.code, 0);
    EXPECT_EQ(help.out, boughlight_run({command, "--help"}).out);
  }
  expect_wrong_call({"help", "surve"}, "there is no 'surve' (did you mean 'survey'?)");
}

TEST(Call, AnUnknownCommandIsAnsweredWithTheNearest) {
  expect_wrong_call({"surve", "x.yaml"}, "there is no command 'surve' (did you mean 'survey'?)");
  expect_wrong_call({"zzzzzz"},
                    "there is no command 'zzzzzz'; there are survey, watch, index, check, fit, tune, place, "
                    "window, compare, outlook, "
                    "library, fixture, new, schema, reference, completion or help");
}

TEST(Call, UnknownOptionsAndTooManyNamesAreWrong) {
  expect_wrong_call({"check", "a.yaml", "--colour"}, "there is no option '--colour'");
  expect_wrong_call({"survey", "a.yaml", "--ouput=b"},
                    "there is no option '--ouput' (did you mean '--output'?)");
  expect_wrong_call({"survey", "a.yaml", "--bogus"}, "Run 'boughlight survey --help' for examples.");
  expect_wrong_call({"--bogus", "check", "a.yaml"}, "there is no option '--bogus'");
  expect_wrong_call({"check", "a.yaml", "b.yaml"},
                    "'b.yaml' is one word too many; the call is: boughlight check SCENE [OPTIONS]");
  expect_wrong_call({"check"}, "SCENE is missing; the call is: boughlight check SCENE [OPTIONS]");
  expect_wrong_call({"compare", "a.yaml"},
                    "SECOND is missing; the call is: boughlight compare FIRST SECOND [OPTIONS]");
  expect_wrong_call({"survey", "a.yaml", "-o"}, "--output: what it is set to is missing (Folder for");
  expect_wrong_call({"survey", "a.yaml", "-o", "a", "-o", "b"}, "--output: it can be given only once");
}

TEST(Call, AWordThatIsNoneOfThoseAllowedIsAnsweredWithTheNearest) {
  expect_wrong_call({"schema", "sceen"},
                    "WHAT: there is no 'sceen' (did you mean 'scene'?); there are scene, fixture");
  expect_wrong_call({"reference", "foo"},
                    "PAGE: there is no 'foo'; there are scene, fixture, material, quantities or commands");
  expect_wrong_call({"reference", "foo"}, "Run 'boughlight reference --help' for examples.");
}

TEST(Call, OptionValuesAreCheckedAndSayWhatIsAllowed) {
  expect_wrong_call({"library", "--seed", "one"},
                    "--seed: 'one' is not a whole number from 0 to 18446744073709551615");
  expect_wrong_call({"library", "--seed=-1"}, "--seed: '-1'");
  expect_wrong_call({"library", "--seed", "1.5"}, "--seed: '1.5'");
  expect_wrong_call({"library", "--seed", "18446744073709551616"}, "--seed: '18446744073709551616'");
  expect_wrong_call({"library", "--threads", "0"}, "--threads: '0' is not a whole number from 1 to 4096");
  expect_wrong_call({"library", "--threads", "many"}, "--threads: 'many'");
  expect_wrong_call({"library", "--tolerance", "0"}, "--tolerance: '0' is not between 0.05 % and 50 %");
  expect_wrong_call({"library", "--tolerance", "200 %"}, "--tolerance: '200 %'");
  expect_wrong_call({"library", "--tolerance", "nan"}, "--tolerance: ");
  expect_wrong_call({"library", "--spacing", "5 parsecs"}, "--spacing: ");
  expect_wrong_call({"library", "--spacing", "0"}, "--spacing: '0' is not between 2 mm and 1 m");
  expect_wrong_call({"library", "--spacing=-5"}, "--spacing: '-5' is not between 2 mm and 1 m");
  expect_wrong_call({"library", "--seed", "1", "--seed", "2"}, "--seed");
}

TEST(Call, EveryWrongOptionIsToldAtOnce) {
  const Outcome outcome = boughlight_run({"library", "--seed", "x", "--spacing", "y", "--tolerance", "z"});
  EXPECT_EQ(outcome.code, 2);
  for (const char* option : {"--seed", "--spacing", "--tolerance"})
    EXPECT_TRUE(contains(outcome.err, option));
}

TEST(Call, AnEmptyOptionValueIsWrong) {
  expect_wrong_call({"library", "--seed", ""}, "--seed");
  expect_wrong_call({"library", "--tolerance="}, "--tolerance");
}

TEST(Call, AValueThatAShellLeftEmptyIsWrong) {
  for (const std::vector<std::string>& call :
       std::vector<std::vector<std::string>>{{"survey", "x.yaml", "--part", ""},
                                             {"survey", "x.yaml", "-o", ""},
                                             {"place", "x.yaml", "l", "--step", ""},
                                             {"window", "x.yaml", "l", "--perch", ""},
                                             {"check", ""},
                                             {"new", ""}}) {
    const Outcome outcome = boughlight_run(call);
    EXPECT_EQ(outcome.code, 2) << call.front();
    EXPECT_TRUE(contains(outcome.err, "is empty; a value is needed")) << outcome.err;
  }
}

TEST(Call, CommonOptionsMayStandBeforeTheCommand) {
  const Outcome before = boughlight_run({"--json", "library"});
  const Outcome after = boughlight_run({"library", "--json"});
  EXPECT_EQ(before.code, 0) << before.err;
  EXPECT_EQ(before.out, after.out);
  EXPECT_EQ(before.out.substr(0, 1), "{");
}

TEST(Call, WhatCannotBeToldOnStandardErrorChangesNoExitCode) {
  const auto code = [](const std::string& call) {
    return run_file("/bin/sh", {"-c", std::string(BOUGHLIGHT_PROGRAM) + " " + call}).code;
  };
  for (const std::string streams : {"2>&-", "2>/dev/full", "2>&- <&-"}) {
    EXPECT_EQ(code("check no-such-scene " + streams), 2) << streams;
    EXPECT_EQ(code("check --no-such-option " + streams), 2) << streams;
    EXPECT_EQ(code("library >/dev/full " + streams), 3) << streams;
    EXPECT_EQ(code("library >&- " + streams), 3) << streams;
    EXPECT_EQ(code("library >/dev/null " + streams), 0) << streams;
  }
}

TEST(Call, OutputThatCannotBeWrittenIsExitCode3) {
  RunOptions full;
  full.output_to = "/dev/full";  // every write fails with "no space left"
  for (const std::vector<std::string>& call :
       {std::vector<std::string>{"library"}, {"library", "--json"}, {"--help"}, {"--version"}}) {
    const Outcome outcome = boughlight_run(call, full);
    EXPECT_EQ(outcome.code, 3) << call.front();
    EXPECT_TRUE(contains(outcome.err, "standard output could not be written")) << outcome.err;
  }
}

}  // namespace
}  // namespace boughlight
