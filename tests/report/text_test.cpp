#include "report/text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace boughlight {
namespace {

TEST(ReportText, ControlCharactersBecomeBlanks) {
  EXPECT_EQ(printable("a\nb\x1b[31mc\td\x7f"), "a b [31mc d ");
  // U+009B is an escape of its own to some terminals, U+202E turns the direction of writing.
  EXPECT_EQ(printable("x\xC2\x9By\xE2\x80\xAEz"), "x y z");
}

TEST(ReportText, BytesThatAreNoUtf8AreReplacedOneByOne) {
  EXPECT_EQ(code_points("a\xFF").at(1), U'\xFFFD');
  EXPECT_EQ(code_points("\xC3").size(), 1u);          // cut off
  EXPECT_EQ(code_points("\xC0\xAF").size(), 2u);      // longer than needed: two bad bytes
  EXPECT_EQ(code_points("\xED\xA0\x80").size(), 3u);  // half of a surrogate pair
  EXPECT_EQ(code_points("\xF0\x9F\xA6\x8E").at(0), U'\U0001F98E');
}

TEST(ReportText, WidthCountsColumnsNotBytes) {
  EXPECT_EQ(display_width("Röhre"), 5);
  EXPECT_EQ(display_width("日本"), 4);
  EXPECT_EQ(display_width("e\xCC\x81"), 1);  // e and a combining acute
}

TEST(ReportText, ShorteningNeverCutsACharacterAndKeepsToItsColumns) {
  EXPECT_EQ(shortened("perch", 5), "perch");
  EXPECT_EQ(shortened("high perch", 8), "high ...");
  EXPECT_EQ(shortened("日本語日本語", 8), "日本...");
  for (int columns = 4; columns < 30; ++columns) {
    EXPECT_LE(display_width(shortened("Ausguck über 日本 dem Kaffeestrauch", columns)), columns);
  }
}

TEST(ReportText, WrappedLinesKeepTheirIndentAndBreakWordsThatAreTooLong) {
  EXPECT_EQ(wrapped("one two three", 10, "- ", "  "), (std::vector<std::string>{"- one two", "  three"}));
  EXPECT_EQ(wrapped("abcdefghij", 6, "- ", "  "), (std::vector<std::string>{"- abcd", "  efgh", "  ij"}));
  EXPECT_EQ(wrapped("", 10, "- ", "  "), (std::vector<std::string>{"- "}));
}

TEST(ReportText, UnbrokenTextStaysOnOneLine) {
  EXPECT_EQ(wrapped("light " + unbroken("11 100 lx"), 12, "", ""),
            (std::vector<std::string>{"light", "11 100 lx"}));
}

TEST(ReportText, FiguresKeepSixDigits) {
  EXPECT_EQ(six_digits(3.14159265, "pi"), 3.14159);
  EXPECT_EQ(six_digits(-0.0, "zero"), 0.0);
  EXPECT_FALSE(std::signbit(six_digits(-0.0, "zero")));
  EXPECT_EQ(six_digit_text(0.012345678, "x"), "0.0123457");
  EXPECT_EQ(six_digit_text(123456.7, "x"), "123457");
}

TEST(ReportText, ANumberThatIsNoneThrowsAndIsNamed) {
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    try {
      six_digits(bad, "uvi of ledge");
      FAIL() << bad << " was let through";
    } catch (const std::runtime_error& error) {
      EXPECT_NE(std::string(error.what()).find("'uvi of ledge'"), std::string::npos) << error.what();
    }
  }
}

// RFC 4180, section 2, rules 5 to 7.
TEST(ReportText, CsvFieldsAreQuotedWhereTheyMustBe) {
  EXPECT_EQ(csv_field("plain name"), "plain name");
  EXPECT_EQ(csv_field("#1"), "\"#1\"") << "else a remark when read back";
  EXPECT_EQ(csv_field("left, high"), "\"left, high\"");
  EXPECT_EQ(csv_field("the \"good\" one"), "\"the \"\"good\"\" one\"");
  EXPECT_EQ(csv_field("two\nlines"), "\"two\nlines\"");
}

}  // namespace
}  // namespace boughlight
