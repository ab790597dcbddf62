#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "spectrum/library_path.h"
#include "spectrum/table.h"
#include "units/problem.h"

namespace boughlight {
namespace {

class TableFileTest : public testing::Test {
 protected:
  void SetUp() override {
    path_ = testing::TempDir() + "boughlight_table_" +
            testing::UnitTest::GetInstance()->current_test_info()->name() + ".csv";
  }
  void TearDown() override { std::filesystem::remove(path_); }
  void write(const std::string& text) { std::ofstream(path_, std::ios::binary) << text; }

  // Line, column and text of every mistake, as "2:3 text".
  std::string problems(bool plain = true) {
    try {
      if (plain) {
        read_plain_table_file(path_, Between::linear, Beyond::zero);
      } else {
        read_table_file(path_);
      }
    } catch (const InputError& error) {
      std::string all;
      for (const Problem& p : error.problems()) {
        EXPECT_EQ(p.mark.file, path_);
        all += std::to_string(p.mark.line) + ":" + std::to_string(p.mark.column) + " " + p.text + "\n";
      }
      return all;
    }
    return "";
  }
  std::string path_;
};

TEST_F(TableFileTest, SettingsAndRowsAreRead) {
  write(
      "# title: a test\n# source: one\n# source: and two\n# unit: 1\n# interpolation: log-linear\n"
      "# outside: hold\n# free text, with a comma\n\n300,1\n 310 , 0.1 \n");
  const TableFile file = read_table_file(path_);
  EXPECT_EQ(file.title, "a test");
  EXPECT_EQ(file.source, "one and two");
  EXPECT_EQ(file.unit, "1");
  EXPECT_EQ(file.table.between(), Between::log_linear);
  EXPECT_EQ(file.table.beyond(), Beyond::hold);
  EXPECT_EQ(file.table.x(), (std::vector<double>{300, 310}));
  EXPECT_EQ(file.table.y(), (std::vector<double>{1, 0.1}));
}

TEST_F(TableFileTest, WindowsLineEndsAndAByteOrderMarkAreRead) {
  write("\xef\xbb\xbf# a comment\r\n300,1\r\n310,2e-1\r\n");
  const Table table = read_plain_table_file(path_, Between::linear, Beyond::zero);
  EXPECT_EQ(table.y(), (std::vector<double>{1, 0.2}));
}

TEST_F(TableFileTest, ALineOfHeadingsAndSemicolonsOrTabsAreASpreadsheets) {
  for (const std::string apart : {",", ";", "\t"}) {
    write("wavelength [nm]" + apart + "power\n300" + apart + "1\n310" + apart + "2e-1\n");
    const Table table = read_plain_table_file(path_, Between::linear, Beyond::zero);
    EXPECT_EQ(table.x(), (std::vector<double>{300, 310})) << apart;
    EXPECT_EQ(table.y(), (std::vector<double>{1, 0.2})) << apart;
  }
}

TEST_F(TableFileTest, WhatStandsAboveTheFirstTwoNumbersIsPassedOver) {
  write(
      "Spectrum of a lamp, 12 March, my bench\nSerial;A-17\n2024-03-12\nIntegration time [ms];100\n\n"
      "nm;W/m2/nm\n300;0,10\n310;2,5\n");
  const Table table = read_plain_table_file(path_, Between::linear, Beyond::zero);
  EXPECT_EQ(table.x(), (std::vector<double>{300, 310}));
  EXPECT_EQ(table.y(), (std::vector<double>{0.1, 2.5}));
  write("nm,power\nnm,power\n300,1\n");
  EXPECT_EQ(problems(), "");
}

TEST_F(TableFileTest, ASlipInTheFirstRowsIsNoHeading) {
  write("nm,power\n25O,0.1\n260,O.2\n265\n270,0.3\n");
  EXPECT_EQ(problems(),
            "2:1 '25O' is not a number; if this row is no data, let it begin with '#'\n"
            "3:5 'O.2' is not a number; if this row is no data, let it begin with '#'\n"
            "4:1 a number alone; if this row is no data, let it begin with '#'\n");
  write("nm,power\n300,0.1\nnm,power\n");
  EXPECT_EQ(problems(), "3:1 'nm' is not a number\n3:4 'power' is not a number\n");
}

TEST_F(TableFileTest, DecimalCommasAreReadWhereTheyCannotBeTheSeparator) {
  for (const std::string apart : {";", "\t", " ; "}) {
    write("nm" + apart + "value\n300,5" + apart + "0,10\n310" + apart + "\"2,5e-1\"\n");
    const Table table = read_plain_table_file(path_, Between::linear, Beyond::zero);
    EXPECT_EQ(table.x(), (std::vector<double>{300.5, 310})) << apart;
    EXPECT_EQ(table.y(), (std::vector<double>{0.1, 0.25})) << apart;
  }
}

TEST_F(TableFileTest, WhatCanBeReadInTwoWaysIsRefused) {
  const std::string comma =
      "; where decimals are written with a comma, a semicolon or a tab must stand between the numbers\n";
  write("nm,value\n300,0,10\n310,5,0,25\n");
  EXPECT_EQ(problems(), "2:7 two numbers a row are wanted, here are 3" + comma +
                            "3:7 two numbers a row are wanted, here are 4" + comma);
  write("300;1;2\n");
  EXPECT_EQ(problems(), "1:7 two numbers a row are wanted, here are 3: leave the two columns that count\n");
  write("300;0,5\n1.000;0,25\n");
  EXPECT_EQ(problems(),
            "2:1 '1.000' may be 1.000 or 1000, for line 1 has '0,5': write all decimals with a point, and "
            "nothing between thousands\n2:1 the first column must rise from row to row\n");
  write("300;1,250\n310;2.5\n");
  EXPECT_EQ(problems(),
            "1:5 '1,250' may be 1.250 or 1250, for line 2 has '2.5': write all decimals with a point, and "
            "nothing between thousands\n");
  write("300;1,250\n310;2,500\n");
  EXPECT_EQ(problems(),
            "1:5 '1,250' may be 1.250 or 1250: write all decimals with a point, and nothing between "
            "thousands\n");
  write("300;1,250\n310;0,500\n");
  EXPECT_EQ(problems(), "") << "0,500 is no thousand";
  write("300;1.234,5\n310;2\n");
  EXPECT_EQ(problems(), "1:5 '1.234,5' is not a number; if this row is no data, let it begin with '#'\n");
}

TEST_F(TableFileTest, AFileWithoutTwoNumbersInARowSaysSo) {
  write("a spectrum\nnm power\n300 0,1\n310 0,2\n");
  EXPECT_EQ(problems(),
            "3:1 no row holds two numbers with a comma, semicolon or tab between them; found '300 0,1'\n");
  write("lorem ipsum\n");
  EXPECT_EQ(
      problems(),
      "1:1 no row holds two numbers with a comma, semicolon or tab between them; found 'lorem ipsum'\n");
}

TEST_F(TableFileTest, EveryMistakeIsToldWithItsPlace) {
  write("300,1\n310 2\n320,x\n 1e,2\n330,-1\n300,2\n340,1,2\n350,nan\n360,1e999\n0x10,1\n370,1e308\n");
  EXPECT_EQ(problems(),
            "2:1 two numbers with a comma between them are wanted, found '310 2'\n"
            "3:5 'x' is not a number\n"
            "4:2 '1e' is not a number\n"
            "5:5 a value must not be negative\n"
            "6:1 the first column must rise from row to row\n"
            "7:7 two numbers a row are wanted, here are 3; where decimals are written with a comma, a "
            "semicolon or a tab must stand between the numbers\n"
            "8:5 'nan' is not a number\n"
            "9:5 '1e999' is not a number\n"
            "10:1 '0x10' is not a number\n"
            "11:5 '1e308' is beyond 1e30: no table holds that\n");
}

TEST_F(TableFileTest, MissingSettingsOfAStandardFileAreErrors) {
  write("300,1\n310,2\n");
  EXPECT_EQ(problems(false),
            "0:0 needs a line '# interpolation: linear' or '# interpolation: log-linear'\n"
            "0:0 needs a line '# outside: zero' or '# outside: hold'\n");
}

TEST_F(TableFileTest, UnknownSettingsAreErrors) {
  write("# interpolation: cubic\n# outside:  wrap\n300,1\n");
  EXPECT_EQ(problems(false),
            "1:18 interpolation is linear or log-linear, not 'cubic'\n"
            "2:13 outside is zero or hold, not 'wrap'\n");
}

TEST_F(TableFileTest, ASettingGivenTwiceIsAnError) {
  write("# interpolation: linear\n# interpolation: linear\n# outside: zero\n# outside: hold\n300,1\n");
  EXPECT_EQ(problems(false), "2:1 'interpolation' is given twice\n4:1 'outside' is given twice\n");
}

TEST_F(TableFileTest, AnEmptyFileIsAnError) {
  write("# only a comment\n");
  const std::string none = "0:0 holds no rows; two numbers a row are wanted: 'x, y'\n";
  EXPECT_EQ(problems(), none);
  write("\"a heading\n300,1\nof three lines\",value\n");
  EXPECT_EQ(problems(), none);
}

TEST_F(TableFileTest, AMissingFileIsAnError) {
  EXPECT_EQ(problems(), "0:0 there is no such file\n");
}

TEST_F(TableFileTest, AFolderIsAnError) {
  std::filesystem::create_directory(path_);
  EXPECT_EQ(problems(), "0:0 is a folder, not a file\n");
}

TEST_F(TableFileTest, AFileThatIsNoTableGivesAFewMistakesNotThousands) {
  std::string noise = "300,1\n";
  for (int i = 0; i < 5000; ++i) noise += "lorem ipsum\n";
  write(noise);
  const std::string all = problems();
  EXPECT_EQ(std::count(all.begin(), all.end(), '\n'), 20);
}

TEST(StandardFiles, EachHasTitleSourceAndUnit) {
  for (const char* name : {"erythema", "vitamin-d3", "actinic", "luminous-efficiency", "d65"}) {
    const TableFile file =
        read_table_file((library_path() / "standard" / (std::string(name) + ".csv")).string());
    EXPECT_FALSE(file.title.empty()) << name;
    EXPECT_FALSE(file.source.empty()) << name;
    EXPECT_FALSE(file.unit.empty()) << name;
  }
}

}  // namespace
}  // namespace boughlight
