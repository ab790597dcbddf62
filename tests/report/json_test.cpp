#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "read_back.h"
#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

TEST(ReadingsJson, HasTheNamesOfTheContractInOrder) {
  const Json json = Json::parse(readings_json(sample_survey()));
  EXPECT_EQ(keys(json), (Keys{"boughlight", "scene", "title", "version", "seed", "tolerance", "readings",
                              "zones", "hottest", "cautions", "verdict"}));
  EXPECT_EQ(json["boughlight"], 1);
  EXPECT_EQ(json["scene"], "landing.yaml");
  EXPECT_FALSE(json["version"].get<std::string>().empty());
  EXPECT_EQ(json["seed"], 1);
  EXPECT_EQ(json["verdict"], "unmet");
  EXPECT_EQ(json["cautions"][0]["kind"], "eyes");
}

TEST(ReadingsJson, AReadingCarriesItsPlaceValuesAndWants) {
  const Survey survey = sample_survey();
  const Json json = Json::parse(readings_json(survey));
  ASSERT_EQ(json["readings"].size(), survey.readings.size());
  const Json& perch = json["readings"][0];
  EXPECT_EQ(keys(perch),
            (Keys{"name", "kind", "at", "facing", "direction", "values", "scalar", "by_lamp", "wants"}));
  EXPECT_EQ(perch["name"], "sun perch");
  EXPECT_EQ(perch["kind"], "perch");
  EXPECT_EQ(perch["at"], (Json{0.45, 0.32, 1.43}));
  EXPECT_EQ(perch["facing"], "brightest");
  EXPECT_EQ(perch["direction"], (Json{0, 0, 1}));
  EXPECT_EQ(perch["values"].size(), std::size_t{kQuantities});
  EXPECT_EQ(perch["scalar"].size(), std::size_t{kInstant});
  const double uvi = survey.readings[0].values.at(Quantity::uvi).value;
  EXPECT_NEAR(perch["values"]["uvi"]["value"].get<double>(), uvi, 5e-6 * uvi);  // six digits
  EXPECT_EQ(perch["values"]["uvi"]["converged"], true);
  EXPECT_FALSE(perch["values"]["lux"].contains("converged"));
  EXPECT_NEAR(perch["by_lamp"]["uv tube"]["uvi"].get<double>(), uvi, 5e-6 * uvi);
  EXPECT_EQ(keys(perch["wants"][0]), (Keys{"quantity", "min", "max", "value", "se", "converged", "verdict"}));
  EXPECT_EQ(perch["wants"][0]["quantity"], "uvi");
  EXPECT_EQ(perch["wants"][0]["min"], 2.5);
  EXPECT_EQ(perch["wants"][0]["verdict"], "below");
}

TEST(ReadingsJson, OnlyPlantsCarryTheirTop) {
  const Json json = Json::parse(readings_json(sample_survey()));
  int tops = 0;
  for (const Json& reading : json["readings"]) {
    EXPECT_EQ(reading.contains("top"), reading["kind"] == "plant") << reading["name"];
    if (!reading.contains("top")) continue;
    ++tops;
    EXPECT_EQ(keys(reading["top"]), (Keys{"at", "values"}));
    EXPECT_GT(reading["top"]["values"]["ppfd"]["value"], reading["values"]["ppfd"]["value"]);
  }
  EXPECT_EQ(tops, 3);
}

TEST(ReadingsJson, DayQuantitiesAreThereOnlyWhereTheyExist) {
  Survey survey = sample_survey();
  for (Reading& reading : survey.readings) {
    std::erase_if(reading.values, [](const auto& entry) { return is_day_quantity(entry.first); });
  }
  const Json json = Json::parse(readings_json(survey));
  EXPECT_FALSE(json["readings"][0]["values"].contains("dli"));
  EXPECT_TRUE(json["readings"][0]["values"].contains("ppfd"));
}

