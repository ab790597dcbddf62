// Several scenes in one go, one by one by other tools, and the index of what comes of it.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// Two crates of one name in folders of their own, one as wanted and one not.
struct TwoCrates {
  TemporaryFolder folder;
  std::string good, bad;

  TwoCrates() {
    fs::create_directory(folder.path() / "rack 1");
    fs::create_directory(folder.path() / "rack 2");
    good = write_crate(folder.path() / "rack 1", "{min: 400}");
    bad = write_crate(folder.path() / "rack 2", "{min: 600}");
  }
};

TEST(ManySlow, EachIsSurveyedAsByItselfAndTheIndexHasTheWorstFirst) {
  const TwoCrates crates;
  const std::string out = crates.folder / "out";
  const Outcome many = boughlight_run({"survey", crates.good, crates.bad, "-o", out});
  EXPECT_EQ(many.code, 1) << many.err;
  EXPECT_EQ(many.err, "");
  EXPECT_LE(longest_line(many.out), 80u) << many.out;
  EXPECT_TRUE(contains(many.out, "2 scenes: 1 not as wanted, 1 as wanted.")) << many.out;
  EXPECT_TRUE(contains(many.out, "! middle: illuminance 562 lx (at least 600)")) << many.out;
  EXPECT_LT(many.out.find("rack 2-crate"), many.out.find("rack 1-crate")) << "the worst first";

  EXPECT_EQ(boughlight_run({"survey", crates.good, "-o", crates.folder / "alone", "--quiet"}).code, 0);
  EXPECT_EQ(folder_contents(out + "/rack 1-crate"), folder_contents(crates.folder / "alone"));

  const json index = json::parse(read_file(out + "/index.json"));
  EXPECT_EQ(index["verdict"], "unmet");
  ASSERT_EQ(index["scenes"].size(), 2u);
  const json& row = index["scenes"][1];
  EXPECT_EQ(row["scene"], "crate.yaml");
  EXPECT_EQ(row["report"], "rack 2-crate/report.html");
  EXPECT_EQ(row["asked"][0]["verdict"], "below");
  EXPECT_EQ(row["asked"][0]["min"], 600);
  EXPECT_NEAR(row["asked"][0]["value"].get<double>(), kCrateLux, 0.01);
  EXPECT_TRUE(contains(read_file(out + "/index.csv"), "middle lux [lx],middle lux se [lx]"));
  const std::string page = read_file(out + "/index.html");
  EXPECT_TRUE(contains(page, R"(href="./rack%202-crate/report.html")"));
  EXPECT_FALSE(contains(page, "<script"));
}

TEST(Many, WhatIsWrongWithOneStopsNoOther) {
  const TwoCrates crates;
  const std::string wrong = write_crate(crates.folder.path(), "{min: bright}", "wrong.yaml"),
                    out = crates.folder / "out";
  const Outcome many =
      boughlight_run({"survey", wrong, crates.good, crates.folder / "nowhere.yaml", "-o", out});
  EXPECT_EQ(many.code, 2);
  EXPECT_TRUE(contains(many.err, "wrong.yaml:")) << many.err;
  EXPECT_TRUE(contains(many.err, "nowhere.yaml: there is no such file")) << many.err;
  EXPECT_TRUE(contains(many.err, "2 of 3 scenes gave no result; the others were surveyed")) << many.err;
  EXPECT_TRUE(fs::exists(out + "/crate/report.html"));
  const json index = json::parse(read_file(out + "/index.json"));
  EXPECT_EQ(index["counts"], json({{"failed", 2}, {"missing", 0}, {"unmet", 0}, {"unsure", 0}, {"met", 1}}));
  EXPECT_EQ(index["verdict"], "failed");

  // A place that cannot be written is the worse of the two.
  fs::remove_all(out + "/crate");
  write_file(out + "/crate", "precious");
  const Outcome taken = boughlight_run({"survey", wrong, crates.good, "-o", out, "--quiet"});
  EXPECT_EQ(taken.code, 3) << taken.err;
  EXPECT_EQ(read_file(out + "/crate"), "precious");
}

