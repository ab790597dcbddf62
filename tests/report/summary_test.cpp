#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "read_back.h"
#include "report/text.h"
#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

std::size_t where(const std::string& text, const std::string& part) {
  const std::size_t at = text.find(part);
  EXPECT_NE(at, std::string::npos) << "'" << part << "' is missing in\n" << text;
  return at;
}

void expect_80_columns(const Survey& survey) {
  for (const std::string& line : lines_of(terminal_summary(survey))) {
    EXPECT_LE(display_width(line), 80) << line;
    EXPECT_EQ(line, printable(line));  // no control characters
  }
}

TEST(TerminalSummary, FitsEightyColumns) {
  expect_80_columns(sample_survey());
}

TEST(TerminalSummary, FitsEightyColumnsWithAnyNamesNumbersAndUnits) {
  for (const std::string& name :
       {std::string(400, 'w'),
        std::string("日本語の枝日本語の枝日本語の枝日本語の枝日本語の枝日本語の枝日本語"),
        std::string("an \x1b[31mangry\nname\twith \xFF bytes that goes on and on and on and on and on")}) {
    for (const char* unit : {"mm", "ft"}) {
      Survey survey = sample_survey();
      survey.scene.length_unit = unit;
      survey.scene.title = name + name;
      for (Reading& reading : survey.readings) {
        reading.name = name;
        for (auto& [quantity, figure] : reading.values) figure.value *= 123456;
        for (WantResult& want : reading.wants) {
          want.figure = {123456.789, 12345.6, false};
          want.want.limits = {12345.67, 123456.78};
          want.verdict = Verdict::unsure;
        }
      }
      for (HottestPlace* place : {&survey.hottest->uvi, &survey.hottest->irradiance_at_full})
        place->lamp = name;
      survey.cautions.push_back({"length", name + " " + name});
      expect_80_columns(survey);
    }
  }
}

TEST(TerminalSummary, FitsEightyColumnsWithHundredsOfWants) {
  Survey survey = sample_survey();
  const Reading perch = survey.readings[0];
  for (int i = 0; i < 450; ++i) survey.readings.push_back(perch);
  expect_80_columns(survey);
}

TEST(TerminalSummary, TellsTheWorstFirst) {
  const std::string text = terminal_summary(sample_survey());
  const std::vector<std::size_t> order = {where(text, "UVI 9.4, MORE THAN your limit of 7"),
                                          where(text, "sun perch: UVI"),
                                          where(text, "UNSURE"),
                                          where(text, "refuge zone: 10.4"),
                                          where(text, "As wanted"),
                                          where(text, "shade fork: UVI"),
                                          where(text, "refuge zone: 50 %"),
                                          where(text, "Readings"),
                                          where(text, "If every dimmer"),
                                          where(text, "UVI 11.8"),
                                          where(text, "Cautions"),
                                          where(text, "Estimates, not measurements: the meter decides.")};
  EXPECT_TRUE(std::is_sorted(order.begin(), order.end())) << text;
}

TEST(TerminalSummary, NamesPlaceLampAndUnit) {
  const std::string text = terminal_summary(sample_survey());
  where(text, "x 45, y 24,\n    z 157 cm");  // a figure is not parted from its unit at a line's end
  where(text, "'uv tube'");
  where(text, "umol/m2/s");
  where(text, "585 W/m2, too high: wanted 150 to 500");
}

TEST(TerminalSummary, DoubtIsShownWhereItMatters) {
  const std::string text = terminal_summary(sample_survey());
  where(text, "10.4 +- 0.8 %");                  // unsure: twice the standard error
  EXPECT_EQ(text.find("+-"), text.rfind("+-"));  // and nowhere else
  Survey survey = sample_survey();
  survey.readings[0].wants[0].figure = {2.3, 0.11, false};
  where(terminal_summary(survey), "UVI 2.3 +- 0.22");  // the rays did not suffice
}

TEST(TerminalSummary, LastLineIsTheVerdictInPlainWords) {
  Survey survey = sample_survey();
  EXPECT_EQ(lines_of(terminal_summary(survey)).back(),
            "5 of 10 not met, 1 unsure. Estimates, not measurements: the meter decides.");
  for (Reading& reading : survey.readings) {
    for (WantResult& want : reading.wants) want.verdict = Verdict::met;
  }
  survey.hottest->uvi.verdict = Verdict::met;
  survey.verdict = WholeVerdict::unsure;
  EXPECT_EQ(lines_of(terminal_summary(survey)).back(),
            "1 of 10 unsure. Estimates, not measurements: the meter decides.");
  survey.zone_wants[1].verdict = Verdict::met;
  survey.verdict = WholeVerdict::met;
  EXPECT_EQ(lines_of(terminal_summary(survey)).back(),
            "All wants met. Estimates, not measurements: the meter decides.");
}

TEST(TerminalSummary, StandsWithNothingAsked) {
  Survey survey = sample_survey();
  survey.readings.clear();
  survey.zones.clear();
  survey.zone_wants.clear();
  survey.scene.animal->never.clear();
  survey.hottest.reset();
  survey.cautions.clear();
  survey.verdict = WholeVerdict::met;
  EXPECT_EQ(
      terminal_summary(survey),
      "Cabinet on the landing\n\nNothing was asked for. Estimates, not measurements: the meter decides.\n");
}

TEST(TerminalSummary, SmallReadingsDoNotFeignPrecision) {
  Survey survey = sample_survey();
  survey.readings[0].values[Quantity::uvi].value = 0.003;
  survey.readings[0].values[Quantity::irradiance].value = 0;
  const std::string text = terminal_summary(survey);
  where(text, "<0.01");
}

}  // namespace
}  // namespace boughlight
