// The months ahead in words, figures and charts, from a result made by hand.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/outlook_report.h"
#include "report/text.h"

namespace boughlight {
namespace {

using nlohmann::json;

OutlookResult sample_outlook() {
  OutlookResult outlook;
  outlook.scene.file = "there/cage.yaml";
  outlook.scene.title = "Cage";
  outlook.scene.plants.resize(2);
  outlook.months = {0, 6, 12};
  Watched sun;
  sun.reading = "sun perch";
  sun.kind = ReadingKind::perch;
  sun.limits = Limits{1.8, 3.2};
  sun.figures = {{2.4, 0.02, {}}, {2.0, 0.02, {}}, {1.6, 0.02, {}}};
  sun.verdicts = {Verdict::met, Verdict::met, Verdict::below};
  sun.fails = Failing{
      9, 8.4, 9.6, 1.8, Verdict::below, 2, {{RemedyKind::new_lamp, "tube", {2.3, 0.02, {}}, Verdict::met}}};
  Watched most;
  most.hottest = true;
  most.limits = Limits{std::nullopt, 6.0};
  most.figures = {{5, 0.1, {}}, {4.4, 0.1, {}}, {3.8, 0.1, {}}};
  most.verdicts = {3, Verdict::met};
  outlook.watched = {sun, most};
  outlook.lamps = {{"tube", true, {100, 1926, 3752}, {1, 0.9, 0.8}, true}};
  outlook.ahead.growing["fig"] = {GrowthForm::logistic, 0.1, 2};
  outlook.plants = {
      {"fig", {1, 1.3, 1.5}, {{"mesh", "wire, top", 4.5, 1.25}, {"perch", "sun perch", 11, 1.45}}}};
  outlook.new_lamps = {{"tube",
                        2,
                        {{0, {1.6, 0.02, {}}, {2.3, 0.02, {}}, Verdict::met},
                         {1, {3.8, 0.1, {}}, {6.4, 0.1, {}}, Verdict::above}}}};
  outlook.has_meshes = true;
  outlook.traced_scenes = 3;
  outlook.tolerance = 0.04;
  outlook.verdict = WholeVerdict::unmet;
  return outlook;
}

void expect_text(const std::string& text, const std::string& part) {
  EXPECT_NE(text.find(part), std::string::npos) << part << "\n---\n" << text;
}

TEST(OutlookText, TellsWhatFailsWhenAndWhatMendsIt) {
  std::string text = outlook_text(sample_outlook());
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = text.find('\n', start);
    EXPECT_LE(display_width(text.substr(start, end - start)), 80);
    start = end + 1;
  }
  // Lines may break anywhere.
  for (std::size_t at; (at = text.find("\n    ")) != std::string::npos;) text.replace(at, 5, " ");
  expect_text(text,
              "sun perch: UVI falls below 1.8 after 9 months (month 8.4 to 9.6 by the error of the "
              "computation): 2.4 today, 1.6 at the end. Then a new 'tube' would give 2.3 (as wanted).");
  expect_text(text,
              "by month 9: replace 'tube', which has burned 2840 h by then. That alone mends sun perch "
              "(UVI).");
  expect_text(text,
              "'tube', new after 12 months: sun perch UVI 1.6 to 2.3; the most in reach UVI 3.8 to 6.4 (TOO "
              "HIGH).");
  expect_text(text,
              "its leaves reach the mesh (wire, top) after 4.5 months, the back on 'sun perch' after 11 "
              "months.");
  expect_text(text, "1 of 2 plants have no growth curve");
  expect_text(text, "1 of 2 wanted figures fail within 12 months, the first after 9 months.");
}

TEST(OutlookJson, HoldsEveryMonth) {
  const json result = json::parse(outlook_json(sample_outlook()));
  EXPECT_EQ(result["scene"], "cage.yaml") << "no folders";
  EXPECT_EQ(result["months"], json({0, 6, 12}));
  EXPECT_EQ(result["figures"][0]["values"], json({2.4, 2.0, 1.6}));
  EXPECT_EQ(result["figures"][0]["fails"]["month"], 9);
  EXPECT_EQ(result["figures"][1]["place"], "hottest");
  EXPECT_TRUE(result["figures"][1]["fails"].is_null());
  EXPECT_EQ(result["plants"][0]["reaches"][0]["month"], 4.5);
  EXPECT_EQ(result["new_lamps"][0]["changes"][1]["verdict"], "above");
  EXPECT_EQ(result["fouling"]["assumed"], true);
}

TEST(OutlookChart, DrawsALineWhereTheFigureIs) {
  const Canvas chart = draw_outlook(sample_outlook());
  // The first chart's first line, blue, falls from left to right.
  const Rgb blue{0, 70, 140};
  const auto highest = [&](int x) {
    for (int y = 100; y < 300; ++y)
      if (chart.at(x, y) == blue) return y;
    return 0;
  };
  // Away from its name, which stands over its middle.
  ASSERT_GT(highest(150), 0);
  EXPECT_LT(highest(150), highest(850));
}

}  // namespace
}  // namespace boughlight
