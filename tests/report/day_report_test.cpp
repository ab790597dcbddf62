// The day in readings.json, readings.csv, day.csv, the terminal and its chart.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "read_back.h"
#include "report/day_chart.h"
#include "report/json_text.h"
#include "report/text.h"
#include "report/write.h"
#include "sample_day.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(DayJson, FollowsEveryReadingAndSource) {
  const Survey survey = survey_with_day();
  const Json json = Json::parse(readings_json(survey));
  const Json& day = json["day"];
  EXPECT_NEAR(day["step_h"].get<double>(), 1.0 / 12, 1e-6);
  EXPECT_EQ(day["longest_dark"], (Json{{"from", "20:00"}, {"to", "07:00"}, {"hours", 11}}));
  EXPECT_EQ(day["sources"]["basking flood"].size(), kClockMoments);
  EXPECT_EQ(day["sources"]["basking flood"][9 * 12 + 3], 0.5);
  ASSERT_EQ(day["readings"].size(), survey.readings.size());
  const Json& perch = day["readings"][0];
  EXPECT_EQ(perch["name"], "sun perch");
  for (const char* name : {"uvi", "irradiance", "infrared", "lux", "ppfd"})
    EXPECT_EQ(perch[name].size(), kClockMoments) << name;
  EXPECT_EQ(perch["uvi"][0], 0);
  EXPECT_NEAR(perch["uvi"][15 * 12].get<double>(), survey.readings[0].values.at(Quantity::uvi).value, 1e-4);
}

TEST(DayJson, TellsPlantsFloorWarmthAndPeople) {
  const Json json = Json::parse(readings_json(survey_with_day()));
  EXPECT_EQ(json["plants"].size(), 3u);
  const Json& need = json["plants"][1]["needs"][0];
  EXPECT_EQ(need["quantity"], "dli");
  EXPECT_EQ(need["survive"], (Json{{"min", 0.2}, {"max", 20}}));
  EXPECT_FALSE(need.contains("grow"));
  EXPECT_EQ(need["standing"], "does not live");
  EXPECT_EQ(need["sure"], false);
  EXPECT_EQ(need["top"], "too much");
  EXPECT_TRUE(json["plants"][2]["needs"].empty());
  EXPECT_TRUE(json["plants"][2]["shaded"].contains("ppfd"));
  EXPECT_EQ(json["floor"]["dli_mean"], 0.5);
  EXPECT_EQ(json["floor"]["dli_high"], 0.9);
  EXPECT_TRUE(holds(json["warmth"]["note"], "only a probe"));
  const Json& warm = json["warmth"]["perches"][0]["cases"][3];
  EXPECT_EQ(warm["air"], "hot");
  EXPECT_EQ(warm["full_power"], true);
  EXPECT_EQ(warm["back_c"], 49);
  EXPECT_EQ(warm["low_c"], 41);
  EXPECT_EQ(warm["high_c"], 58);
  const Json& feeding = json["people"][0];
  EXPECT_EQ(feeding["open"], (Json::array({{{"box", "cage"}, {"face", "front"}}})));
  EXPECT_NEAR(feeding["minutes_to_skin_limit"].get<double>(), 41.6667, 1e-3);
  EXPECT_EQ(feeding["daily_minutes"], 60);
  EXPECT_NEAR(feeding["share_of_skin_limit"].get<double>(), 1.44, 1e-9);
  EXPECT_TRUE(json["people"][1]["minutes_to_skin_limit"].is_null());
}

TEST(DayJson, IsLeftOutWhereThereIsNone) {
  const Json json = Json::parse(readings_json(sample_survey()));
  for (const char* key : {"day", "plants", "floor", "warmth", "people"})
    EXPECT_FALSE(json.contains(key)) << key;
}

TEST(DayJson, CautionsCarryTheirReason) {
  Survey survey = sample_survey();
  survey.cautions = {{"eyes", "Wear goggles.", "Ultraviolet burns."}};
  EXPECT_EQ(Json::parse(readings_json(survey))["cautions"][0],
            (Json{{"kind", "eyes"}, {"text", "Wear goggles."}, {"reason", "Ultraviolet burns."}}));
}

TEST(JsonText, KeepsListsOfNumbersOnOneLineAndMeansTheSame) {
  const Json json = {{"at", {1, 2.5, -3e-7}},
                     {"empty", Json::array()},
                     {"none", Json::object()},
                     {"null", nullptr},
                     {"list", {"a", {{"b", true}}, Json::array({1, "c"})}},
                     {"quoted \"key\"", "line\nbreak"}};
  const std::string text = json_text(json);
  EXPECT_EQ(Json::parse(text), json);
  EXPECT_TRUE(holds(text, "\n  \"at\": [1, 2.5, -3e-07],\n")) << text;
  EXPECT_EQ(text.back(), '\n');
  EXPECT_TRUE(holds(json_text({{"name", "broken \xFF byte"}}), "broken \xEF\xBF\xBD byte"));
}

