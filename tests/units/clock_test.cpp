#include <gtest/gtest.h>

#include "units/units.h"

namespace boughlight {
namespace {

std::vector<std::pair<double, double>> spans_of(std::string_view text) {
  std::string why;
  const auto spans = parse_clock_spans(text, why);
  EXPECT_TRUE(spans) << text << ": " << why;
  std::vector<std::pair<double, double>> out;
  if (spans) {
    for (const ClockSpan& span : *spans) out.emplace_back(span.from_h, span.to_h);
  }
  return out;
}

using Spans = std::vector<std::pair<double, double>>;

TEST(ClockSpans, AreSortedAndDisjoint) {
  EXPECT_EQ(spans_of("08:00-18:00"), (Spans{{8, 18}}));
  EXPECT_EQ(spans_of("8:30-9:15"), (Spans{{8.5, 9.25}}));
  EXPECT_EQ(spans_of("14:00-17:00,08:00-12:00"), (Spans{{8, 12}, {14, 17}}));
  EXPECT_EQ(spans_of(" 08:00 - 12:00 ,  14:00-17:00 "), (Spans{{8, 12}, {14, 17}}));
}

TEST(ClockSpans, OverlappingAndTouchingOnesAreUnioned) {
  EXPECT_EQ(spans_of("08:00-12:00, 11:00-13:00, 13:00-14:00"), (Spans{{8, 14}}));
  EXPECT_EQ(spans_of("08:00-18:00, 09:00-10:00"), (Spans{{8, 18}}));
}

TEST(ClockSpans, MayPassMidnight) {
  EXPECT_EQ(spans_of("20:00-06:00"), (Spans{{0, 6}, {20, 24}}));
  EXPECT_EQ(spans_of("20:00-00:00"), (Spans{{20, 24}}));
  EXPECT_EQ(spans_of("20:00-24:00"), (Spans{{20, 24}}));
  EXPECT_EQ(spans_of("22:00-06:00, 05:00-08:00"), (Spans{{0, 8}, {22, 24}}));
}

TEST(ClockSpans, AddUpToTheHoursLit) {
  std::string why;
  EXPECT_DOUBLE_EQ(total_hours(*parse_clock_spans("08:00-12:00, 14:00-17:00", why)), 7);
  EXPECT_DOUBLE_EQ(total_hours(*parse_clock_spans("20:00-06:00", why)), 10);
  EXPECT_DOUBLE_EQ(total_hours(*parse_clock_spans("00:00-24:00", why)), 24);
  EXPECT_EQ(total_hours({}), 0);
}

TEST(ClockSpans, BadOnesSayWhy) {
  const std::string form = R"(write times of day as in "08:00-12:00, 14:00-17:00")";
  const std::pair<const char*, std::string> cases[] = {
      {"", "there are no times here: " + form},
      {"   ", "there are no times here: " + form},
      {"8-18", "'8-18' is not a range of clock times: " + form},
      {"08:00", "'08:00' is not a range of clock times: " + form},
      {"08:00-25:00", "'08:00-25:00' is not a range of clock times: " + form},
      {"08:60-09:00", "'08:60-09:00' is not a range of clock times: " + form},
      {"08:00-24:01", "'08:00-24:01' is not a range of clock times: " + form},
      {"08:5-09:00", "'08:5-09:00' is not a range of clock times: " + form},
      {"-1:00-09:00", "'-1:00-09:00' is not a range of clock times: " + form},
      {"08:00-09:00-10:00", "'08:00-09:00-10:00' is not a range of clock times: " + form},
      {"08:00-09:00,", "'' is not a range of clock times: " + form},
      {"8am-6pm", "'8am-6pm' is not a range of clock times: " + form},
      {"99999999999:00-9:00", "'99999999999:00-9:00' is not a range of clock times: " + form},
      {"08:00-08:00", "'08:00-08:00' is empty: for the whole day write 00:00-24:00"},
      {"24:00-06:00", "'24:00-06:00' starts at 24:00: write 00:00 for the start of a day"},
  };
  for (const auto& [text, expected] : cases) {
    std::string why;
    EXPECT_FALSE(parse_clock_spans(text, why)) << text;
    EXPECT_EQ(why, expected);
  }
}

TEST(ClockSpans, ThatPassMidnightAreJoined) {
  std::string why;
  const auto joined = [&](std::string_view text) {
    Spans out;
    for (const ClockSpan& span : joined_over_midnight(*parse_clock_spans(text, why)))
      out.emplace_back(span.from_h, span.to_h);
    return out;
  };
  EXPECT_EQ(joined("20:00-06:00"), (Spans{{20, 30}}));
  EXPECT_EQ(joined("20:00-06:00, 09:00-12:00"), (Spans{{9, 12}, {20, 30}}));
  EXPECT_EQ(joined("20:00-24:00, 09:00-12:00"), (Spans{{9, 12}, {20, 24}}));
  EXPECT_EQ(joined("00:00-06:00"), (Spans{{0, 6}}));
  EXPECT_EQ(joined("00:00-24:00"), (Spans{{0, 24}}));
}

TEST(ClockTime, IsReadAndPrinted) {
  std::string why;
  EXPECT_DOUBLE_EQ(*parse_clock_time("09:30", why), 9.5);
  EXPECT_DOUBLE_EQ(*parse_clock_time(" 9:30 ", why), 9.5);
  EXPECT_DOUBLE_EQ(*parse_clock_time("0:00", why), 0);
  for (const char* text : {"24:00", "9.30", "9", "09:60", "", "09:30-10:00"}) {
    EXPECT_FALSE(parse_clock_time(text, why)) << text;
    EXPECT_EQ(why, std::string("'") + text + "' is not a time of day: write it as in \"09:30\"");
  }
  EXPECT_EQ(print_clock_time(9.5), "09:30");
  EXPECT_EQ(print_clock_time(0), "00:00");
  EXPECT_EQ(print_clock_time(24), "24:00");
  EXPECT_EQ(print_clock_time(30.25), "06:15");
  EXPECT_EQ(print_clock_time(13.0 / 12), "01:05");
}

}  // namespace
}  // namespace boughlight
