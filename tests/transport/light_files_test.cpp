#include "transport/light_files.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <numeric>

#include "transport/light_records.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "boughlight-light-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  ~Folder() {
    std::error_code error;
    fs::permissions(path_, fs::perms::owner_all, error);
    fs::remove_all(path_, error);
  }
  operator const fs::path&() const { return path_; }  // NOLINT

  std::vector<fs::path> files() const {
    std::vector<fs::path> all;
    for (const auto& entry : fs::recursive_directory_iterator(path_))
      if (entry.is_regular_file()) all.push_back(entry.path());
    return all;
  }
  std::uintmax_t bytes() const {
    std::uintmax_t sum = 0;
    for (const fs::path& file : files()) sum += fs::file_size(file);
    return sum;
  }

 private:
  fs::path path_;
};

constexpr LightKey kField{1, 2};

void keep(LightStore& store, std::uint64_t key, std::string text) {
  const auto bytes = std::make_shared<const std::string>(std::move(text));
  store.write({7, key}, bytes->data(), bytes->size(), bytes);
}
std::optional<std::string> kept(LightStore& store, std::uint64_t key) {
  std::string bytes;
  const bool found = store.read({7, key}, [&](std::size_t size) {
    bytes.resize(size);
    return bytes.data();
  });
  return found ? std::optional(bytes) : std::nullopt;
}
void keep_one(const fs::path& folder, std::uint64_t key, const std::string& text,
              std::uintmax_t most = kMostKeptLight, const LightKey& field = kField) {
  keep(*light_files(folder, most)->open(field), key, text);
}
std::optional<std::string> kept_in(const fs::path& folder, std::uint64_t key,
                                   const LightKey& field = kField) {
  return kept(*light_files(folder)->open(field), key);
}

TEST(LightFiles, WhatOneRunKeepsTheNextOneFinds) {
  const Folder folder;
  {
    const auto store = light_files(folder)->open(kField);
    keep(*store, 1, "one");
    keep(*store, 2, std::string(3'000'000, 'x'));
    keep(*store, 3, "");
  }
  ASSERT_EQ(folder.files().size(), 1u);
  EXPECT_EQ(kept_in(folder, 1), "one");
  EXPECT_EQ(kept_in(folder, 2), std::string(3'000'000, 'x'));
  EXPECT_EQ(kept_in(folder, 3), "");
  EXPECT_EQ(kept_in(folder, 4), std::nullopt);
  EXPECT_EQ(kept_in(folder, 1, {1, 3}), std::nullopt) << "another field's";
}

TEST(LightFiles, ARunThatFindsAllWritesNothing) {
  const Folder folder;
  keep_one(folder, 1, "one");
  const auto before = folder.files();
  EXPECT_EQ(kept_in(folder, 1), "one");
  EXPECT_EQ(folder.files(), before);
}

TEST(LightFiles, RunsAddToEachOther) {
  const Folder folder;
  keep_one(folder, 1, "one");
  keep_one(folder, 2, "two");
  EXPECT_EQ(kept_in(folder, 1), "one");
  EXPECT_EQ(kept_in(folder, 2), "two");
}

TEST(LightFiles, TwoAtOnceLeaveOneFileOfTheSame) {
  const Folder folder;
  {
    const auto first = light_files(folder)->open(kField), second = light_files(folder)->open(kField);
    for (const auto& store : {first, second}) {
      keep(*store, 1, "one");
      keep(*store, 2, "two");
    }
  }
  EXPECT_EQ(folder.files().size(), 1u);
  EXPECT_EQ(kept_in(folder, 2), "two");
}

TEST(LightFiles, EveryCutAndEveryChangedByteIsAMissAndNeverAnotherValue) {
  const Folder folder;
  keep_one(folder, 1, "some light");
  const fs::path file = folder.files().at(0);
  std::string whole;
  {
    std::ifstream in(file, std::ios::binary);
    whole.assign(std::istreambuf_iterator<char>(in), {});
  }
  const auto put = [&](const std::string& bytes) { std::ofstream(file, std::ios::binary) << bytes; };
  for (std::size_t size = 0; size < whole.size(); ++size) {
    put(whole.substr(0, size));
    EXPECT_EQ(kept_in(folder, 1), std::nullopt) << size << " bytes left";
  }
  for (std::size_t at = 0; at < whole.size(); ++at) {
    std::string changed = whole;
    changed[at] = static_cast<char>(changed[at] ^ 0x10);
    put(changed);
    EXPECT_EQ(kept_in(folder, 1), std::nullopt) << "byte " << at;
  }
  put(whole);
  EXPECT_EQ(kept_in(folder, 1), "some light");
}

