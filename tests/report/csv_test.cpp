#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "report/write.h"
#include "sample_survey.h"

namespace boughlight {
namespace {

using Row = std::vector<std::string>;

// A reader written from RFC 4180 alone, section 2.
std::vector<Row> parsed(const std::string& text) {
  std::vector<Row> rows(1, Row(1));
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char letter = text[i];
    if (quoted && letter == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      rows.back().back().push_back('"');
      ++i;
    } else if (letter == '"') {
      quoted = !quoted;
    } else if (!quoted && letter == ',') {
      rows.back().emplace_back();
    } else if (!quoted && letter == '\n') {
      rows.emplace_back(1);
    } else {
      rows.back().back().push_back(letter);
    }
  }
  rows.pop_back();  // after the last line break
  return rows;
}

std::map<std::string, std::size_t> columns(const Row& header) {
  std::map<std::string, std::size_t> found;
  for (std::size_t i = 0; i < header.size(); ++i) found[header[i]] = i;
  return found;
}

TEST(ReadingsCsv, HasOneRowAReadingAndQuantity) {
  const Survey survey = sample_survey();
  const std::vector<Row> rows = parsed(readings_csv(survey));
  EXPECT_EQ(rows.size(), 1 + survey.readings.size() * kQuantities);
  for (const Row& row : rows) EXPECT_EQ(row.size(), rows[0].size());
  auto at = columns(rows[0]);
  const Row& uvi = rows[1];
  EXPECT_EQ(uvi[at.at("name")], "sun perch");
  EXPECT_EQ(uvi[at.at("kind")], "perch");
  EXPECT_EQ(uvi[at.at("x_m")], "0.45");
  EXPECT_EQ(uvi[at.at("z_m")], "1.43");
  EXPECT_EQ(uvi[at.at("facing")], "brightest");
  EXPECT_EQ(uvi[at.at("quantity")], "uvi");
  EXPECT_EQ(uvi[at.at("unit")], "");
  EXPECT_EQ(uvi[at.at("min")], "2.5");
  EXPECT_EQ(uvi[at.at("max")], "4.5");
  EXPECT_EQ(uvi[at.at("verdict")], "below");
  EXPECT_EQ(uvi[at.at("converged")], "true");
  const double value = survey.readings[0].values.at(Quantity::uvi).value;
  EXPECT_NEAR(std::stod(uvi[at.at("value")]), value, 5e-6 * value);
  const Row& lux = rows[1 + static_cast<std::size_t>(Quantity::lux)];
  EXPECT_EQ(lux[at.at("unit")], "lx");
  EXPECT_EQ(lux[at.at("verdict")], "");
  EXPECT_EQ(lux[at.at("converged")], "");
}

TEST(ReadingsCsv, AnyNameComesBackFromAReader) {
  Survey survey = sample_survey();
  const std::string name = "left, \"high\"\nperch";
  survey.readings[0].name = name;
  const std::vector<Row> rows = parsed(readings_csv(survey));
  EXPECT_EQ(rows[1][0], name);
  EXPECT_EQ(rows.size(), 1 + survey.readings.size() * kQuantities);
}

TEST(GridCsv, HasOneRowACellWithItsMiddleInMetres) {
  const Survey survey = sample_survey();
  const std::vector<Row> rows = parsed(grid_csv(survey));
  ASSERT_EQ(rows.size(), 1 + survey.cells.size());
  auto at = columns(rows[0]);
  EXPECT_EQ(Row(rows[0].begin(), rows[0].begin() + 5), (Row{"x_m", "y_m", "z_m", "box", "free_share"}));
  EXPECT_EQ(rows[0].size(), 5 + 2 * kQuantities + 1u);
  EXPECT_EQ(rows[1][at.at("x_m")], "0.025");
  EXPECT_EQ(rows[1][at.at("box")], "cabinet");
  EXPECT_EQ(rows.back()[at.at("box")], "cage");
  const Cell& last = survey.cells.back();
  const double uvi = last.up[0].value;
  EXPECT_NEAR(std::stod(rows.back()[at.at("uvi")]), uvi, 5e-6 * uvi);
  EXPECT_NEAR(std::stod(rows.back()[at.at("uvi_se")]), 0.02 * uvi, 1e-6 * uvi);
  EXPECT_NEAR(std::stod(rows.back()[at.at("uvi_brightest")]), 1.1 * uvi, 1e-5 * uvi);
}

TEST(GridCsv, LeavesOutTheDayWhereThereIsNone) {
  Survey survey = sample_survey();
  survey.has_day = false;
  const Row header = parsed(grid_csv(survey))[0];
  EXPECT_EQ(columns(header).count("dli"), 0u);
  EXPECT_EQ(header.size(), 5 + 2 * kInstant + 1u);
}

TEST(GridCsv, CellsWithoutFreeVolumeHaveEmptyValues) {
  Survey survey = sample_survey();
  survey.cells[0].free_share = 0;
  survey.cells[0].up[0].value = std::nan("");  // must not be looked at
  const std::vector<Row> rows = parsed(grid_csv(survey));
  auto at = columns(rows[0]);
  EXPECT_EQ(rows[1][at.at("free_share")], "0");
  EXPECT_EQ(rows[1][at.at("uvi")], "");
  EXPECT_EQ(rows[1][at.at("uvi_brightest")], "");
}

TEST(GridCsv, ThrowsOnNan) {
  Survey survey = sample_survey();
  survey.cells[7].up[3].value = std::nan("");
  EXPECT_THROW(grid_csv(survey), std::runtime_error);
}

}  // namespace
}  // namespace boughlight
