// Files that appear all together or not at all.
#include "report/staging.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <iterator>
#include <map>

namespace boughlight {
namespace {

namespace fs = std::filesystem;

class StagingOf : public testing::TestWithParam<Staging::Unnamed> {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "boughlight-XXXXXX").string();
    ASSERT_TRUE(::mkdtemp(pattern.data()));
    home_ = pattern;
    put("old.txt", "old");
    put("readings.csv", "mine");
  }
  void TearDown() override { fs::remove_all(home_); }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(home_ / name, std::ios::binary) << text;
  }
  // Every file and folder below the home, by its path from there; folders hold "/".
  std::map<std::string, std::string> found() const {
    std::map<std::string, std::string> all;
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(home_)) {
      std::ifstream stream(entry.path(), std::ios::binary);
      all[entry.path().lexically_relative(home_).string()] =
          entry.is_directory() ? "/" : std::string(std::istreambuf_iterator<char>(stream), {});
    }
    return all;
  }
  static std::string failure(Staging& staging) {
    try {
      staging.put_in_place();
    } catch (const OutputError& error) {
      return error.what();
    }
    return "";
  }

  fs::path home_;
  const std::map<std::string, std::string> before_ = {{"old.txt", "old"}, {"readings.csv", "mine"}};
};

TEST_P(StagingOf, NothingShowsUntilAllIsPutInPlace) {
  Staging staging(GetParam());
  staging.write({home_ / "old.txt", "new"});
  staging.write({home_ / "a/b/deep.txt", "deep"});
  staging.keep(home_ / "readings.csv", home_ / "kept.csv");
  staging.write({home_ / "readings.csv", "fresh"});
  if (GetParam() == Staging::Unnamed::where_there_are) {
    EXPECT_EQ(found(), before_);
  }
  staging.put_in_place();
  const std::map<std::string, std::string> after = {{"old.txt", "new"},   {"a", "/"},
                                                    {"a/b", "/"},         {"a/b/deep.txt", "deep"},
                                                    {"kept.csv", "mine"}, {"readings.csv", "fresh"}};
  EXPECT_EQ(found(), after);
  EXPECT_EQ(fs::status(home_ / "old.txt").permissions() & fs::perms::owner_all,
            fs::perms::owner_read | fs::perms::owner_write);
}

TEST_P(StagingOf, WhatIsNotPutInPlaceIsGone) {
  {
    Staging staging(GetParam());
    staging.write({home_ / "old.txt", "new"});
    staging.write({home_ / "a/b/deep.txt", "deep"});
  }
  EXPECT_EQ(found(), before_);
}

TEST_P(StagingOf, AFailureOnTheWayTakesBackWhatWasDone) {
  Staging staging(GetParam());
  staging.keep(home_ / "readings.csv", home_ / "kept.csv");
  // A folder comes into being after it was looked for: put in place last, when the others are there.
  staging.write({home_ / "late", "never"});
  staging.write({home_ / "new.txt", "new"});
  staging.write({home_ / "a/deep.txt", "deep"});
  staging.write({home_ / "old.txt", "new"});
  fs::create_directories(home_ / "late/full");
  const std::string told = failure(staging);
  // A folder may change places with a file on systems that can; it is taken for a file's place all the same.
  EXPECT_EQ(told, (home_ / "late").string() + ": cannot write: Is a directory");
  auto as_before = before_;
  as_before["late"] = as_before["late/full"] = "/";
  auto now = found();
  std::erase_if(now, [](const auto& entry) { return entry.first.starts_with(".boughlight-"); });
  EXPECT_EQ(now, as_before);
}

TEST_P(StagingOf, AKeptFileReplacesNothing) {
  put("kept.csv", "older");
  Staging staging(GetParam());
  staging.keep(home_ / "readings.csv", home_ / "kept.csv");
  staging.write({home_ / "readings.csv", "fresh"});
  EXPECT_EQ(failure(staging), (home_ / "readings.csv").string() + ": holds readings and cannot be kept as " +
                                  (home_ / "kept.csv").string() + ": File exists");
}

TEST_P(StagingOf, WhatAKilledRunLeftIsClearedByTheNext) {
  const pid_t child = ::fork();
  if (child == 0) {
    Staging staging(GetParam());
    staging.write({home_ / "old.txt", "new"});
    ::_exit(0);  // without any clearing up, as by SIGKILL
  }
  ::waitpid(child, nullptr, 0);
  EXPECT_EQ(found().size(), GetParam() == Staging::Unnamed::never ? 3u : 2u);
  Staging next(GetParam());
  next.write({home_ / "old.txt", "newer"});
  next.put_in_place();
  EXPECT_EQ(found(), (std::map<std::string, std::string>{{"old.txt", "newer"}, {"readings.csv", "mine"}}));
}

TEST_P(StagingOf, HiddenFilesOfOthersStayForADay) {
  const std::string others = ".boughlight-0-1-0.part", older = ".boughlight-0-1-1.part";
  for (const std::string& name : {others, older, std::string(".boughlight-notes.part")}) put(name, "");
  fs::last_write_time(home_ / older, fs::file_time_type::clock::now() - std::chrono::hours(25));
  Staging staging(GetParam());
  staging.write({home_ / "old.txt", "new"});
  staging.put_in_place();
  EXPECT_EQ(found().size(), 4u);
  EXPECT_FALSE(fs::exists(home_ / older));
}

INSTANTIATE_TEST_SUITE_P(Files, StagingOf,
                         testing::Values(Staging::Unnamed::where_there_are, Staging::Unnamed::never),
                         [](const auto& about) {
                           return std::string(about.param == Staging::Unnamed::never ? "Hidden" : "Unnamed");
                         });

}  // namespace
}  // namespace boughlight
