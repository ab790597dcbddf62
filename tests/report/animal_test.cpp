// The animal's part of the terminal summary, readings.json and readings.csv.
#include <gtest/gtest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

#include "animal_survey.h"
#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

// The summary as one line, so that wrapping does not matter.
std::string flat(const Survey& survey) {
  std::istringstream words(terminal_summary(survey));
  std::string text;
  for (std::string word; words >> word;) text += (text.empty() ? "" : " ") + word;
  return text;
}

void expect_text(const Survey& survey, const std::string& part) {
  EXPECT_NE(flat(survey).find(part), std::string::npos) << part << "\n" << terminal_summary(survey);
}

TEST(AnimalSummary, SaysWhatMendsRightBelowTheFindings) {
  const Survey survey = animal_survey();
  expect_text(
      survey,
      "What would mend the closest places, all else left as it is - 'uv tube' hung 4.5 cm higher, or one "
      "that gives at most 74 % of its light, for UVI 7 at most. Hung so, it leaves UVI 2.2 at 'sun perch' "
      "Readings");
}

TEST(AnimalSummary, SaysWhereRaisingDoesNotMend) {
  Survey survey = animal_survey();
  survey.animal.mends[0].raise.reset();
  survey.animal.mends[0].sun_perch_uvi.reset();
  expect_text(
      survey,
      "hanging 'uv tube' higher does not mend it (tried up to 200 cm); only one that gives at most 74 %");
  survey.animal.mends[0].output_share.reset();
  expect_text(survey, "hanging 'uv tube' higher does not mend it (tried up to 200 cm), for UVI 7 at most");
  survey.animal.mends[0].room = 0.08;
  expect_text(survey, "hanging 'uv tube' higher does not mend it (it can go up 8 cm), for UVI 7 at most");
}

TEST(AnimalSummary, MarksClosestPlacesAboveTheLimit) {
  const std::string text = terminal_summary(animal_survey());
  EXPECT_NE(text.find("  uv tube                        18        3     9.4!      80     11.8!      95"),
            std::string::npos)
      << text;
  expect_text(animal_survey(), "An ! stands for more than your 'never' allows.");
  Survey survey = animal_survey();
  for (auto* figure : {&survey.animal.closest[0].uvi, &survey.animal.closest[0].uvi_at_full})
    figure->verdict = Verdict::met;
  EXPECT_EQ(flat(survey).find("An !"), std::string::npos);
}

TEST(AnimalSummary, TellsTheBodyItsBeamsAndOtherSizes) {
  const Survey survey = animal_survey();
  expect_text(
      survey,
      "The whole body, 22 cm long with a flank of 7 cm - sun perch: UVI 2 to 3, 200 to 300 W/m2; your wants "
      "hold on all of its back, nowhere on its flank's lower edge beams to half their strength: heat 20 cm, "
      "UV 32 cm, bright light 20 cm or more wide; NOT one inside the other");
  expect_text(survey, "- juvenile, back 2 cm: sun perch: UVI");
  expect_text(survey, "too low: wanted 2.5 to 4.5");
  Survey shady = animal_survey();
  shady.animal.bodies[0].for_basking = false;
  EXPECT_EQ(flat(shady).find("beams to half"), std::string::npos);
}

TEST(AnimalSummary, TellsShadeAndTheWayToIt) {
  Survey survey = animal_survey();
  expect_text(
      survey,
      "Shade, on branches and boards, against 'sun perch' - 20 % gets less than a tenth of its UVI, 20 % up "
      "to half, 60 % more - a covered way of 85 cm leads to a refuge on 'ledge' at z 60 cm; at most 30 % of "
      "its UVI once it has left the sun; refuges on covered ways at z 12.5 to 62.5 cm - UV without the heat "
      "along 25 cm, best on 'high bough' at x 20, y 30, z 140 cm: UVI 1.8, 80 W/m2");
  survey.animal.shelter->way->covered = false;
  survey.animal.shelter->way->worst_share = 0.72;
  expect_text(survey, "- NO COVERED WAY to a refuge: the best passes a place with 72 % of its UVI");
  survey.animal.shelter->way.reset();
  survey.animal.shelter->uv_without_heat.reset();
  expect_text(survey,
              "- NO WAY leads to a refuge along branches and boards - NO PLACE with UV but without the heat");
}

TEST(AnimalSummary, KeepsTo80Columns) {
  Survey survey = animal_survey();
  survey.animal.closest[0].lamp = std::string(90, 'x');
  survey.animal.shelter->places[3].on = std::string(90, 'y');
  std::istringstream lines(terminal_summary(survey));
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80u) << line;
}

