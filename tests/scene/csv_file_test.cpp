// Files of separated values.
#include "scene/csv_file.h"

#include "stand_ins.h"

namespace boughlight {
namespace {

CsvFile read(const std::string& text) {
  const TempFolder folder;
  return read_csv_file(folder.write("readings.csv", text));
}

std::string mistake(const std::string& text) {
  const TempFolder folder;
  try {
    read_csv_file(folder.write("readings.csv", text));
  } catch (const InputError& error) {
    std::string message = error.what();
    return message.substr(message.find("readings.csv"));
  }
  return "";
}

TEST(CsvFile, CellsKnowWhereTheyStand) {
  const CsvFile csv = read("# a word\nplace, reading\r\n\"sun \"\"perch\"\"\",2.5\n\n Größe , \"1,5\nx\"\n");
  ASSERT_EQ(csv.rows.size(), 2U);
  EXPECT_EQ(csv.header[1].text, "reading");
  EXPECT_EQ(csv.header[1].column, 8);
  EXPECT_EQ(csv.rows[0][0].text, "sun \"perch\"");
  EXPECT_EQ(csv.rows[0][1].text, "2.5");
  EXPECT_EQ(csv.rows[0][1].line, 3);
  EXPECT_EQ(csv.rows[1][0].text, "Größe");
  EXPECT_EQ(csv.rows[1][0].column, 2);
  EXPECT_EQ(csv.rows[1][1].text, "1,5\nx");
  EXPECT_EQ(csv.rows[1][1].column, 10) << "characters, not bytes";
}

TEST(CsvFile, TakesSemicolonsAndTabs) {
  EXPECT_EQ(read("a;b\n1,5;2\n").rows[0][0].text, "1,5");
  EXPECT_EQ(read("a\tb\n1\t2\n").rows[0][1].text, "2");
}

TEST(CsvFile, TakesWhatASpreadsheetSaysOfTheSeparator) {
  for (const char* text :
       {"sep=;\na,b;c\n1,5;2\n", "Sep=;\r\na,b;c\r\n1,5;2\r\n", "# mine\nsep=;\na,b;c\n1,5;2\n"}) {
    const CsvFile csv = read(text);
    ASSERT_EQ(csv.header.size(), 2U) << text;
    EXPECT_EQ(csv.header[0].text, "a,b");
    ASSERT_EQ(csv.rows.size(), 1U);
    EXPECT_EQ(csv.rows[0][0].text, "1,5");
  }
  EXPECT_EQ(read("sep=,\na,b\n1,2\n").rows[0][1].line, 3);
  EXPECT_EQ(read("sep=\t\na\tb\n1\t2\n").rows[0][1].text, "2");
  EXPECT_EQ(read("sep,b\n1,2\n").header[0].text, "sep") << "a column of that name";
}

TEST(CsvFile, ShortRowsAreFilledAndLongOnesRefused) {
  EXPECT_EQ(read("a,b\n1\n").rows[0][1].text, "");
  EXPECT_EQ(read("a,b\n1,2,,\n").rows[0].size(), 2U);
  EXPECT_EQ(
      mistake("a,b\n1,2,3\n"),
      "readings.csv:2:5: this row has 3 cells, the header 2: put text that holds the separator in double "
      "quotes");
}

TEST(CsvFile, MistakesAreTold) {
  EXPECT_EQ(mistake("a,b\n1,\"2\n"), "readings.csv:2:3: the quote that opens here is never closed");
  EXPECT_EQ(mistake("\n\n"), "readings.csv: is empty: a line with the names of the columns is needed");
  EXPECT_EQ(mistake("#\n"), "readings.csv: is empty: a line with the names of the columns is needed");
}

}  // namespace
}  // namespace boughlight
