#include "report/write.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/resource.h>

#include <fstream>
#include <iterator>
#include <limits>
#include <set>

#include "sample_survey.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

std::string contents(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

void put(const fs::path& file, const std::string& text) {
  std::ofstream(file, std::ios::binary) << text;
}

std::set<std::string> files_under(const fs::path& folder) {
  std::set<std::string> found;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder)) {
    found.insert(entry.path().lexically_relative(folder).string());
  }
  return found;
}

// Without a grid there are no maps to draw.
Survey without_grid() {
  Survey survey = sample_survey();
  survey.grid.clear();
  survey.cells.clear();
  return survey;
}

class WriteSurvey : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "boughlight-XXXXXX").string();
    ASSERT_TRUE(::mkdtemp(pattern.data()));
    home_ = pattern;
  }
  void TearDown() override { fs::remove_all(home_); }

  // The message of the OutputError that writing into a folder must give.
  std::string failure(const fs::path& folder) {
    try {
      write_survey(sample_survey(), folder);
    } catch (const OutputError& error) {
      return error.what();
    }
    return "nothing was thrown";
  }

  fs::path home_;
};

TEST_F(WriteSurvey, MakesTheFolderAndAllFilesAndNothingElse) {
  const Survey survey = sample_survey();
  const fs::path folder = home_ / "a" / "b";
  write_survey(survey, folder);
  EXPECT_EQ(contents(folder / "readings.json"), readings_json(survey));
  EXPECT_EQ(contents(folder / "readings.csv"), readings_csv(survey));
  EXPECT_EQ(contents(folder / "grid.csv"), grid_csv(survey));
  EXPECT_EQ(contents(folder / "report.html"), report_html(survey, readings_json(survey)));
  std::size_t maps = 0;
  for (const std::string& name : files_under(folder)) {
    const bool map = name.rfind("maps/", 0) == 0;
    maps += map;
    if (name == "vtk" || name == "spectra.csv" || name.rfind("vtk/", 0) == 0) continue;  // tests of their own
    EXPECT_TRUE(map || name == "maps" || name == "readings.json" || name == "readings.csv" ||
                name == "day.csv" || name == "grid.csv" || name == "report.html" ||
                name == "meter-sheet.csv" || name == "meter-sheet.txt")
        << name;
  }
  EXPECT_EQ(maps, 24u);  // 3 quantities on 8 slices
  EXPECT_EQ(fs::status(folder / "grid.csv").permissions() & fs::perms::owner_all,
            fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(WriteSurvey, ASecondRunReplacesItsFilesAndStaleMapsButNothingOfTheUsers) {
  put(home_ / "readings.json", "old");
  fs::create_directory(home_ / "maps");
  put(home_ / "maps" / "uvi-plan-z999cm.png", "a map of an older run");
  put(home_ / "maps" / "uvi-plan-z999cm copy.png", "the user's");
  put(home_ / "maps" / "notes.txt", "the user's");
  put(home_ / "meter.csv", "the user's");
  write_survey(sample_survey(), home_);
  EXPECT_EQ(contents(home_ / "readings.json"), readings_json(sample_survey()));
  EXPECT_FALSE(fs::exists(home_ / "maps" / "uvi-plan-z999cm.png"));
  EXPECT_EQ(contents(home_ / "maps" / "uvi-plan-z999cm copy.png"), "the user's");
  EXPECT_EQ(contents(home_ / "maps" / "notes.txt"), "the user's");
  EXPECT_EQ(contents(home_ / "meter.csv"), "the user's");
}

TEST_F(WriteSurvey, AFileWhereTheFolderShouldBeIsNamedAndKept) {
  put(home_ / "out", "precious");
  const std::string message = failure(home_ / "out");
  EXPECT_NE(message.find((home_ / "out").string()), std::string::npos) << message;
  EXPECT_NE(message.find("in the way"), std::string::npos) << message;
  EXPECT_EQ(contents(home_ / "out"), "precious");
  EXPECT_NE(failure(home_ / "out" / "deeper").find("in the way"), std::string::npos);
}

TEST_F(WriteSurvey, AFolderWhereAFileShouldBeLeavesEverythingAsItWas) {
  fs::create_directories(home_ / "readings.json");
  put(home_ / "readings.csv", "old");
  const std::string message = failure(home_);
  EXPECT_NE(message.find((home_ / "readings.json").string()), std::string::npos) << message;
  EXPECT_EQ(contents(home_ / "readings.csv"), "old");
  EXPECT_EQ(files_under(home_), (std::set<std::string>{"readings.json", "readings.csv"}));
}

TEST_F(WriteSurvey, AFileInTheWayOfTheMapsLeavesEverythingAsItWas) {
  put(home_ / "maps", "the user's");
  EXPECT_NE(failure(home_).find((home_ / "maps").string()), std::string::npos);
  EXPECT_EQ(files_under(home_), (std::set<std::string>{"maps"}));
}

TEST_F(WriteSurvey, AFolderThatCannotBeWrittenIsNamedWithTheReason) {
  // Nobody, not even the superuser, can make a folder there.
  const std::string message = failure("/proc/boughlight-results");
  EXPECT_NE(message.find("/proc/boughlight-results"), std::string::npos) << message;
  EXPECT_NE(message.find(": cannot make this folder: "), std::string::npos) << message;
}

using WriteSurveySlow = WriteSurvey;
TEST_F(WriteSurveySlow, WhenTheDiskIsFullNothingIsLeft) {
  put(home_ / "readings.csv", "old");
  // Files that may not grow past 2000 bytes stand in for a full disk.
  rlimit before{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
  const rlimit small{2000, before.rlim_max};
  const auto handler = ::signal(SIGXFSZ, SIG_IGN);
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
  const std::string message = failure(home_);
  const std::string fresh = failure(home_ / "new");
  ::setrlimit(RLIMIT_FSIZE, &before);
  ::signal(SIGXFSZ, handler);
  EXPECT_NE(message.find((home_ / "readings.json").string() + ": cannot write: "), std::string::npos)
      << message;
  EXPECT_NE(fresh.find("cannot write"), std::string::npos) << fresh;
  EXPECT_EQ(files_under(home_), (std::set<std::string>{"readings.csv"}));
  EXPECT_EQ(contents(home_ / "readings.csv"), "old");
}

TEST_F(WriteSurvey, AResultThatIsNoNumberWritesNothing) {
  Survey survey = sample_survey();
  survey.readings[0].values[Quantity::uvi].value = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(write_survey(survey, home_ / "out"), std::runtime_error);
  EXPECT_FALSE(fs::exists(home_ / "out"));
}

TEST_F(WriteSurvey, TheSameSurveyGivesTheSameBytes) {
  write_survey(without_grid(), home_ / "one");
  write_survey(without_grid(), home_ / "two" / "");
  EXPECT_EQ(files_under(home_ / "one"), files_under(home_ / "two"));
  for (const std::string& name : files_under(home_ / "one")) {
    if (fs::is_directory(home_ / "one" / name)) continue;
    EXPECT_EQ(contents(home_ / "one" / name), contents(home_ / "two" / name)) << name;
  }
}

}  // namespace
}  // namespace boughlight
