#include "spectrum/library_path.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <string>

namespace boughlight {
namespace {

// The place is looked for once in a program's life, so each case runs in a process of its own.
void print_and_exit() {
  std::fprintf(stderr, "<%s>", library_path().string().c_str());
  std::exit(0);
}

TEST(LibraryPathDeathTest, TheEnvironmentComesFirst) {
  testing::FLAGS_gtest_death_test_style = "threadsafe";
  std::string dir = testing::TempDir();
  if (dir.back() == '/') dir.pop_back();
  EXPECT_EXIT(
      {
        setenv("BOUGHLIGHT_FIXTURES", dir.c_str(), 1);
        print_and_exit();
      },
      testing::ExitedWithCode(0), "<" + dir + ">");
}

TEST(LibraryPathDeathTest, WithoutItTheSourceTreeIsFound) {
  testing::FLAGS_gtest_death_test_style = "threadsafe";
  EXPECT_EXIT(
      {
        unsetenv("BOUGHLIGHT_FIXTURES");
        print_and_exit();
      },
      testing::ExitedWithCode(0), std::string("<") + BOUGHLIGHT_SOURCE_DIR + "/fixtures>");
}

TEST(LibraryPathDeathTest, AFolderThatIsNotThereIsPassedOver) {
  testing::FLAGS_gtest_death_test_style = "threadsafe";
  EXPECT_EXIT(
      {
        setenv("BOUGHLIGHT_FIXTURES", "/no/such/folder", 1);
        print_and_exit();
      },
      testing::ExitedWithCode(0), std::string("<") + BOUGHLIGHT_SOURCE_DIR + "/fixtures>");
}

TEST(LibraryPathDeathTest, AnOfferedFolderComesBeforeTheSourceTree) {
  testing::FLAGS_gtest_death_test_style = "threadsafe";
  std::string dir = testing::TempDir();
  if (dir.back() == '/') dir.pop_back();
  EXPECT_EXIT(
      {
        unsetenv("BOUGHLIGHT_FIXTURES");
        offer_library_path("/no/such/folder");
        offer_library_path(dir);
        print_and_exit();
      },
      testing::ExitedWithCode(0), "<" + dir + ">");
}

}  // namespace
}  // namespace boughlight
