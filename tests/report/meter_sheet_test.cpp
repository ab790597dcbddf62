#include "report/meter_sheet.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <fstream>
#include <iterator>
#include <sstream>

#include "doubtful_survey.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

const char* const kHeader =
    "place,x,y,z,orientation,quantity,unit,expected,low,high,reading,length_unit,direction_x,direction_y,"
    "direction_z,lamps,through_screen,notes\n";

std::string line(const std::string& text, int number) {
  std::istringstream stream(text);
  std::string found;
  for (int i = 0; i <= number; ++i) std::getline(stream, found);
  return found;
}

TEST(MeterSheetCsv, HasOneRowAReadingWithARoomToWrite) {
  const std::string csv = meter_sheet_csv(doubtful_survey());
  EXPECT_EQ(csv.rfind(kHeader, 0), 0u) << csv;
  EXPECT_EQ(line(csv, 1).rfind("sun perch,45,32,143,straight up,uvi,,", 0), 0u) << csv;
  EXPECT_NE(line(csv, 1).find(",,cm,0,0,1,all,yes,where the animal's back is; the sensor looks at uv tube"),
            std::string::npos)
      << csv;
  EXPECT_EQ(
      line(csv, 2),
      "on the screen under basking flood,55,-10,161,\"tilted 55 deg from straight up, to the left and the "
      "back\",lux,lx,1.235e+04,8000,1.9e+04,,cm,-0.5774,0.5774,0.5774,basking flood,no,\"a lux meter, not a "
      "telephone\"");
  EXPECT_EQ(line(csv, 3).rfind(
                "\"low, \"\"ledge\"\"\",15,45,65,\"level, to the left\",irradiance,W/m2,15,9,24,,", 0),
            0u)
      << csv;
}

TEST(MeterSheetCsv, IsInTheScenesUnit) {
  Survey survey = doubtful_survey();
  survey.scene.length_unit = "in";
  EXPECT_EQ(line(meter_sheet_csv(survey), 1).rfind("sun perch,17.72,12.6,56.3,", 0), 0u)
      << line(meter_sheet_csv(survey), 1);
}

TEST(MeterSheetText, SaysHowWhereAndWhatAndLeavesRoom) {
  const std::string text = meter_sheet_text(doubtful_survey());
  for (const char* part :
       {"Meter sheet: Cabinet on the landing\n", "UV-blocking goggles", "30 minutes", "0.00 to 0.03",
        " 1. sun perch, UV index\n    45 cm from the left, 32 cm from the front, 143 cm above the floor.\n",
        "Sensor straight up. Lit: all lamps, at their dimmers. Through the screen.\n",
        "10 cm out to the front", "to the left and the back. Lit: only\n    basking flood. No screen between",
        "accept 8000 to 19 000", "Reading: ____________", "the meter decides"})
    EXPECT_NE(text.find(part), std::string::npos) << "'" << part << "' is missing in\n" << text;
  std::istringstream stream(text);
  for (std::string one; std::getline(stream, one);) EXPECT_LE(display_width(one), 80) << one;
}

TEST(MeterSheetText, SaysWhereThereIsNothingToMeasure) {
  EXPECT_NE(meter_sheet_text(sample_survey()).find("There is no place to measure"), std::string::npos);
  EXPECT_EQ(meter_sheet_csv(sample_survey()), kHeader);
}

TEST(MeterSheet, IsUntouchedUntilAReadingIsWritten) {
  const std::string csv = meter_sheet_csv(doubtful_survey());
  EXPECT_TRUE(is_untouched_sheet(csv));
  std::string filled = csv;
  const std::size_t at = filled.find(",,cm");
  filled.insert(at + 1, "2.3");
  EXPECT_FALSE(is_untouched_sheet(filled));
  std::string spaces = csv;
  spaces.insert(at + 1, "  ");
  EXPECT_TRUE(is_untouched_sheet(spaces));
  std::string semicolons = csv;
  for (char& letter : semicolons)
    if (letter == ',') letter = ';';
  EXPECT_FALSE(is_untouched_sheet(semicolons)) << "as some spreadsheets write it";
  EXPECT_FALSE(is_untouched_sheet("my own notes\n"));
}

TEST(MeterSheet, ThatWasFilledInIsKeptAndTheNewOneTakesItsName) {
  std::string pattern = (fs::temp_directory_path() / "boughlight-XXXXXX").string();
  ASSERT_TRUE(::mkdtemp(pattern.data()));
  const fs::path folder = pattern;
  Survey survey = doubtful_survey();
  survey.grid.clear();
  survey.cells.clear();
  const auto contents = [](const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(stream), {}};
  };
  write_survey(survey, folder);
  const fs::path sheet = folder / "meter-sheet.csv";
  const std::string fresh = contents(sheet);
  EXPECT_EQ(fresh, meter_sheet_csv(survey));
  EXPECT_EQ(contents(folder / "meter-sheet.txt"), meter_sheet_text(survey));
  write_survey(survey, folder);
  EXPECT_FALSE(fs::exists(folder / "meter-sheet-filled-1.csv")) << "nothing was written in it";
  std::string filled = fresh;
  filled.insert(filled.find(",,cm") + 1, "2.3");
  for (const char* kept : {"meter-sheet-filled-1.csv", "meter-sheet-filled-2.csv"}) {
    std::ofstream(sheet, std::ios::binary) << filled << kept;
    write_survey(survey, folder);
    EXPECT_EQ(contents(folder / kept), filled + kept);
    EXPECT_EQ(contents(sheet), fresh);
  }
  fs::remove_all(folder);
}

}  // namespace
}  // namespace boughlight
