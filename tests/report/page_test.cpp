#include "report/page.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "read_back.h"
#include "report/map.h"
#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

using Json = nlohmann::ordered_json;

std::string page_of(const Survey& survey) {
  return report_html(survey, readings_json(survey));
}

std::string script_text(const std::string& html, const std::string& id) {
  const std::string open = "<script type=\"application/json\" id=\"" + id + "\">";
  const std::size_t from = html.find(open) + open.size();
  return html.substr(from, html.find("</script>", from) - from);
}

TEST(ReportPage, HoldsTheTextOfReadingsJson) {
  const Survey survey = sample_survey();
  EXPECT_EQ(Json::parse(script_text(page_of(survey), "readings")), Json::parse(readings_json(survey)));
}

TEST(ReportPage, IsTheSameEachTime) {
  EXPECT_EQ(page_of(sample_survey()), page_of(sample_survey()));
}

TEST(ReportPage, AsksForNothingFromOutside) {
  const std::string html = page_of(sample_survey());
  // The only address is that of SVG's namespace, which nobody fetches.
  EXPECT_EQ(count(html, "://"), count(html, "http://www.w3.org/2000/svg"));
  EXPECT_EQ(count(html, " src="), 0u);
  EXPECT_NE(html.find("default-src 'none'"), std::string::npos);
}

TEST(ReportPage, NoNameCanEndAScriptOrOpenATag) {
  const std::size_t scripts = count(page_of(sample_survey()), "<script");
  const std::size_t tags = count(page_of(sample_survey()), "<");
  Survey survey = sample_survey();
  const std::string evil = "</script><script>alert(1)</script>{{DATA}}<!--\"'&\xE2\x80\xA8";
  survey.scene.title = survey.scene.lamps[0].name = survey.scene.perches[0].name = evil;
  survey.readings[0].name = survey.scene.boxes[0].name = survey.scene.plants[0].name = evil;
  survey.cautions[0].text = evil;
  const std::string html = page_of(survey);
  EXPECT_EQ(count(html, "<script"), scripts);
  EXPECT_EQ(count(html, "</script>"), scripts);
  EXPECT_EQ(count(html, "<"), tags);
  EXPECT_EQ(Json::parse(script_text(html, "readings"))["title"], evil);
  EXPECT_EQ(Json::parse(script_text(html, "data"))["scene"]["lamps"][0]["name"], evil);
}

TEST(ReportPage, ANameThatIsNoUtf8DoesNotCostThePage) {
  Survey survey = sample_survey();
  survey.scene.lamps[0].name = "broken \xC3";
  EXPECT_TRUE(Json::accept(script_text(page_of(survey), "data")));
}

TEST(ReportPage, SharesScalesAndLimitsWithTheMaps) {
  const Survey survey = sample_survey();
  const Json light = page_light_json(survey);
  const ColourScale scale = map_scale(survey, Quantity::uvi);
  EXPECT_EQ(light["scales"]["uvi"]["low"], scale.low);
  EXPECT_EQ(light["scales"]["uvi"]["high"], scale.high);
  EXPECT_EQ(light["scales"]["uvi"]["ticks"], Json(scale.ticks()));
  const std::vector<MapLimit> limits = limits_of(survey.scene, Quantity::uvi);
  ASSERT_EQ(light["limits"]["uvi"].size(), limits.size());
  for (std::size_t i = 0; i < limits.size(); ++i)
    EXPECT_EQ(light["limits"]["uvi"][i]["value"], limits[i].value);
}

TEST(ReportPage, StandsWithoutLampsAnimalsGridOrReadings) {
  Survey survey = sample_survey();
  survey.scene.lamps.clear();
  survey.scene.animal.reset();
  survey.shares = {};
  survey.grid.clear();
  survey.cells.clear();
  survey.readings.clear();
  survey.hottest.reset();
  const Json data = Json::parse(script_text(page_of(survey), "data"));
  EXPECT_TRUE(data["light"]["grid"].is_null());
  EXPECT_FALSE(data["scene"].contains("animal"));
}

TEST(PageGrid, KeepsEveryCellWhereThePageStaysSmall) {
  const Survey survey = sample_survey();
  const Json grid = page_grid_json(survey);
  EXPECT_EQ(grid["joined"], false);
  ASSERT_EQ(grid["boxes"].size(), survey.grid.size());
  for (std::size_t i = 0; i < survey.grid.size(); ++i) {
    EXPECT_EQ(grid["boxes"][i]["count"], Json(survey.grid[i].count));
    EXPECT_EQ(grid["boxes"][i]["first"], survey.grid[i].first);
  }
  EXPECT_EQ(grid["values"].size(), std::size_t{kInstant});
  EXPECT_EQ(grid["values"]["uvi"].size(), survey.shares.sources);
}

// The sample's boxes with cells so fine that not all can be part of a page; every cell reads the same.
Survey fine_survey() {
  Survey survey = sample_survey();
  survey.cells.clear();
  for (GridBox& box : survey.grid) {
    box.first = survey.cells.size();
    for (std::size_t axis = 0; axis < 3; ++axis) {
      const auto i = static_cast<Eigen::Index>(axis);
      box.cell[i] = box.cell[i] * box.count[axis] / (4 * box.count[axis] - 1);
      box.count[axis] = 4 * box.count[axis] - 1;
    }
    survey.cells.resize(survey.cells.size() +
                        static_cast<std::size_t>(box.count[0] * box.count[1] * box.count[2]));
  }
  survey.shares.cells = survey.cells.size();
  survey.shares.cell_values.assign(kInstant * survey.shares.sources * survey.shares.cells, 2.0f);
  // A branch fills some cells: they count for nothing in what they are joined into.
  for (std::size_t cell = 0; cell < survey.cells.size(); cell += 7) {
    survey.cells[cell].free_share = 0;
    for (int q = 0; q < kInstant; ++q)
      for (std::size_t source = 0; source < survey.shares.sources; ++source)
        survey.shares.cell_values[survey.shares.cell_at(static_cast<Quantity>(q), source) + cell] = 1000;
  }
  return survey;
}

TEST(PageGrid, JoinsCellsUntilThePageIsSmallAndKeepsTheirMeans) {
  const Survey survey = fine_survey();
  const Json grid = page_grid_json(survey);
  EXPECT_EQ(grid["joined"], true);
  EXPECT_LT(grid.dump().size(), 4'000'000u);
  for (const Json& box : grid["boxes"])
    for (std::size_t axis = 0; axis < 3; ++axis)
      EXPECT_NEAR(box["cell"][axis].get<double>() * box["count"][axis].get<int>(),
                  survey.grid[box == grid["boxes"][0] ? 0 : 1].cell[static_cast<Eigen::Index>(axis)] *
                      survey.grid[box == grid["boxes"][0] ? 0 : 1].count[axis],
                  1e-4);
  // A constant field stays what it is: the greatest value over its scale is 32768 for every cell.
  const Json& values = grid["values"]["uvi"][0];
  EXPECT_NEAR(values["scale"].get<double>() * 32768, 2.0, 1e-5);
}

}  // namespace
}  // namespace boughlight