TEST(ManySlow, PartsAndOneByOneMakeTheSameFilesAsOneCall) {
  const TemporaryFolder folder;
  std::vector<std::string> scenes;
  for (int i = 0; i < 3; ++i)
    scenes.push_back(write_crate(folder.path(), "{min: " + std::to_string(500 + 50 * i) + "}",
                                 "crate-" + std::to_string(9 + i) + ".yaml"));
  const auto survey = [&](const std::string& out, const std::vector<std::string>& more) {
    std::vector<std::string> call = {"survey"};
    call.insert(call.end(), scenes.begin(), scenes.end());
    call.insert(call.end(), {"-o", folder / out, "--quiet"});
    call.insert(call.end(), more.begin(), more.end());
    return boughlight_run(call);
  };
  EXPECT_EQ(survey("whole", {}).code, 1);
  EXPECT_EQ(survey("parts", {"--part", "1/2"}).code, 1);
  EXPECT_FALSE(fs::exists(folder.path() / "parts/index.html"));

  // Before the other part is there: what is missing is told.
  std::vector<std::string> call = {"index", folder / "parts", "--scenes"};
  call.insert(call.end(), scenes.begin(), scenes.end());
  const Outcome early = boughlight_run(call);
  EXPECT_EQ(early.code, 2);
  EXPECT_TRUE(contains(early.out, "1 not surveyed yet")) << early.out;
  EXPECT_TRUE(contains(early.err, "boughlight: 1 of 3 scenes have no results in '")) << early.err;

  EXPECT_EQ(survey("parts", {"--part", "2/2"}).code, 0) << "its own share is as wanted";
  EXPECT_EQ(survey("parts", {"--part", "9/9"}).code, 0) << "a share of none is no failure";
  EXPECT_EQ(boughlight_run({"index", folder / "parts", "--quiet"}).code, 1);
  EXPECT_EQ(folder_contents(folder / "parts"), folder_contents(folder / "whole"));
  const std::string table = read_file(folder / "whole/index.csv");
  EXPECT_LT(table.find("\ncrate-9"), table.find("\ncrate-10")) << "by their numbers";

  const Outcome elsewhere = boughlight_run(
      {"index", folder / "whole/crate-9", folder / "parts/crate-10", "-o", folder / "both", "--json"});
  EXPECT_EQ(elsewhere.code, 0) << elsewhere.err;
  EXPECT_EQ(json::parse(elsewhere.out)["scenes"][0]["report"], "../parts/crate-10/report.html");
}

TEST(ManySlow, ScenesNotSurveyedYetAreCountedAndEveryOtherIsOneLine) {
  const TemporaryFolder folder;
  std::vector<std::string> call = {"index", folder / "out", "--scenes"};
  for (int i = 1; i <= 40; ++i)
    call.push_back(write_crate(folder.path(), "{min: 400}", "crate-" + std::to_string(i) + ".yaml"));
  const Outcome none = boughlight_run({"survey", call[3], call[4], "-o", folder / "out", "--quiet"});
  EXPECT_EQ(none.code, 0) << none.err;
  const Outcome index = boughlight_run(call);
  EXPECT_EQ(index.code, 2);
  EXPECT_EQ(std::count(index.err.begin(), index.err.end(), '\n'), 1) << index.err;
  EXPECT_TRUE(contains(index.err, "38 of 40 scenes have no results in")) << index.err;
  EXPECT_TRUE(
      contains(index.out, "Not surveyed yet: 38\n  crate-3.yaml, crate-4.yaml, crate-5.yaml and 35 more\n"))
      << index.out;
  EXPECT_TRUE(contains(index.out, "As wanted: 2\n  crate-1")) << index.out;
  EXPECT_LE(std::count(index.out.begin(), index.out.end(), '\n'), 16) << index.out;
  EXPECT_LE(longest_line(index.out), 80u);
}

TEST(Many, WrongCallsSayWhatToDo) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  for (const std::string part : {"0/3", "4/3", "3", "1/x", "-1/2"}) {
    const Outcome wrong = boughlight_run({"survey", scene, "--part=" + part});
    EXPECT_EQ(wrong.code, 2) << part;
    EXPECT_TRUE(contains(wrong.err, "--part: '" + part + "' is not K/N")) << wrong.err;
  }
  const Outcome nothing = boughlight_run({"index", folder.path().string()});
  EXPECT_EQ(nothing.code, 2);
  EXPECT_TRUE(contains(nothing.err, "there are no results in")) << nothing.err;
  write_file(folder / "notes.txt", "mine\n");
  const Outcome file = boughlight_run({"index", folder / "notes.txt"});
  EXPECT_EQ(file.code, 2);
  EXPECT_TRUE(contains(file.err, "notes.txt' is not a folder\n")) << file.err;
  const Outcome where = boughlight_run({"index", folder.path().string(), folder.path().string()});
  EXPECT_EQ(where.code, 2);
  EXPECT_TRUE(contains(where.err, "say with -o where the index is to go")) << where.err;
  fs::create_directory(folder.path() / "old");
  write_file(folder / "old/readings.json", R"({"boughlight": 1, "verdict")");
  const Outcome torn = boughlight_run({"index", folder.path().string()});
  EXPECT_EQ(torn.code, 2);
  EXPECT_TRUE(contains(torn.err, "readings.json: it is not a survey's, or not a whole one")) << torn.err;
}