TEST(DayCsv, HasOneRowAReadingAndMoment) {
  const Survey survey = survey_with_day();
  const std::vector<std::string> lines = lines_of(day_csv(survey));
  ASSERT_EQ(lines.size(), 1 + survey.readings.size() * kClockMoments);
  EXPECT_EQ(lines[0], "name,kind,clock,uvi,irradiance,infrared,lux,ppfd");
  EXPECT_EQ(lines[1], "sun perch,perch,00:00,0,0,0,0,0");
  EXPECT_TRUE(lines[1 + 9 * 12 + 1].starts_with("sun perch,perch,09:05,")) << lines[1 + 9 * 12 + 1];
  EXPECT_EQ(lines_of(day_csv(sample_survey())).size(), 1u);
}

TEST(DayCsv, ReadingsCarryPartsStandingsAndWorkplaces) {
  const Survey survey = survey_with_day();
  const std::vector<std::string> lines = lines_of(readings_csv(survey));
  const auto fields = [](const std::string& line) { return std::count(line.begin(), line.end(), ','); };
  for (const std::string& line : lines) EXPECT_EQ(fields(line), fields(lines[0])) << line;
  const auto row = [&](const std::string& name, const std::string& quantity) {
    for (const std::string& line : lines)
      if (line.starts_with(name + ",") && holds(line, "," + quantity + ",")) return line;
    return std::string("no such row");
  };
  EXPECT_TRUE(row("fig", "dli").find(",holds,") != std::string::npos) << row("fig", "dli");
  EXPECT_TRUE(row("fern", "dli").find(",does not live,") != std::string::npos);
  EXPECT_TRUE(row("fern", "ppfd").ends_with(","));
  EXPECT_TRUE(row("feeding", "actinic").starts_with("feeding,workplace,0.45,-0.05,1.4,brightest,"));
}

TEST(DaySummary, TellsDosesPlantsWarmthAndPeople) {
  const std::string text = terminal_summary(survey_with_day());
  for (const char* part :
       {"Over the day", "kWh/m2", "Dark for 11 h at the longest, from 20:00 to 07:00.",
        "! fern, DLI: ", "- fig, DLI: holds", "too close to call", "its top gets too much",
        "The floor, z 2.5 cm: DLI 0.5 on average, 0.1 to 0.9 over most of it.",
        "Warmth of a dry, dark back, C", "day: 24 C", "hot: 30 C", "47 (40-55)", "every dimmer at full",
        "49 (41-58)", "Only a probe at the back decides.",
        "! feeding: bare skin and eyes reach the daily limit in 42 min", "60 min a day take 140 %",
        "planting: bare skin and eyes reach the daily limit not within 8 h"}) {
    EXPECT_TRUE(holds(text, part)) << "'" << part << "' is missing in\n" << text;
  }
  EXPECT_LT(text.find("! fern, DLI"), text.find("- fig, DLI")) << "the worst first";
}

TEST(DaySummary, FitsEightyColumnsWithAnyNamesAndNumbers) {
  for (const std::string& name : {std::string("feeding"), std::string(300, 'w'),
                                  std::string("an \x1b[31mangry\nname with \xFF bytes on and on")}) {
    Survey survey = survey_with_day();
    for (Reading& reading : survey.readings) {
      reading.name = name;
      for (auto& [quantity, figure] : reading.values) figure.value *= 12345;
    }
    for (Workplace& workplace : survey.scene.workplaces) workplace.name = name;
    for (const std::string& line : lines_of(terminal_summary(survey))) {
      EXPECT_LE(display_width(line), 80) << line;
      EXPECT_EQ(line, printable(line));
    }
  }
}

int pixels_of(const Canvas& canvas, Rgb colour) {
  int count = 0;
  for (int y = 0; y < canvas.height(); ++y)
    for (int x = 0; x < canvas.width(); ++x) count += canvas.at(x, y) == colour ? 1 : 0;
  return count;
}

TEST(DayChart, DrawsEveryLineAndTheNight) {
  constexpr Rgb kNight{232, 231, 226};
  constexpr Rgb kLines[] = {{0, 70, 140}, {205, 85, 0}, {0, 130, 96}};
  Survey survey = survey_with_day();
  const auto canvas = draw_day(survey);
  ASSERT_TRUE(canvas);
  EXPECT_EQ(canvas->width(), 1000);
  // Three perches on three graphs and three plants on one: each line is 800 px long, some dashed, 2.6 px
  // wide.
  for (const Rgb colour : kLines) EXPECT_GT(pixels_of(*canvas, colour), 800);
  // 11 of 24 hours of an 800 px wide axis, on four graphs and the strip, less what is drawn there.
  const int night = pixels_of(*canvas, kNight);
  EXPECT_GT(night, 0.8 * 800 * 11 / 24 * 138 * 4);
  survey.day.clock.longest_dark = ClockSpan{0, 0};
  // Soft edges of letters can come out in any colour.
  EXPECT_LT(pixels_of(*draw_day(survey), kNight), 0.01 * night);
}

TEST(DayChart, IsLeftOutWithoutHoursAndStandsAnyNames) {
  EXPECT_FALSE(day_chart(sample_survey()));
  Survey survey = survey_with_day();
  for (Reading& reading : survey.readings) reading.name = std::string(300, 'W') + "\xFF\n";
  for (Lamp& lamp : survey.scene.lamps) lamp.name = std::string(300, 'W');
  const auto file = day_chart(survey);
  ASSERT_TRUE(file);
  EXPECT_EQ(file->name, "day.png");
  EXPECT_EQ(file->bytes.substr(1, 3), "PNG");
}

}  // namespace
}  // namespace boughlight
