#include "report/scale.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace boughlight {
namespace {

constexpr int kSteps = 17;  // the ramp's 256 colours hold 17 steps of 15

double distance(const OkLab& p, const OkLab& q) {
  return std::hypot(p.lightness - q.lightness, p.a - q.a, p.b - q.b);
}

// The definition of OKLab: white is (1, 0, 0), black is 0; and the two matrices undo each other.
TEST(Ramp, OkLabHoldsWhiteAndRoundTrips) {
  const OkLab white = to_oklab({255, 255, 255});
  EXPECT_NEAR(white.lightness, 1, 1e-6);
  EXPECT_NEAR(white.a, 0, 1e-6);
  EXPECT_NEAR(white.b, 0, 1e-6);
  for (const Rgb colour : {Rgb{0, 0, 0}, Rgb{200, 30, 90}, Rgb{12, 240, 7}, Rgb{1, 2, 250}}) {
    EXPECT_EQ(to_rgb(to_oklab(colour)), colour);
  }
}

TEST(Ramp, LightnessRisesAllTheWay) {
  for (int i = 0; i < kSteps; ++i) {
    EXPECT_LT(to_oklab(ramp_colour(double(i) / kSteps)).lightness,
              to_oklab(ramp_colour((i + 1.0) / kSteps)).lightness)
        << "step " << i;
  }
  EXPECT_LT(to_oklab(ramp_colour(0)).lightness, 0.3);
  EXPECT_GT(to_oklab(ramp_colour(1)).lightness, 0.9);
}

TEST(Ramp, EqualStepsLookEquallyFarApart) {
  double least = 1, most = 0;
  for (int i = 0; i < kSteps; ++i) {
    const double step =
        distance(to_oklab(ramp_colour(double(i) / kSteps)), to_oklab(ramp_colour((i + 1.0) / kSteps)));
    least = std::min(least, step);
    most = std::max(most, step);
  }
  // Rounding to 8 bits moves a colour by up to about 0.0015 in OKLab at either end of a step of 0.045.
  EXPECT_LT(most / least, 1.15);
}

// Machado, Oliveira and Fernandes 2009, full protanopia, deuteranopia and tritanopia (matrices from memory;
// each row sums to 1, so that greys stay grey).
TEST(Ramp, OrderSurvivesEveryColourVisionDeficiency) {
  using Matrix = std::array<std::array<double, 3>, 3>;
  const std::array<Matrix, 3> deficiencies = {
      {{{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
       {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
       {{{1.255528, -0.076749, -0.178779},
         {-0.078411, 0.930809, 0.147602},
         {0.004733, 0.691367, 0.303900}}}}};
  for (const Matrix& seen : deficiencies) {
    double before = -1;
    for (int i = 0; i <= 20; ++i) {
      const Rgb c = ramp_colour(i / 20.0);
      const std::array<double, 3> in = {double(c.r), double(c.g), double(c.b)};
      std::array<std::uint8_t, 3> out{};
      for (std::size_t k = 0; k < 3; ++k) {
        const double sum = seen[k][0] * in[0] + seen[k][1] * in[1] + seen[k][2] * in[2];
        out[k] = static_cast<std::uint8_t>(std::clamp(sum, 0.0, 255.0));
      }
      const double lightness = to_oklab({out[0], out[1], out[2]}).lightness;
      EXPECT_GT(lightness, before + 0.015) << "step " << i;  // a third of the mean step: plain to see
      before = lightness;
    }
  }
}

TEST(ColourScale, IsLinearFromZeroWhereTheRangeIsNarrow) {
  const std::vector<double> values = {10, 20, 30, 47};
  const ColourScale scale = scale_for(values, {});
  EXPECT_EQ(scale.spacing, Spacing::linear);
  EXPECT_EQ(scale.low, 0);
  EXPECT_EQ(scale.high, 50);
  EXPECT_DOUBLE_EQ(scale.share(25), 0.5);
  EXPECT_EQ(scale.share(-1), 0);
  EXPECT_EQ(scale.share(99), 1);
}

TEST(ColourScale, IsLogarithmicWhereOnePeakTowersOverTheRest) {
  std::vector<double> values(999, 0.2);
  values.push_back(9.4);  // all others in the lowest tenth of a scale from 0 to 9.4
  const ColourScale scale = scale_for(values, {});
  EXPECT_EQ(scale.spacing, Spacing::logarithmic);
  EXPECT_GE(scale.high, 9.4);
  EXPECT_LE(scale.low, 0.2);
  EXPECT_NEAR(scale.share(std::sqrt(scale.low * scale.high)), 0.5, 1e-12);
  EXPECT_EQ(scale.share(0), 0);
}

TEST(ColourScale, ReachesBelowTheLeastLimit) {
  std::vector<double> values(999, 1.0);
  values.push_back(900);
  const std::vector<double> limits = {0.5, 7};
  EXPECT_GT(scale_for(values, {}).low, 0.1);
  EXPECT_LT(scale_for(values, limits).low, 0.5);
  EXPECT_GT(scale_for(values, limits).share(0.5), 0);
}

TEST(ColourScale, HoldsWithoutAnyLight) {
  const std::vector<double> none(50, 0.0);
  for (const ColourScale& scale : {scale_for(none, {}), scale_for({}, {})}) {
    EXPECT_LT(scale.low, scale.high);
    EXPECT_FALSE(scale.ticks().empty());
    EXPECT_EQ(scale.share(0), 0);
  }
}

TEST(ColourScale, TicksAreRoundInsideAndAtMostTen) {
  for (const double high : {0.7, 3.0, 12.0, 450.0, 81000.0}) {
    for (const double low : {high / 1e5, high / 200, high / 15}) {
      const ColourScale scale{Spacing::logarithmic, low, high};
      const std::vector<double> ticks = scale.ticks();
      EXPECT_GE(ticks.size(), 2u) << low << " " << high;
      EXPECT_LE(ticks.size(), 10u) << low << " " << high;
      for (const double tick : ticks) {
        EXPECT_GE(tick, low * (1 - 1e-6));
        EXPECT_LE(tick, high * (1 + 1e-6));
      }
    }
  }
}

TEST(NiceTicks, StandAtRoundValues) {
  EXPECT_EQ(nice_ticks(0, 50, 6), (std::vector<double>{0, 10, 20, 30, 40, 50}));
  EXPECT_EQ(nice_ticks(3, 17, 4), (std::vector<double>{5, 10, 15}));
  EXPECT_EQ(tick_text(nice_ticks(0, 0.5, 6).at(3)), "0.3");
}

TEST(LengthUnits, PrintToAboutAMillimetre) {
  EXPECT_EQ(LengthUnit("cm").text(1.425), "142.5 cm");
  EXPECT_EQ(LengthUnit("cm").text(0.4), "40 cm");
  EXPECT_EQ(LengthUnit("mm").text(0.4004), "400 mm");
  EXPECT_EQ(LengthUnit("m").text(1.4256), "1.426 m");
  EXPECT_EQ(LengthUnit("in").text(0.3048), "12 in");  // 1 in is 25.4 mm by definition
  EXPECT_EQ(LengthUnit("ft").text(0.4572), "1.5 ft");
  EXPECT_EQ(LengthUnit("cm").number(-0.0001), "0");
}

TEST(LengthUnits, TicksAreRoundInTheirOwnUnit) {
  const LengthUnit inches("in");
  const std::vector<double> ticks = inches.ticks_m(0, 1.2, 10);
  ASSERT_GE(ticks.size(), 3u);
  EXPECT_NEAR(inches.from_m(ticks[1] - ticks[0]), 6, 1e-9);
  const LengthUnit centimetres("cm");
  EXPECT_NEAR(centimetres.from_m(centimetres.ticks_m(0, 0.9, 10).at(1)), 10, 1e-9);
}

TEST(QuantityNames, UnitsOnPicturesUseTheirProperLetters) {
  EXPECT_EQ(pretty_unit(Quantity::ppfd), "µmol/(m² s)");
  EXPECT_EQ(pretty_unit(Quantity::irradiance), "W/m²");
  EXPECT_EQ(pretty_unit(Quantity::uvi), "");
  EXPECT_EQ(value_text(Quantity::irradiance, 151.3), "151 W/m2");
  EXPECT_EQ(value_text(Quantity::uvi, 3.1), "3.1");
}

}  // namespace
}  // namespace boughlight