TEST(ReadingsJson, ZonesHottestPlacesAndLevels) {
  const Json json = Json::parse(readings_json(sample_survey()));
  const Json& zones = json["zones"];
  EXPECT_EQ(keys(zones), (Keys{"basking", "refuge", "levels", "wants"}));
  EXPECT_EQ(zones["basking"]["volume_fraction"], 0.06);
  EXPECT_EQ(zones["basking"]["volume_se"], 0.004);
  EXPECT_EQ(zones["basking"]["perch_fraction"], 0.21);
  EXPECT_FALSE(zones["refuge"].contains("perch_fraction"));
  EXPECT_EQ(keys(zones["levels"][0]),
            (Keys{"z", "basking", "basking_se", "refuge", "refuge_se", "uvi_mean", "ppfd_mean"}));
  EXPECT_EQ(zones["levels"][0]["refuge"], 0.97);
  EXPECT_EQ(keys(zones["wants"][1]),
            (Keys{"zone", "share", "min", "value", "se", "converged", "level_z", "verdict"}));
  EXPECT_EQ(zones["wants"][1]["share"], "each_level");
  EXPECT_EQ(zones["wants"][1]["verdict"], "unsure");

  const Json& hottest = json["hottest"];
  EXPECT_EQ(keys(hottest), (Keys{"uvi", "irradiance", "at_full"}));
  EXPECT_EQ(keys(hottest["at_full"]), (Keys{"uvi", "irradiance"}));
  EXPECT_EQ(keys(hottest["uvi"]),
            (Keys{"value", "se", "converged", "at", "direction", "lamp", "limit", "verdict"}));
  EXPECT_EQ(hottest["uvi"]["lamp"], "uv tube");
  EXPECT_FALSE(hottest["irradiance"].contains("limit"));
  EXPECT_EQ(hottest["at_full"]["uvi"]["value"], 11.8);
}

TEST(ReadingsJson, LeavesOutWhatTheSceneDoesNotAskFor) {
  Survey survey = sample_survey();
  survey.hottest.reset();
  survey.zones.clear();
  survey.zone_wants.clear();
  for (Level& level : survey.levels) level.basking = level.refuge = std::nullopt;
  const Json json = Json::parse(readings_json(survey));
  EXPECT_FALSE(json.contains("hottest"));
  EXPECT_EQ(keys(json["zones"]), (Keys{"levels", "wants"}));
  EXPECT_EQ(keys(json["zones"]["levels"][0]), (Keys{"z", "uvi_mean", "ppfd_mean"}));
}

TEST(ReadingsJson, KeepsAnyName) {
  Survey survey = sample_survey();
  survey.readings[0].name = "the \"sun\" \\ perch\nüber 日本";
  survey.readings[1].name = "broken \xFF byte";
  const Json json = Json::parse(readings_json(survey));
  EXPECT_EQ(json["readings"][0]["name"], survey.readings[0].name);
  EXPECT_EQ(json["readings"][1]["name"], "broken \xEF\xBF\xBD byte");
}

TEST(ReadingsJson, ThrowsOnNanWhereverItStands) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto throws = [](const auto& spoil) {
    Survey survey = sample_survey();
    spoil(survey);
    EXPECT_THROW(readings_json(survey), std::runtime_error);
  };
  throws([nan](Survey& s) { s.readings[0].values[Quantity::lux].value = nan; });
  throws([nan](Survey& s) { s.readings[0].values[Quantity::lux].se = nan; });
  throws([nan](Survey& s) { s.readings[0].scalar[Quantity::lux].value = nan; });
  throws([nan](Survey& s) { s.readings[0].by_lamp["uv tube"][Quantity::uvi] = nan; });
  throws([nan](Survey& s) { s.hottest->uvi.at.x() = nan; });
  throws([nan](Survey& s) { s.levels[0].ppfd_mean = nan; });
  throws([](Survey& s) { s.hottest->uvi.figure.value = std::numeric_limits<double>::infinity(); });
}

TEST(ReadingsJson, DoesNotTellHowTheRunWent) {
  Survey fast = sample_survey(), slow = sample_survey();
  fast.effort = {1, 1e6};
  slow.effort = {99, 3e6};
  EXPECT_EQ(readings_json(fast), readings_json(slow));
}

}  // namespace
}  // namespace boughlight
