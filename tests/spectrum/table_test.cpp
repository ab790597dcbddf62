#include "spectrum/table.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace boughlight {
namespace {

using enum Between;
using enum Beyond;

constexpr double kRounding = 1e-14;  // a few units in the last place of numbers near 1

TEST(Table, LinearIsStraightBetweenPoints) {
  const Table table({300, 400, 500}, {1, 3, 2}, linear, zero);
  EXPECT_DOUBLE_EQ(table.at(300), 1);
  EXPECT_DOUBLE_EQ(table.at(350), 2);
  EXPECT_DOUBLE_EQ(table.at(400), 3);
  EXPECT_DOUBLE_EQ(table.at(475), 2.25);
  EXPECT_DOUBLE_EQ(table.at(500), 2);
}

TEST(Table, LogLinearIsStraightInTheLogarithm) {
  const Table table({300, 400}, {1e-2, 1e-6}, log_linear, zero);
  EXPECT_NEAR(table.at(350), 1e-4, 1e-4 * kRounding);
  EXPECT_NEAR(table.at(325), 1e-3, 1e-3 * kRounding);
}

TEST(Table, LogLinearWithAZeroEndIsLinearThere) {
  const Table table({300, 400, 500}, {0, 2, 8}, log_linear, zero);
  EXPECT_DOUBLE_EQ(table.at(350), 1);
  EXPECT_NEAR(table.at(450), 4, 4 * kRounding);
  EXPECT_DOUBLE_EQ(table.mean(300, 400), 1);
}

TEST(Table, BeyondTheEndsItIsZeroWhenAskedToBeZero) {
  const Table table({300, 400}, {1, 3}, linear, zero);
  EXPECT_EQ(table.at(std::nextafter(300.0, 0)), 0);
  EXPECT_EQ(table.at(std::nextafter(400.0, 500)), 0);
  EXPECT_DOUBLE_EQ(table.mean(200, 500), 200.0 / 300);
  EXPECT_EQ(table.mean(100, 200), 0);
  EXPECT_EQ(table.mean(500, 600), 0);
}

TEST(Table, BeyondTheEndsItHoldsWhenAskedToHold) {
  const Table table({300, 400}, {1, 3}, linear, hold);
  EXPECT_EQ(table.at(1), 1);
  EXPECT_EQ(table.at(1e6), 3);
  EXPECT_DOUBLE_EQ(table.mean(200, 500), (100 * 1 + 200 + 100 * 3) / 300.0);
  EXPECT_DOUBLE_EQ(table.mean(100, 200), 1);
  EXPECT_DOUBLE_EQ(table.mean(500, 600), 3);
}

TEST(Table, MeanOfALinearTableIsExactWhereverItsEndsFall) {
  const Table table({300, 310, 350, 500}, {0, 4, 1, 7}, linear, zero);
  // Trapezia by hand: 303..310, 310..350, 350..360.
  const double area = 7 * (1.2 + 4) / 2 + 40 * 2.5 + 10 * (1 + 1.4) / 2;
  EXPECT_NEAR(table.mean(303, 360), area / 57, kRounding * 3);
  EXPECT_NEAR(table.mean(320, 321), 4 - 3 * 10.5 / 40, kRounding * 4);
}

TEST(Table, MeanOfALogLinearTableIsTheClosedIntegral) {
  const double a = 1e-3, b = 1e-7;
  const Table table({300, 400}, {a, b}, log_linear, zero);
  EXPECT_NEAR(table.mean(300, 400), (b - a) / std::log(b / a), a * kRounding);
  // A part of it: the ends at 320 and 345.
  const double p = a * std::pow(b / a, 0.2), q = a * std::pow(b / a, 0.45);
  EXPECT_NEAR(table.mean(320, 345), (q - p) / std::log(q / p), p * kRounding);
}

TEST(Table, MeanOfANearlyFlatLogLinearTableKeepsItsDigits) {
  const Table table({300, 400}, {0.5, 0.5 * (1 + 1e-13)}, log_linear, zero);
  EXPECT_NEAR(table.mean(310, 390), 0.5, 1e-13);
}

TEST(Table, MeansAddUpOverAdjacentRanges) {
  const Table table({260, 300, 333, 402}, {0.2, 0.9, 1e-4, 0.4}, log_linear, hold);
  const double whole = table.mean(250, 420) * 170;
  const double parts = table.mean(250, 299) * 49 + table.mean(299, 340) * 41 + table.mean(340, 420) * 80;
  EXPECT_NEAR(whole, parts, whole * kRounding);
}

TEST(Table, ConstantIsTheSameEverywhere) {
  const Table table = Table::constant(0.37);
  EXPECT_EQ(table.at(-1e9), 0.37);
  EXPECT_EQ(table.at(1e9), 0.37);
  EXPECT_DOUBLE_EQ(table.mean(-5, 1234), 0.37);
  EXPECT_TRUE((table.bin_means() - 0.37).abs().maxCoeff() < 1e-15);
}

TEST(Table, BinMeansAreTheMeanOverEachBin) {
  const Table table({302, 308}, {0, 0.6}, linear, hold);
  const SpectralD means = table.bin_means();
  EXPECT_EQ(means[bin_of(295)], 0);
  EXPECT_NEAR(means[bin_of(302)], 0.5 * 0.3 * 3 / 5, kRounding);                    // 300 to 305
  EXPECT_NEAR(means[bin_of(306)], ((0.3 + 0.6) / 2 * 3 + 0.6 * 2) / 5, kRounding);  // 305 to 310
  EXPECT_DOUBLE_EQ(means[kBins - 1], 0.6);
}

TEST(Table, WhatIsNoTableIsRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(Table({}, {}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, 2}, {1}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, 1}, {1, 2}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({2, 1}, {1, 2}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, 2}, {1, -1e-9}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, 2}, {1, nan}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, INFINITY}, {1, 2}, linear, zero), std::invalid_argument);
  EXPECT_THROW(Table({1, 2}, {1, 2}, linear, zero).mean(2, 2), std::invalid_argument);
}

}  // namespace
}  // namespace boughlight
