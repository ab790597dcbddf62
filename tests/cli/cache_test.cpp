// Traced light that is kept for the next survey.
#include <gtest/gtest.h>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// A crate, and where its light is kept.
struct Kept {
  TemporaryFolder folder;
  std::string scene = write_crate(folder.path());
  std::string cache = folder / "cache";

  std::vector<std::string> arguments(const std::string& to, const std::string& cache_folder) const {
    return {"survey", scene, "-o", folder / to, "--quiet", "--cache", cache_folder};
  }
  Outcome survey(const std::string& to, const std::string& cache_folder) const {
    return boughlight_run(arguments(to, cache_folder));
  }
  std::map<std::string, std::string> results(const std::string& of) const {
    return folder_contents(folder / of);
  }
};

TEST(CacheSlow, ASecondSurveyWritesTheSameFilesAndKeepsNothingNew) {
  const Kept kept;
  EXPECT_EQ(boughlight_run({"survey", kept.scene, "-o", kept.folder / "off", "--quiet", "--no-cache"}).code,
            0);
  EXPECT_EQ(kept.survey("cold", kept.cache).code, 0);
  const auto light = folder_contents(kept.cache);
  EXPECT_EQ(light.size(), 1u);
  EXPECT_EQ(kept.survey("warm", kept.cache).code, 0);
  EXPECT_EQ(folder_contents(kept.cache), light);
  EXPECT_EQ(kept.results("cold"), kept.results("off"));
  EXPECT_EQ(kept.results("warm"), kept.results("off"));
}

TEST(Cache, ItLiesWhereTheDesktopKeepsCaches) {
  const Kept kept;
  RunOptions options;
  options.variables["XDG_CACHE_HOME"] = kept.folder / "home";
  EXPECT_EQ(boughlight_run({"survey", kept.scene, "--quiet", "--no-cache"}, options).code, 0);
  EXPECT_FALSE(fs::exists(kept.folder / "home"));
  EXPECT_EQ(boughlight_run({"survey", kept.scene, "--quiet"}, options).code, 0);
  EXPECT_EQ(folder_contents(kept.folder / "home/boughlight").size(), 1u);
}

TEST(Cache, WhatIsDamagedIsTracedAnew) {
  const Kept kept;
  kept.survey("cold", kept.cache);
  for (const auto& [name, bytes] : folder_contents(kept.cache)) {
    std::string damaged = bytes;
    for (std::size_t i = 0; i < damaged.size(); i += 97) damaged[i] = static_cast<char>(~damaged[i]);
    write_file(fs::path(kept.cache) / name, damaged);
  }
  const Outcome again = kept.survey("again", kept.cache);
  EXPECT_EQ(again.code, 0);
  EXPECT_EQ(again.err, "");
  EXPECT_EQ(kept.results("again"), kept.results("cold"));
}

TEST(CacheSlow, TwoSurveysAtOnceMayShareIt) {
  const Kept kept;
  kept.survey("alone", kept.folder / "other");
  Running first(BOUGHLIGHT_PROGRAM, kept.arguments("one", kept.cache), {});
  Running second(BOUGHLIGHT_PROGRAM, kept.arguments("two", kept.cache), {});
  const Outcome one = first.wait(), two = second.wait();
  EXPECT_EQ(one.code, 0) << one.err;
  EXPECT_EQ(two.code, 0) << two.err;
  EXPECT_EQ(kept.results("one"), kept.results("alone"));
  EXPECT_EQ(kept.results("two"), kept.results("alone"));
}

TEST(CacheSlow, WhereNothingCanBeKeptTheSurveyIsDoneAllTheSame) {
  const Kept kept;
  kept.survey("cold", kept.cache);
  for (const std::string folder : {"/dev/null/cache", "/proc/cache"}) {
    const Outcome outcome = kept.survey("none", folder);
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.err, "");
    EXPECT_EQ(kept.results("none"), kept.results("cold"));
  }
}

TEST(Cache, AFileThatMayNotGrowLeavesNothing) {
  const Kept kept;
  kept.survey("cold", kept.folder / "other");
  std::size_t largest = 0, light = 0;
  for (const auto& [name, bytes] : kept.results("cold")) largest = std::max(largest, bytes.size());
  for (const auto& [name, bytes] : folder_contents(kept.folder / "other")) light += bytes.size();
  ASSERT_GT(light, largest);
  RunOptions options;
  options.most_file = largest;
  const Outcome outcome = boughlight_run(kept.arguments("out", kept.cache), options);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(!fs::exists(kept.cache) || folder_contents(kept.cache).empty());
}

TEST(Cache, BothOptionsAtOnceCannotBeMeant) {
  const Outcome outcome = boughlight_run({"survey", "x.yaml", "--cache", "y", "--no-cache"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.err, "boughlight: --cache and --no-cache: only one of them can be meant\n");
}

TEST(Cache, WhatIsNoFolderIsTold) {
  const TemporaryFolder folder;
  write_file(folder / "light", "");
  const Outcome outcome = boughlight_run({"survey", "x.yaml", "--cache", folder / "light"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "light' is not a folder")) << outcome.err;
}

}  // namespace
}  // namespace boughlight
