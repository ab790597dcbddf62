#include "assess/warmth.h"

#include <gtest/gtest.h>

#include <cmath>

namespace boughlight {
namespace {

constexpr double kZero = 273.15;
const double kBackLength = plate_length(0.2, 0.06);

TEST(SteadyTemperature, LeavesNoHeatOver) {
  for (const double absorbed : {0.01, 5.0, 240.0, 1500.0})
    for (const double air_c : {-10.0, 24.0, 45.0}) {
      HeatBalance balance{absorbed, air_c + kZero, air_c + kZero, 0.95, {}};
      balance.convection = [&](double t) { return free_convection(t, balance.air_k, kBackLength); };
      const double found = steady_temperature(balance);
      // One step of a double at 300 K is 6e-14 K; some 20 W/(m2 K) carry it.
      EXPECT_NEAR(balance.surplus(found), 0, 1e-11 * (1 + absorbed))
          << absorbed << " W/m2 at " << air_c << " C";
      EXPECT_GT(found, balance.air_k);
    }
}

TEST(SteadyTemperature, ADarkSurfaceInAColdSkyIsColderThanTheAir) {
  const HeatBalance balance{0, 283.15, 253.15, 0.9, [](double) { return 10.0; }};
  const double found = steady_temperature(balance);
  EXPECT_LT(found, 283.15);
  EXPECT_GT(found, 253.15);
  EXPECT_NEAR(balance.surplus(found), 0, 1e-9);
}

TEST(SteadyTemperature, WithoutAWayOutForTheHeatIsRefused) {
  EXPECT_THROW(steady_temperature({100, 300, 300, 0, [](double) { return 0.0; }}), std::logic_error);
}

TEST(FreeConvection, IsSteadyAndGrowsWithTheDifference) {
  EXPECT_EQ(free_convection(300, 300, kBackLength), 0);
  EXPECT_EQ(free_convection(290, 300, kBackLength), 0);
  double before = 0;
  for (double warmer = 0.5; warmer < 60; warmer += 0.5) {
    const double found = free_convection(298 + warmer, 298, kBackLength);
    EXPECT_GT(found, before) << warmer;
    before = found;
  }
  // The two laws meet without a step.
  EXPECT_NEAR(plate_nusselt(4.65e6), plate_nusselt(4.66e6), 1e-2 * plate_nusselt(4.65e6));
}

TEST(BackWarmth, WithoutLightIsTheAirs) {
  const Warmth dark = back_warmth(0, 21, kBackLength);
  EXPECT_EQ(dark.value_c, 21);
  EXPECT_EQ(dark.low_c, 21);
  EXPECT_EQ(dark.high_c, 21);
}

TEST(BackWarmth, BandHoldsTheValueAndGrowsWithEachDoubt) {
  const Warmth known = back_warmth(300, 24, kBackLength, {0, 0, 0});
  EXPECT_DOUBLE_EQ(known.low_c, known.value_c);
  EXPECT_DOUBLE_EQ(known.high_c, known.value_c);
  double width = 0;
  for (const WarmthDoubt& doubt :
       {WarmthDoubt{0.2, 0, 0}, WarmthDoubt{0.2, 0.4, 0}, WarmthDoubt{0.2, 0.4, 0.07}}) {
    const Warmth found = back_warmth(300, 24, kBackLength, doubt);
    EXPECT_DOUBLE_EQ(found.value_c, known.value_c);
    EXPECT_LT(found.low_c, found.value_c);
    EXPECT_GT(found.high_c, found.value_c);
    EXPECT_GT(found.low_c, 24);
    EXPECT_GT(found.high_c - found.low_c, width);
    width = found.high_c - found.low_c;
  }
  // One doubt alone: the change that it makes.
  EXPECT_NEAR(back_warmth(300, 24, kBackLength, {0.2, 0, 0}).high_c,
              back_warmth(360, 24, kBackLength).value_c, 1e-9);
}

TEST(BackWarmth, RisesWithLightAndAir) {
  double before = 0;
  for (const double light : {10.0, 100.0, 300.0, 1000.0}) {
    const double found = back_warmth(light, 24, kBackLength).value_c;
    EXPECT_GT(found, before);
    before = found;
  }
  EXPECT_GT(back_warmth(300, 30, kBackLength).value_c, back_warmth(300, 24, kBackLength).value_c + 4);
  EXPECT_GT(back_warmth(300, 24, 2 * kBackLength).value_c, back_warmth(300, 24, kBackLength).value_c)
      << "large ones keep heat";
}

}  // namespace
}  // namespace boughlight
