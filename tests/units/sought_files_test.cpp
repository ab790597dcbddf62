#include "units/sought_files.h"

#include <gtest/gtest.h>

#include <fstream>

#include "units/problem.h"
#include "units/read_file.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

class SoughtFilesTest : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder);
    write("here", "text");
  }
  void TearDown() override { fs::remove_all(folder); }
  void write(const std::string& name, const std::string& text) const { std::ofstream(folder / name) << text; }

  const fs::path folder =
      fs::temp_directory_path() /
      ("boughlight-sought-" + std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
};

TEST_F(SoughtFilesTest, ListsWhatIsReadAndWhatIsMissedOnce) {
  read_bytes(folder / "here", 100);
  const SoughtFiles sought;
  read_bytes(folder / "here", 100);
  EXPECT_THROW(read_bytes(folder / "gone", 100), InputError);
  read_bytes(folder / "here", 100);
  ASSERT_EQ(sought.files().size(), 2u);
  EXPECT_EQ(sought.files()[0].file, folder / "here");
  EXPECT_TRUE(sought.files()[0].stamp.there);
  EXPECT_EQ(sought.files()[0].stamp.bytes, 4u);
  EXPECT_EQ(sought.files()[1].file, folder / "gone");
  EXPECT_FALSE(sought.files()[1].stamp.there);
}

TEST_F(SoughtFilesTest, AStampTellsEverySaveApart) {
  const FileStamp first = stamp_of(folder / "here");
  EXPECT_EQ(stamp_of(folder / "here"), first);
  write("here", "texts");
  const FileStamp longer = stamp_of(folder / "here");
  EXPECT_NE(longer, first);
  // As long, put in its place.
  write("next", "texts");
  fs::last_write_time(folder / "next", fs::last_write_time(folder / "here"));
  fs::rename(folder / "next", folder / "here");
  EXPECT_NE(stamp_of(folder / "here"), longer);
  fs::remove(folder / "here");
  EXPECT_EQ(stamp_of(folder / "here"), FileStamp());
}

}  // namespace
}  // namespace boughlight
