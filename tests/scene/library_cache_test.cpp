// Files of the library are read once a run, but never stale.
#include "scene/library_cache.h"

#include "scene_files.h"

namespace boughlight {
namespace {

class CountedReads {
 public:
  // The file's `title`, or nothing.
  std::optional<std::string> title(const std::filesystem::path& file) {
    return cache_.get(file, problems_, [&](const Document& document) -> std::optional<std::string> {
      ++reads_;
      const Field top(document);
      for (const YamlEntry& entry : document.root.entries)
        if (entry.key == "title") return entry.value.text;
      top.fail("has no title");
      return std::nullopt;
    });
  }
  int reads() const { return reads_; }
  std::size_t mistakes() const { return problems_.count(); }

 private:
  LibraryCache<std::string> cache_;
  Problems problems_;
  int reads_ = 0;
};

TEST(LibraryCache, ReadsAFileOnceAndAnewWhereItHasChanged) {
  const TempFolder folder;
  CountedReads counted;
  const auto file = folder.write("cork.yaml", "title: cork\n");
  EXPECT_EQ(counted.title(file), "cork");
  EXPECT_EQ(counted.title(file), "cork");
  EXPECT_EQ(counted.reads(), 1);
  folder.write("cork.yaml", "title: burnt cork\n");
  EXPECT_EQ(counted.title(file), "burnt cork");
  EXPECT_EQ(counted.reads(), 2);
  std::filesystem::remove(file);
  EXPECT_EQ(counted.title(file), std::nullopt);
  EXPECT_EQ(counted.mistakes(), 1U);
}

TEST(LibraryCache, TellsAMistakeEveryTime) {
  const TempFolder folder;
  CountedReads counted;
  const auto file = folder.write("cork.yaml", "titel: cork\n");
  EXPECT_EQ(counted.title(file), std::nullopt);
  EXPECT_EQ(counted.title(file), std::nullopt);
  EXPECT_EQ(counted.mistakes(), 2U);
}

TEST(LibraryCache, KeepsNothingThatStandsInAFurtherFile) {
  const TempFolder folder;
  CountedReads counted;
  const auto file = folder.write("cork.yaml", "title: cork\nreflectance: {file: cork.csv}\n");
  EXPECT_EQ(counted.title(file), "cork");
  EXPECT_EQ(counted.title(file), "cork");
  EXPECT_EQ(counted.reads(), 2);
}

}  // namespace
}  // namespace boughlight