TEST(LightFiles, ADamagedFileIsReplaced) {
  const Folder folder;
  keep_one(folder, 1, "some light");
  fs::resize_file(folder.files().at(0), 30);
  {
    const auto store = light_files(folder)->open(kField);
    EXPECT_EQ(kept(*store, 1), std::nullopt);
    keep(*store, 1, "some light");
  }
  EXPECT_EQ(folder.files().size(), 1u);
  EXPECT_EQ(kept_in(folder, 1), "some light");
}

TEST(LightFiles, AFileThatIsRemovedMeanwhileCanStillBeRead) {
  const Folder folder;
  keep_one(folder, 1, "one");
  const auto store = light_files(folder)->open(kField);
  fs::remove_all(folder.files().at(0).parent_path());
  EXPECT_EQ(kept(*store, 1), "one");
}

TEST(LightFiles, ThoseUsedLeastRecentlyGoFirst) {
  const Folder folder;
  constexpr std::uintmax_t kMost = 100'000;
  const std::string text(30'000, 'x');
  const auto field = [](std::uint64_t number) { return LightKey{5, number}; };
  for (std::uint64_t number = 0; number < 3; ++number) {
    keep_one(folder, 1, text, kMost, field(number));
    for (const fs::path& file : folder.files())
      fs::last_write_time(file, fs::last_write_time(file) - std::chrono::hours(1));
  }
  EXPECT_EQ(kept_in(folder, 1, field(0)), text);  // used now
  keep_one(folder, 1, text, kMost, field(3));
  EXPECT_LE(folder.bytes(), kMost);
  EXPECT_EQ(kept_in(folder, 1, field(0)), text);
  EXPECT_EQ(kept_in(folder, 1, field(1)), std::nullopt);
  EXPECT_EQ(kept_in(folder, 1, field(3)), text);
}

TEST(LightFiles, NoneIsLargerThanHalfOfWhatMayBeKept) {
  const Folder folder;
  {
    const auto store = light_files(folder, 100'000)->open(kField);
    keep(*store, 1, std::string(60'000, 'x'));
    keep(*store, 2, "two");
  }
  EXPECT_EQ(kept_in(folder, 1), std::nullopt);
  EXPECT_EQ(kept_in(folder, 2), "two");
}

TEST(LightFiles, OtherThingsInTheFolderAreLeftAlone) {
  const Folder folder;
  const fs::path other = fs::path(folder) / "letters.txt";
  std::ofstream(other) << std::string(200'000, 'x');
  keep_one(folder, 1, std::string(30'000, 'x'), 100'000);
  keep_one(folder, 1, std::string(30'000, 'x'), 100'000, {1, 9});
  EXPECT_TRUE(fs::exists(other));
}

TEST(LightFiles, WhereNothingCanBeWrittenNothingIsKeptAndNothingIsSaid) {
  for (const fs::path folder : {"/dev/null/light", "/proc/light"}) {
    const auto store = light_files(folder)->open(kField);
    keep(*store, 1, "one");
    EXPECT_EQ(kept(*store, 1), std::nullopt);
  }
}

TEST(LightRecords, AFullDiskLeavesNothingBehind) {
  const Folder folder;
  const fs::path inside = fs::path(folder) / "field";
  {
    constexpr std::uintmax_t kMoreThanThereIs = 1ull << 62;
    NewRecords records(inside, 1'000'000, kMoreThanThereIs);
    records.add({1, 1}, "abc", 3);
    EXPECT_FALSE(records.finish());
  }
  EXPECT_TRUE(folder.files().empty());
}

TEST(LightRecords, WithoutFinishNothingIsLeft) {
  const Folder folder;
  {
    NewRecords records(folder, 1'000'000, 0);
    records.add({1, 1}, "abc", 3);
  }
  EXPECT_TRUE(folder.files().empty());
}

TEST(LightFiles, TheUsualFolderFollowsTheDesktopsRule) {
  const auto set = [](const char* caches, const char* home) {
    caches ? ::setenv("XDG_CACHE_HOME", caches, 1) : ::unsetenv("XDG_CACHE_HOME");
    home ? ::setenv("HOME", home, 1) : ::unsetenv("HOME");
  };
  set("/a/b", "/home/x");
  EXPECT_EQ(usual_light_folder(), fs::path("/a/b/boughlight"));
  set(nullptr, "/home/x");
  EXPECT_EQ(usual_light_folder(), fs::path("/home/x/.cache/boughlight"));
  set("not/from/the/root", "/home/x");
  EXPECT_EQ(usual_light_folder(), fs::path("/home/x/.cache/boughlight"));
  set(nullptr, nullptr);
  EXPECT_EQ(usual_light_folder(), std::nullopt);
}

}  // namespace
}  // namespace boughlight
