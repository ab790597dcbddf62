// Rows of separated values, and how their decimals are written.
#include "units/csv_rows.h"

#include <gtest/gtest.h>

#include "units/problem.h"

namespace boughlight {
namespace {

std::vector<std::vector<CsvCell>> rows(const std::string& text, char separator = ',') {
  std::vector<std::vector<CsvCell>> all;
  std::vector<CsvCell> row;
  for (CsvRows reader(text, "t.csv", separator); reader.next(row);) all.push_back(row);
  return all;
}

TEST(CsvRows, CellsKnowWhereTheyStandAndCommentsAreLeftOut) {
  const auto all = rows("# one\na, \"b;\"\"\"c;d\"\n  # two\n\nµ;;d\r\n", ';');
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[0][0].text, "a, \"b");
  EXPECT_EQ(all[0][1].text, "\"c;d");
  EXPECT_EQ(all[1].size(), 1U) << "an empty line";
  ASSERT_EQ(all[2].size(), 3U);
  EXPECT_EQ(all[2][2].text, "d");
  EXPECT_EQ(all[2][2].line, 5);
  EXPECT_EQ(all[2][2].column, 4) << "characters, not bytes";
}

TEST(CsvRows, TabsBetweenCellsAreNoBlanks) {
  const auto all = rows("\t# no comment\tc\n", '\t');
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].size(), 3U);
}

TEST(CsvRows, ARowThatNeverEndsIsRefused) {
  EXPECT_EQ(rows(std::string(9'999, ',') + "\n").at(0).size(), 10'000U);
  EXPECT_THROW(rows("a\n" + std::string(10'000, ',')), InputError);
}

std::string read(DecimalMark& mark, const std::string& text, int line = 1) {
  return mark.with_point({text, line, 1});
}

TEST(DecimalMark, ACommaIsADecimalOneWhereItCannotBeTheSeparator) {
  DecimalMark semicolons(';'), commas(',');
  EXPECT_EQ(read(semicolons, "0,10"), "0.10");
  EXPECT_EQ(read(semicolons, "-2,5e-1"), "-2.5e-1");
  EXPECT_EQ(read(semicolons, "12,5 uW/cm2"), "12.5 uW/cm2");
  EXPECT_EQ(read(semicolons, "1.234,5"), "1.234,5") << "left as it is: no number";
  EXPECT_EQ(read(semicolons, "a,b"), "a,b");
  EXPECT_EQ(read(commas, "0,10"), "0,10");
  EXPECT_FALSE(semicolons.doubt());
}

TEST(DecimalMark, AThousandOrAFractionIsInDoubtUntilOtherNumbersTell) {
  const auto doubtful = [](std::initializer_list<const char*> numbers) -> std::string {
    DecimalMark mark(';');
    int line = 0;
    for (const char* number : numbers) read(mark, number, ++line);
    const auto doubt = mark.doubt();
    return doubt ? doubt->first.text : "";
  };
  EXPECT_EQ(doubtful({"1,250"}), "1,250");
  EXPECT_EQ(doubtful({"1,250", "0,5"}), "");
  EXPECT_EQ(doubtful({"0,5", "2.5"}), "") << "each clear by itself";
  EXPECT_EQ(doubtful({"1,250", "0,5", "2.5"}), "1,250");
  EXPECT_EQ(doubtful({"0,5", "1.250"}), "1.250");
  EXPECT_EQ(doubtful({"1.250", "2"}), "") << "a point alone is a decimal point, as everywhere";
  EXPECT_EQ(doubtful({"0,125", "1,250e3", "1,25", "1250,125"}), "");
}

}  // namespace
}  // namespace boughlight
