#include <gtest/gtest.h>

#include <cmath>

#include "spectrum/emission.h"

namespace boughlight {
namespace {

LampPart halogen(std::optional<double> filament_k) {
  LampPart part;
  part.components = {{Blackbody{2900}, 1}};
  part.per_watt = integrate_spectrum(part.components);
  part.radiant_flux_w = 60;
  part.filament_k = filament_k;
  return part;
}

double total(const QuantityBins& output, Quantity quantity) {
  return output.row(static_cast<int>(quantity)).sum();
}

TEST(Dimming, EvenScalesEveryQuantityAlike) {
  const LampPart part = halogen(std::nullopt);
  const QuantityBins full = dimmed_output(part, 1), half = dimmed_output(part, 0.5);
  EXPECT_TRUE(half.isApprox(0.5 * full, 1e-12));
}

TEST(Dimming, FilamentKeepsItsWattsAndLosesLightFaster) {
  const LampPart part = halogen(2900);
  const QuantityBins full = dimmed_output(part, 1), half = dimmed_output(part, 0.5);
  EXPECT_NEAR(total(half, Quantity::irradiance), 0.5 * total(full, Quantity::irradiance), 1e-6 * 60);
  EXPECT_LT(total(half, Quantity::lux), 0.3 * total(full, Quantity::lux));
  EXPECT_LT(total(half, Quantity::uvi),
            total(half, Quantity::lux) / total(full, Quantity::lux) * total(full, Quantity::uvi));
  EXPECT_EQ(total(dimmed_output(part, 0), Quantity::lux), 0);
}

TEST(Dimming, FilamentLuxFollowsThePublishedPowerOfVoltage) {
  // Published for rerating: light goes with voltage^3.4 to 3.5 and power with voltage^1.6, so light with
  // power^(3.45/1.6) (https://en.wikipedia.org/wiki/Lamp_rerating). A blackbody is not quite tungsten, whose
  // emissivity rises towards the blue as it cools: 5 % at 80 % power.
  const LampPart part = halogen(2900);
  const double ratio =
      total(dimmed_output(part, 0.8), Quantity::lux) / total(dimmed_output(part, 1), Quantity::lux);
  EXPECT_NEAR(ratio, std::pow(0.8, 3.45 / 1.6), 0.05 * ratio);
}

TEST(Dimming, TableBehindGlassCoolsLikeTheBlackbodyThatItWasMadeFrom) {
  // The same light as a table of 1 nm to 20 nm steps: both ways of writing it must redden alike.
  LampPart part = halogen(2900);
  std::vector<double> x, y;
  for (double nm = 250; nm <= 25000; nm *= 1.004) x.push_back(nm), y.push_back(planck_w_m2_nm(nm, 2900));
  part.components = {{TabulatedEmission{Table(x, y, Between::linear, Beyond::zero)}, 1}};
  part.per_watt = integrate_spectrum(part.components);
  for (const Quantity quantity : {Quantity::lux, Quantity::ppfd, Quantity::uvi, Quantity::infrared}) {
    const double expected = total(dimmed_output(halogen(2900), 0.6), quantity);
    EXPECT_NEAR(total(dimmed_output(part, 0.6), quantity), expected, 1e-3 * expected) << info(quantity).name;
  }
}

TEST(Dimming, ACoarseTableCoolsAsTheSameLinesWrittenFinely) {
  const std::vector<double> x = {280, 400, 555, 700, 1000, 1600, 2200, 3000},
                            y = {0.001, 0.05, 0.3, 0.6, 1, 0.7, 0.3, 0.1};
  const Table coarse(x, y, Between::linear, Beyond::zero);
  std::vector<double> fine_x, fine_y;
  for (int nm = 280; nm <= 3000; ++nm) fine_x.push_back(nm), fine_y.push_back(coarse.at(nm));
  LampPart part = halogen(3100), other = part;
  part.components = {{TabulatedEmission{coarse}, 1}};
  other.components = {{TabulatedEmission{Table(fine_x, fine_y, Between::linear, Beyond::zero)}, 1}};
  for (const double dim : {0.55, 0.2})
    for (const Quantity quantity : {Quantity::lux, Quantity::ppfd, Quantity::uvi, Quantity::infrared}) {
      const double expected = total(dimmed_output(other, dim), quantity);
      EXPECT_NEAR(total(dimmed_output(part, dim), quantity), expected, 1e-6 * expected)
          << info(quantity).name << " at " << dim;
    }
  // And as a plain sum over nanometres says, which is rougher.
  const double full_k = 3100, cooled_k = full_k * std::pow(0.2, kFilamentExponent);
  double lux = 0, watts = 0;
  for (double nm = 280.05; nm < 3000; nm += 0.1) {
    const double power = coarse.at(nm) * planck_w_m2_nm(nm, cooled_k) / planck_w_m2_nm(nm, full_k);
    watts += power, lux += power * weighting(Quantity::lux).at(nm);
  }
  EXPECT_NEAR(total(dimmed_output(part, 0.2), Quantity::lux), 0.2 * 60 * lux / watts,
              1e-4 * 12 * lux / watts);
}

}  // namespace
}  // namespace boughlight