// The example of 200 scenes, the first of every 67 of them, roughly: by one call, by make and by GNU
// parallel.
TEST(ManySlow, TheExampleGivesTheSameBytesHoweverItIsRun) {
  const std::string many = std::string(BOUGHLIGHT_SOURCE_DIR) + "/scenes/many/", program = BOUGHLIGHT_PROGRAM;
  const TemporaryFolder folder;
  RunOptions there;
  there.folder = folder.path();
  there.variables = {{"BOUGHLIGHT", program}, {"TASKS", "2"}};
  const auto shell = [&](const std::string& line) {
    const Outcome outcome = run_file("/bin/bash", {"-c", line}, there);
    EXPECT_EQ(outcome.code, 0) << line << "\n" << outcome.out << outcome.err;
    return outcome;
  };
  shell("bash '" + many + "make_scenes' all");
  EXPECT_EQ(folder_contents(folder / "all").size(), 200u);
  shell("bash '" + many + "make_scenes' cages --every 67");
  ASSERT_EQ(folder_contents(folder / "cages").size(), 3u);
  const std::string rough = "--spacing 50 --tolerance 50%";
  shell("$BOUGHLIGHT survey cages/*.yaml -o whole --quiet " + rough + " || test $? -eq 1");
  shell("make -s -j 2 -f '" + many + "Makefile' SCENES=cages RESULTS=made OPTIONS='" + rough + "'");
  const Outcome again = shell("make -f '" + many + "Makefile' SCENES=cages RESULTS=made");
  EXPECT_TRUE(contains(again.out, "up to date")) << again.out;
  shell("parallel -j 2 '$BOUGHLIGHT survey {} -o parallel/{/.} --threads 1 --quiet " + rough +
        " || test $? -eq 1' ::: cages/*.yaml; $BOUGHLIGHT index parallel --quiet || test $? -eq 1");
  const auto whole = folder_contents(folder / "whole");
  EXPECT_GT(whole.size(), 60u);
  EXPECT_EQ(folder_contents(folder / "made"), whole);
  EXPECT_EQ(folder_contents(folder / "parallel"), whole);
}

TEST(ManySlow, ATaskOfAnArrayOfJobsDoesItsShare) {
  const TemporaryFolder folder;
  fs::create_directory(folder.path() / "cages");
  for (const char* name : {"a.yaml", "b.yaml", "c.yaml"})
    write_crate(folder.path() / "cages", "{min: 400}", name);
  fs::rename(folder.path() / "cages/bulb.yaml", folder.path() / "bulb.yaml");
  for (const char* name : {"a.yaml", "b.yaml", "c.yaml"}) {
    std::string text = read_file(folder.path() / "cages" / name);
    write_file(folder.path() / "cages" / name, text.replace(text.find("bulb.yaml"), 9, "../bulb.yaml"));
  }
  const std::string task = std::string(BOUGHLIGHT_SOURCE_DIR) + "/scenes/many/array-task";
  RunOptions there;
  there.folder = folder.path();
  const auto run = [&](std::map<std::string, std::string> variables) {
    variables["BOUGHLIGHT"] = BOUGHLIGHT_PROGRAM;
    there.variables = std::move(variables);
    return run_file("/bin/bash", {task, "cages", "out"}, there);
  };
  EXPECT_EQ(run({}).code, 2) << "no scheduler";
  EXPECT_EQ(run({{"SLURM_ARRAY_TASK_ID", "2"}, {"SLURM_ARRAY_TASK_COUNT", "2"}}).code, 0);
  EXPECT_TRUE(fs::exists(folder.path() / "out/b/report.html"));
  EXPECT_FALSE(fs::exists(folder.path() / "out/a"));
  EXPECT_EQ(run({{"PBS_ARRAY_INDEX", "1"}, {"TASKS", "2"}}).code, 0);
  EXPECT_TRUE(fs::exists(folder.path() / "out/c/report.html"));
}

}  // namespace
}  // namespace boughlight
