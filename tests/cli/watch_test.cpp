// boughlight watch: what a keeper sees who saves a scene again and again.
#include <gtest/gtest.h>
#include <signal.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "program.h"
#include "scenes.h"
#include "watching.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

TEST(Watch, FirstLooksThenSurveysAndLeavesWhatASurveyLeaves) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  Watching watch(scene);
  ASSERT_TRUE(watch.hears("Page")) << watch.out() << watch.err();
  EXPECT_TRUE(fs::exists(folder.path() / "crate" / "watch.html"));
  EXPECT_TRUE(fs::exists(folder.path() / "crate" / "watch.js"));
  const Outcome ended = watch.end(SIGINT);
  EXPECT_EQ(ended.code, 0);
  EXPECT_EQ(ended.err, "");
  EXPECT_TRUE(ended.out.starts_with("Watching " + scene + "; Ctrl-C ends it.\n" + kLook)) << ended.out;
  EXPECT_TRUE(
      contains(ended.out, boughlight_run({"survey", scene, "-o", folder / "other"}).out.substr(0, 400)))
      << ended.out;
  // Plain lines where it is no terminal.
  EXPECT_EQ(ended.out.find_first_of("\r\x1b"), std::string::npos) << ended.out;
  EXPECT_LE(longest_line(changed(ended.out, folder.path().string(), "")), 80u);
  EXPECT_EQ(folder_contents(folder.path() / "crate"), surveyed(scene));
}

TEST(Watch, ASaveIsSurveyedAndSaysWhatChanged) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  Watching watch(scene);
  ASSERT_TRUE(watch.hears("Page")) << watch.out() << watch.err();
  write_crate(folder.path(), "{max: 300}");
  ASSERT_TRUE(watch.hears("crate.yaml saved\n")) << watch.out();
  ASSERT_TRUE(watch.hears(kLook, 2));
  ASSERT_TRUE(watch.hears(kDone, 2)) << watch.out() << watch.err();
  const std::string said = watch.out().substr(watch.out().find("crate.yaml saved\n"));
  EXPECT_TRUE(contains(
      said,
      "For the worse\n  ! middle: illuminance 563 lx: too high, wanted at most 300 (before: as wanted,\n"
      "    wanted at least 500).\n1 of 1 not met."))
      << said;
  EXPECT_EQ(watch.end(SIGTERM).code, 0);
  EXPECT_EQ(folder_contents(folder.path() / "crate"), surveyed(scene));
}

TEST(Watch, AMistakeIsToldAndMended) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path()), good = read_file(scene);
  write_file(scene, changed(good, "length_unit: cm", "length_unit: cubits"));
  Watching watch(scene);
  ASSERT_TRUE(watch.hears_of_trouble("boughlight: still watching")) << watch.out() << watch.err();
  // As a survey tells it.
  const std::string told = boughlight_run({"survey", scene}).err;
  EXPECT_TRUE(watch.err().starts_with(told)) << watch.err();
  EXPECT_TRUE(contains(told, "length_unit: is 'cubits'")) << told;
  EXPECT_FALSE(fs::exists(folder.path() / "crate" / "readings.json"));
  EXPECT_TRUE(contains(read_file(folder.path() / "crate" / "watch.js"), R"("doing":"mistake","results":"")"));
  write_file(scene, good);
  ASSERT_TRUE(watch.hears("Page")) << watch.out() << watch.err();
  EXPECT_EQ(watch.end(SIGINT).code, 0);
}

TEST(Watch, NothingIsLeftOfOneThatNeverHadAResult) {
  const TemporaryFolder folder;
  const std::string scene = folder / "wrong.yaml";
  write_file(scene, "boughlight: 2\n");
  Watching watch(scene);
  ASSERT_TRUE(watch.hears_of_trouble("still watching"));
  EXPECT_EQ(watch.end(SIGHUP).code, 0);
  EXPECT_EQ(folder_contents(folder.path()).size(), 1u);
  EXPECT_FALSE(fs::exists(folder.path() / "wrong"));
}

TEST(Watch, WhatCannotBeWatchedIsRefused) {
  const TemporaryFolder folder;
  const Outcome missing = boughlight_run({"watch", folder / "no.yaml"});
  EXPECT_EQ(missing.code, 2);
  EXPECT_EQ(missing.err, folder / "no.yaml" +
                             ": there is no such file\nboughlight: 1 mistake in the input; nothing was "
                             "computed\n");
  const std::string scene = write_crate(folder.path());
  EXPECT_EQ(boughlight_run({"watch", scene, "-o", scene}).code, 3);
  EXPECT_EQ(boughlight_run({"watch", scene, "other"}).code, 2);
  EXPECT_EQ(boughlight_run({"watch", scene, "--tolerance", "2"}).code, 2);
}

}  // namespace
}  // namespace boughlight