TEST(AnimalJson, IsThereOnlyWhereThereIsSomethingToTell) {
  EXPECT_FALSE(Json::parse(readings_json(sample_survey())).contains("animal"));
  EXPECT_TRUE(Json::parse(readings_json(animal_survey())).contains("animal"));
}

TEST(AnimalJson, HoldsEveryFinding) {
  const Json animal = Json::parse(readings_json(animal_survey()))["animal"];
  EXPECT_EQ(animal["sun_perch"], "sun perch");
  const Json& body = animal["bodies"][0];
  EXPECT_EQ(body["perch"], "sun perch");
  EXPECT_EQ(body["axis_from"], "along");
  EXPECT_EQ(body["places"].size(), 6u);
  EXPECT_EQ(body["places"][3]["row"], "flank");
  EXPECT_EQ(body["places"][3]["wants_met"], false);
  EXPECT_EQ(body["places"][0]["values"]["uvi"]["value"], 3);
  EXPECT_EQ(body["spread"]["uvi"]["peak_to_edge"], 1.5);
  EXPECT_TRUE(body["spread"]["infrared"]["peak_to_edge"].is_null());
  EXPECT_EQ(body["beams"]["lux"]["open_to"], true);
  EXPECT_EQ(body["beams"]["uvi"]["width"], 0.32);
  EXPECT_EQ(body["nested"], false);
  EXPECT_EQ(body["wants_share"], 1);
  const Json& size = animal["sizes"][0];
  EXPECT_EQ(size["name"], "juvenile");
  EXPECT_EQ(size["readings"][0]["wants"][0]["verdict"], "below");
  const Json& closest = animal["closest"][0];
  EXPECT_EQ(closest["below_top"], 0.03);
  EXPECT_EQ(closest["top"], "fine-mesh");
  EXPECT_NEAR(closest["uvi"]["over"].get<double>(), 2.4, 1e-9);
  EXPECT_EQ(closest["uvi"]["verdict"], "above");
  EXPECT_FALSE(closest["irradiance"].contains("over"));
  EXPECT_EQ(closest["at_full"]["uvi"]["value"], 11.8);
  EXPECT_EQ(animal["mends"][0]["raise"], 0.045);
  const Json& shelter = animal["shelter"];
  EXPECT_EQ(shelter["fraction"]["above_50"], 0.6);
  EXPECT_EQ(shelter["levels"][1]["z"], 1.375);
  EXPECT_EQ(shelter["way"]["covered"], true);
  EXPECT_EQ(shelter["way"]["places"], (Json{0, 2, 3}));
  EXPECT_EQ(shelter["way"]["refuge_on"], "ledge");
  EXPECT_EQ(shelter["uv_without_heat"]["best_place"], 1);
  EXPECT_EQ(shelter["places"][3]["refuge"], true);
  EXPECT_FALSE(shelter["places"][0].contains("refuge"));
}

TEST(AnimalJson, ThrowsOnNan) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto throws = [](const auto& spoil) {
    Survey survey = animal_survey();
    spoil(survey.animal);
    EXPECT_THROW(readings_json(survey), std::runtime_error);
  };
  throws([nan](AnimalFindings& a) { a.bodies[0].places[0].values[Quantity::uvi].value = nan; });
  throws([nan](AnimalFindings& a) { a.bodies[0].beams[Quantity::uvi].from = nan; });
  throws([nan](AnimalFindings& a) { a.closest[0].below_top = nan; });
  throws([nan](AnimalFindings& a) { a.mends[0].raise = nan; });
  throws([nan](AnimalFindings& a) { a.shelter->way->worst_share = nan; });
}

TEST(AnimalCsv, AddsItsReadingsBelowTheScenesOwn) {
  const std::string before = readings_csv(sample_survey()), after = readings_csv(animal_survey());
  ASSERT_EQ(after.compare(0, before.size(), before), 0) << "the scene's own rows stay as they were";
  std::map<std::string, int> kinds;
  std::istringstream lines(after.substr(before.size()));
  std::string last;
  for (std::string line; std::getline(lines, line); last = line) {
    const std::size_t from = line.find(',') + 1;
    ++kinds[line.substr(from, line.find(',', from) - from)];
    EXPECT_EQ(std::count(line.begin(), line.end(), ','),
              std::count(before.begin(), before.begin() + before.find('\n'), ','));
  }
  EXPECT_EQ(kinds, (std::map<std::string, int>{{"body", 6 * 4}, {"size", kQuantities}, {"closest", 2}}));
  EXPECT_NE(after.find("sun perch (juvenile),size,"), std::string::npos);
  EXPECT_NE(after.find("uv tube,closest,0.45,0.24,1.57,brightest,0,0,1,uvi,,9.4,0.094,,,7,above,"),
            std::string::npos)
      << after.substr(before.size());
}

}  // namespace
}  // namespace boughlight
