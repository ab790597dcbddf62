// Doubt in readings.json, readings.csv and on the terminal.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "doubtful_survey.h"
#include "read_back.h"
#include "report/text.h"
#include "report/write.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

TEST(DoubtJson, ReadingsCarryBandsCausesAndLeaves) {
  const Survey survey = doubtful_survey();
  const Json json = Json::parse(readings_json(survey));
  const Json& uvi = json["readings"][0]["doubt"]["uvi"];
  EXPECT_EQ(keys(uvi), (Keys{"low", "high", "log_sd", "causes", "leaves"}));
  const double value = survey.readings[0].values.at(Quantity::uvi).value;
  EXPECT_NEAR(uvi["low"].get<double>(), value * std::exp(-1.96 * 0.2), 1e-5 * value);
  EXPECT_EQ(uvi["log_sd"], 0.2);
  EXPECT_EQ(uvi["causes"][0], (Json{{"cause", "lamp"}, {"name", "uv tube"}, {"share", 0.6}}));
  EXPECT_EQ(uvi["causes"][2], (Json{{"cause", "height"}, {"share", 0.1}}));
  EXPECT_EQ(uvi["leaves"]["relative_sd"], 0.12);
  EXPECT_EQ(json["readings"][0]["doubt"].size(), std::size_t{kQuantities});
}

TEST(DoubtJson, ChainsAreFactorsWhoseProductIsTheValue) {
  const Json json = Json::parse(readings_json(doubtful_survey()));
  const Json& chain = json["readings"][0]["chains"][0];
  EXPECT_EQ(keys(chain),
            (Keys{"lamp", "quantity", "start", "start_m", "declared", "losses", "value", "reflected"}));
  EXPECT_EQ(keys(chain["losses"]), (Keys{"age", "dimmer", "distance_and_shape", "slant", "mesh", "panes",
                                         "leaves_and_branches", "reflection_gained"}));
  double product = chain["start"];
  for (const auto& [name, factor] : chain["losses"].items()) product *= factor.get<double>();
  EXPECT_NEAR(product, chain["value"].get<double>(), 1e-4 * product) << "six digits each";
  EXPECT_EQ(json["readings"][1]["chains"], Json::array());
  Survey dark = doubtful_survey();
  dark.doubt.readings[0].chains[0].losses.back().factor.reset();
  EXPECT_TRUE(
      Json::parse(readings_json(dark))["readings"][0]["chains"][0]["losses"]["reflection_gained"].is_null());
}

TEST(DoubtJson, WantsAndHottestSayWhetherTheyAreFirmAndKeepTheirVerdict) {
  const Json json = Json::parse(readings_json(doubtful_survey()));
  EXPECT_EQ(json["readings"][0]["wants"][0]["verdict"], "met");
  EXPECT_EQ(json["readings"][0]["wants"][0]["firm"], false);
  EXPECT_EQ(json["hottest"]["uvi"]["firm"], false);
  EXPECT_EQ(json["hottest"]["uvi"]["verdict"], "above");
  EXPECT_TRUE(json["hottest"]["uvi"]["doubt"].contains("causes"));
  EXPECT_FALSE(json["hottest"]["irradiance"].contains("doubt")) << "not found";
}

TEST(DoubtJson, FailuresListWhatBreaks) {
  const Json json = Json::parse(readings_json(doubtful_survey()));
  const Json& out = json["failures"][0];
  EXPECT_EQ(out["kind"], "lamp-out");
  EXPECT_EQ(out["name"], "uv tube");
  EXPECT_EQ(out["text"], "'uv tube' goes out");
  EXPECT_EQ(out["breaks"][0], (Json{{"reading", "sun perch"},
                                    {"quantity", "uvi"},
                                    {"value", 0.01},
                                    {"se", 0.001},
                                    {"limit", 2.5},
                                    {"verdict", "below"},
                                    {"already", false}}));
  EXPECT_EQ(out["breaks"][2]["place"], "hottest");
  EXPECT_EQ(json["failures"][1]["air_c"], 31);
  EXPECT_EQ(json["failures"][1]["breaks"], Json::array());
}

TEST(DoubtJson, HoldsTheMeterSheetAndWhatWasDeclared) {
  const Json json = Json::parse(readings_json(doubtful_survey()));
  EXPECT_EQ(json["meter_sheet"]["log_sd_after"], 0.1);
  EXPECT_EQ(json["meter_sheet"]["rows"].size(), 3u);
  EXPECT_EQ(json["meter_sheet"]["rows"][1]["only_lamp"], "basking flood");
  EXPECT_FALSE(json["meter_sheet"]["rows"][0].contains("only_lamp"));
  EXPECT_EQ(keys(json["doubt"]), (Keys{"lamp", "ageing", "mesh", "surfaces", "position_m", "leaf_drawings"}));
  EXPECT_EQ(json["doubt"]["lamp"], 0.15);
}

