#include "spectrum/quantity.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace boughlight {
namespace {

TEST(Quantity, NamesAreThoseOfSceneFiles) {
  const std::vector<std::string_view> names = {"uvi",     "uvc",       "uvb",  "uva",           "d3",
                                               "actinic", "lux",       "ppfd", "irradiance",    "infrared",
                                               "dli",     "uvi_hours", "sed",  "infrared_hours"};
  ASSERT_EQ(all_quantities().size(), names.size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    EXPECT_EQ(all_quantities()[i].name, names[i]);
    ASSERT_TRUE(quantity_named(names[i]).has_value());
    EXPECT_EQ(info(*quantity_named(names[i])).name, names[i]);
  }
  EXPECT_FALSE(quantity_named("UVI").has_value());
  EXPECT_FALSE(quantity_named("").has_value());
}

TEST(Quantity, DayQuantitiesSumAnInstantOne) {
  for (const QuantityInfo& row : all_quantities()) {
    EXPECT_FALSE(is_day_quantity(row.of)) << row.name;
    EXPECT_EQ(is_day_quantity(row.quantity), row.of != row.quantity) << row.name;
    EXPECT_EQ(is_day_quantity(row.quantity), row.per_hour > 0) << row.name;
  }
}

TEST(Quantity, UnitsAreTheBaseUnitOfTheirDimension) {
  for (const QuantityInfo& row : all_quantities()) {
    if (row.dimension == Dimension::number) continue;
    EXPECT_EQ(row.unit, base_unit(row.dimension)) << row.name;
  }
}

TEST(Weighting, UpperEndsBelongToTheRangeAbove) {
  using enum Quantity;
  const auto below = [](double x) { return std::nextafter(x, 0.0); };
  struct Row {
    Quantity quantity;
    double from, to;
  };
  for (const Row& row : {Row{uvc, 250, 280}, Row{uvb, 280, 315}, Row{uva, 315, 400}}) {
    EXPECT_EQ(weighting(row.quantity).at(row.from), 1);
    EXPECT_EQ(weighting(row.quantity).at(below(row.to)), 1);
    EXPECT_EQ(weighting(row.quantity).at(row.to), 0);
    EXPECT_EQ(weighting(row.quantity).at(below(row.from)), 0);
  }
  EXPECT_GT(weighting(ppfd).at(400), 0);
  EXPECT_EQ(weighting(ppfd).at(below(400)), 0);
  EXPECT_GT(weighting(ppfd).at(below(700)), 0);
  EXPECT_EQ(weighting(ppfd).at(700), 0);
  EXPECT_EQ(weighting(infrared).at(700), 1);
  EXPECT_EQ(weighting(infrared).at(below(700)), 0);
  EXPECT_EQ(weighting(infrared).at(25000), 1);
  EXPECT_EQ(weighting(irradiance).at(250), 1);
  EXPECT_EQ(weighting(irradiance).at(25000), 1);
}

TEST(Weighting, LightOutsideTheEyesRangeGivesNoLux) {
  EXPECT_EQ(weighting(Quantity::lux).at(359.9), 0);
  EXPECT_EQ(weighting(Quantity::lux).at(830.1), 0);
  EXPECT_GT(weighting(Quantity::lux).at(360), 0);
  EXPECT_GT(weighting(Quantity::lux).at(830), 0);
}

TEST(Weighting, VitaminD3IsHeldDownTo250NmAndZeroAbove330Nm) {
  EXPECT_EQ(weighting(Quantity::d3).at(250), weighting(Quantity::d3).at(252));
  EXPECT_GT(weighting(Quantity::d3).at(330), 0);
  EXPECT_EQ(weighting(Quantity::d3).at(330.001), 0);
}

TEST(Weighting, KnotsRiseInsideTheRangeOfWavelengths) {
  for (int q = 0; q < kInstant; ++q) {
    const auto& knots = weighting(static_cast<Quantity>(q)).knots_nm();
    EXPECT_TRUE(std::is_sorted(knots.begin(), knots.end()));
    EXPECT_GE(knots.front(), kFirstNm);
    EXPECT_LE(knots.back(), kLastNm);
  }
}

TEST(Weighting, ADayQuantityHasNone) {
  EXPECT_THROW(weighting(Quantity::dli), std::logic_error);
  EXPECT_THROW(weighting(Quantity::sed), std::logic_error);
}

}  // namespace
}  // namespace boughlight
