#include <gtest/gtest.h>

#include "units/units.h"

namespace boughlight {
namespace {

TEST(PrintNumber, KeepsThreeDigitsWithoutAnExponent) {
  EXPECT_EQ(print_number(0), "0");
  EXPECT_EQ(print_number(-0.0), "0");
  EXPECT_EQ(print_number(0.012345), "0.0123");
  EXPECT_EQ(print_number(4.5678), "4.57");
  EXPECT_EQ(print_number(4.5), "4.5");
  EXPECT_EQ(print_number(151.4), "151");
  EXPECT_EQ(print_number(100), "100");
  EXPECT_EQ(print_number(-2.349), "-2.35");
}

TEST(PrintNumber, CarriesRoundingIntoTheNextDigit) {
  EXPECT_EQ(print_number(9.996), "10");
  EXPECT_EQ(print_number(99.96), "100");
  EXPECT_EQ(print_number(0.09999), "0.1");
  EXPECT_EQ(print_number(99999), "100 000");
}

TEST(PrintNumber, PutsBlanksBetweenThousandsFromFiveDigitsOn) {
  EXPECT_EQ(print_number(1234), "1230");
  EXPECT_EQ(print_number(12345), "12 300");
  EXPECT_EQ(print_number(-12345), "-12 300");
  EXPECT_EQ(print_number(123456), "123 000");
  EXPECT_EQ(print_number(20000000), "20 000 000");
  EXPECT_EQ(print_number(12345678, 8), "12 345 678");
}

TEST(PrintNumber, TakesAnExponentOnlyAtTheEndsOfTheRange) {
  EXPECT_EQ(print_number(0.0001234), "0.000123");
  EXPECT_EQ(print_number(0.00001234), "1.23e-05");
  EXPECT_EQ(print_number(1.5e9), "1.5e+09");
}

}  // namespace
}  // namespace boughlight