TEST(DoubtJson, ASurveyWithoutSaysNothing) {
  const Json json = Json::parse(readings_json(sample_survey()));
  for (const char* key : {"doubt", "failures", "meter_sheet"}) EXPECT_FALSE(json.contains(key)) << key;
  EXPECT_FALSE(json["readings"][0].contains("chains"));
  EXPECT_FALSE(json["readings"][0]["wants"][0].contains("firm"));
}

TEST(DoubtCsv, RowsEndInBandLeavesAndFirmness) {
  const auto lines = [](const Survey& survey) {
    std::istringstream stream(readings_csv(survey));
    std::vector<std::string> found;
    for (std::string line; std::getline(stream, line);) found.push_back(line);
    return found;
  };
  const Survey survey = doubtful_survey();
  const auto ends_in = [](const std::string& line, const std::string& end) {
    return line.size() > end.size() && line.compare(line.size() - end.size(), end.size(), end) == 0;
  };
  const auto found = lines(survey);
  EXPECT_TRUE(ends_in(
      found[0], ",top,top_se,middle,middle_se,shaded,shaded_se,standing,low,high,leaves_relative_sd,firm"))
      << found[0];
  const Band& band = survey.doubt.readings[0].bands.at(Quantity::uvi);
  EXPECT_TRUE(ends_in(found[1], "," + six_digit_text(band.low, "low") + "," +
                                    six_digit_text(band.high, "high") + ",0.12,false"))
      << found[1];
  EXPECT_TRUE(ends_in(found[2], ",0.12,")) << "no want, no firmness: " << found[2];
  EXPECT_TRUE(ends_in(lines(sample_survey())[1], ",,,,")) << "nothing known";
}

std::string summary() {
  return terminal_summary(doubtful_survey());
}

void expect_part(const std::string& part) {
  EXPECT_NE(summary().find(part), std::string::npos) << "'" << part << "' is missing in\n" << summary();
}

TEST(DoubtSummary, PutsWhatHangsOnTheLampBetweenUnsureAndMet) {
  const std::string text = summary();
  const auto at = [&](const char* part) {
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
    return text.find(part);
  };
  EXPECT_LT(at("NOT AS WANTED"), at("UNSURE"));
  EXPECT_LT(at("UNSURE"), at("Met, if the lamp is as declared"));
  EXPECT_LT(at("Met, if the lamp is as declared"), at("  ~ sun perch: UVI"));
  EXPECT_LT(at("  ~ sun perch: UVI"), at("As wanted\n"));
  at("because lamps like 'uv tube' differ");
}

TEST(DoubtSummary, TellsWhatBreaksAndWhatDoesNot) {
  expect_part("  ! 'uv tube' goes out: sun perch UVI 0.01, below 2.5; and 1 more.");
  expect_part("  - Nothing more breaks if: the room is at 31 C.");
}

TEST(DoubtSummary, TellsWhereToMeasureAndWhatItIsWorth) {
  expect_part("Measure first (meter-sheet.txt to print, meter-sheet.csv to fill in)\n  1. sun perch: UVI");
  expect_part("on the screen under basking flood, only 'basking flood' lit: 12 300 lx;");
  expect_part("from +-39 % to");
  expect_part("+-20 % (typical, 95 %)");
}

TEST(DoubtSummary, FollowsTheLightToTheSunPerch) {
  expect_part("On the way to sun perch\n  UVI 4 in free air, new, 30 cm from 'uv tube', x 0.9 age,");
  expect_part("x 0.7 distance and shape");
  EXPECT_EQ(summary().find("x 1 dimmer"), std::string::npos) << "what takes nothing is left out";
}

TEST(DoubtSummary, NamesTheReadingsThatHangOnTheLeaves) {
  expect_part("If the leaves hang elsewhere");
  expect_part("+-12 %");
  expect_part("more less.");
}

TEST(DoubtSummary, FitsEightyColumns) {
  Survey survey = doubtful_survey();
  for (int pass = 0; pass < 2; ++pass) {
    std::istringstream stream(terminal_summary(survey));
    for (std::string line; std::getline(stream, line);) EXPECT_LE(display_width(line), 80) << line;
    const std::string name(300, 'w');
    for (Reading& reading : survey.readings) reading.name = name;
    survey.doubt.readings[0].chains[0].lamp = name;
    survey.doubt.meter.rows[0].place = survey.doubt.meter.rows[1].lamps = name;
    survey.doubt.failures[0].text = survey.doubt.failures[0].breaks[0].reading = name;
    for (auto& [quantity, band] : survey.doubt.readings[0].bands) band.causes[0].name = name;
  }
}

}  // namespace
}  // namespace boughlight
