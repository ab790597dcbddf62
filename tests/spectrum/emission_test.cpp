#include "spectrum/emission.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>

namespace boughlight {
namespace {

using enum Quantity;

// The promised relative error of integrate_spectrum.
constexpr double kPromised = 1e-6;

SpectrumPerWatt one(SpectrumComponent component) {
  return integrate_spectrum({std::move(component)});
}

TabulatedEmission flat(double from_nm, double to_nm) {
  return {Table({from_nm, to_nm}, {1, 1}, Between::linear, Beyond::zero)};
}

// Integral of f x weighting by midpoints 0.002 nm apart: nothing in common with the engine's quadrature.
double fine_sum(const std::function<double(double)>& f, Quantity quantity, double from, double to) {
  const int n = static_cast<int>(std::round((to - from) / 0.002));
  const double step = (to - from) / n;
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    const double at = from + (i + 0.5) * step;
    sum += f(at) * weighting(quantity).at(at);
  }
  return sum * step;
}

std::string refusal(std::vector<SpectrumComponent> components) {
  try {
    integrate_spectrum(components);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "";
}

TEST(Emission, PowerOfEverySpectrumSumsToOne) {
  for (const SpectrumPerWatt& s :
       {one({GaussianBand{320, 30, 292, 0}, 1}), one({SpectralLine{365}, 1}), one({Blackbody{2900}, 1}),
        one({flat(300, 800), 3}), one({GaussianBand{450, 0.2, 0, 0}, 1}),
        integrate_spectrum(
            {{Blackbody{600}, 2}, {SpectralLine{546.1}, 1}, {GaussianBand{450, 20, 0, 0}, 0.3}})}) {
    EXPECT_NEAR(s.power.sum(), 1, 1e-12);
    EXPECT_NEAR(s.total(irradiance), 1, 1e-12);
    EXPECT_GE(s.power.minCoeff(), 0);
    EXPECT_GE(s.weighted.minCoeff(), 0);
  }
}

TEST(Emission, AGaussianBandMatchesAFineSum) {
  const double sigma = 30 / (2 * std::sqrt(2 * std::log(2.0)));
  const auto shape = [&](double x) { return std::exp(-0.5 * std::pow((x - 320) / sigma, 2)); };
  const double whole = fine_sum(shape, irradiance, 292, 440);
  const SpectrumPerWatt s = one({GaussianBand{320, 30, 292, 440}, 1});
  for (const Quantity q : {uvi, uvb, uva, d3, actinic, lux, ppfd}) {
    const double expected = fine_sum(shape, q, 292, 440) / whole;
    // The sum's own steps across jumps (0.002 nm of 148) are a few 1e-6 at most.
    EXPECT_NEAR(s.total(q), expected, 5e-6 * expected) << info(q).name;
  }
}

TEST(Emission, FullWidthAtHalfMaximumMeansWhatItSays) {
  const std::vector<SpectrumComponent> band = {{GaussianBand{600, 40, 0, 0}, 1}};
  const double top = spectral_density(band, 600);
  EXPECT_NEAR(spectral_density(band, 580), top / 2, 1e-12 * top);
  EXPECT_NEAR(spectral_density(band, 620), top / 2, 1e-12 * top);
}

TEST(Emission, AVeryNarrowBandActsAsALine) {
  const SpectrumPerWatt band = one({GaussianBand{302.2, 0.01, 0, 0}, 1});
  const SpectrumPerWatt line = one({SpectralLine{302.2}, 1});
  // Erythema falls by 0.22 a nm in its logarithm; its curvature over sigma = 0.004 nm is below 1e-6.
  EXPECT_NEAR(band.total(uvi), line.total(uvi), kPromised * line.total(uvi));
  EXPECT_NEAR(band.power[bin_of(302.2)], 1, 1e-12);
}

TEST(Emission, ALineOnAnEdgeBelongsToTheBinAbove) {
  for (const double edge : {280.0, 315.0, 400.0, 700.0}) {
    const SpectrumPerWatt s = one({SpectralLine{edge}, 1});
    EXPECT_EQ(s.power[bin_of(edge)], 1);
    EXPECT_EQ(kBinEdgesNm[bin_of(edge)], edge);
  }
  EXPECT_EQ(one({SpectralLine{280}, 1}).total(uvc), 0);
  EXPECT_EQ(one({SpectralLine{280}, 1}).total(uvb), 1);
  EXPECT_EQ(one({SpectralLine{315}, 1}).total(uvb), 0);
  EXPECT_EQ(one({SpectralLine{315}, 1}).total(uva), 1);
  EXPECT_EQ(one({SpectralLine{400}, 1}).total(uva), 0);
  EXPECT_GT(one({SpectralLine{400}, 1}).total(ppfd), 0);
  EXPECT_EQ(one({SpectralLine{700}, 1}).total(ppfd), 0);
  EXPECT_EQ(one({SpectralLine{700}, 1}).total(infrared), 1);
  EXPECT_EQ(one({SpectralLine{250}, 1}).power[0], 1);
  EXPECT_EQ(one({SpectralLine{25000}, 1}).power[kBins - 1], 1);
}

TEST(Emission, ATableIsLinearBetweenItsPointsAndZeroBeyond) {
  // A triangle from 300 to 420 nm with its top at 330: bin by bin by hand.
  const SpectrumPerWatt s =
      one({TabulatedEmission{Table({300, 330, 420}, {0, 3, 0}, Between::linear, Beyond::hold)}, 1});
  const double area = 0.5 * 120 * 3;
  EXPECT_NEAR(s.power[bin_of(302)], 0.5 * 5 * 0.5 / area, 1e-13);
  EXPECT_NEAR(s.power[bin_of(410)], 0.5 * 20 * (3.0 * 20 / 90) / area, 1e-13);
  EXPECT_EQ(s.power[bin_of(297)], 0);
  EXPECT_EQ(s.power[bin_of(430)], 0);
  EXPECT_NEAR(s.total(uvb), 0.5 * 15 * 1.5 / area, 1e-13);
}

TEST(Emission, ATableOfLogLinearWeightIsIntegratedExactlyBetweenKnots) {
  // Flat power times the erythemal function: closed integrals of 10^(0.094 (298 - L)) and 10^(0.015 (140 -
  // L)).
  const double k1 = 0.094 * std::log(10.0), k2 = 0.015 * std::log(10.0);
  const double sum = 18 + (1 - std::pow(10, -2.82)) / k1 + (std::pow(10, -2.82) - std::pow(10, -3.9)) / k2;
  EXPECT_NEAR(one({flat(280, 400), 1}).total(uvi), 40 * sum / 120, 1e-12);
}

TEST(Emission, ABlackbodyMatchesAFineSum) {
  const auto shape = [](double x) { return planck_w_m2_nm(x, 2856); };
  const SpectrumPerWatt s = one({Blackbody{2856}, 1});
  const double per_ppfd = fine_sum(shape, lux, 360, 830) / fine_sum(shape, ppfd, 400, 700);
  EXPECT_NEAR(s.total(lux) / s.total(ppfd), per_ppfd, kPromised * per_ppfd);
  const double per_uva = fine_sum(shape, uvi, 250, 400) / fine_sum(shape, uva, 315, 400);
  EXPECT_NEAR(s.total(uvi) / s.total(uva), per_uva, kPromised * per_uva);
}

TEST(Emission, ComponentsShareThePowerByWeight) {
  const SpectrumPerWatt a = one({Blackbody{3000}, 1}), b = one({SpectralLine{365}, 1});
  const SpectrumPerWatt both = integrate_spectrum({{Blackbody{3000}, 3}, {SpectralLine{365}, 1}});
  EXPECT_NEAR((both.power - 0.75 * a.power - 0.25 * b.power).abs().maxCoeff(), 0, 1e-15);
  EXPECT_NEAR(both.total(uvi), 0.75 * a.total(uvi) + 0.25 * b.total(uvi), 1e-14);
}

TEST(Emission, StretchesHoldThePowerOfTheirWavelengthsLinesIncluded) {
  const std::vector<SpectrumComponent> parts = {
      {flat(500, 600), 3}, {SpectralLine{546.1}, 1}, {Blackbody{3000}, 4}};
  const std::vector<double> power = power_in_stretches(parts, 400, 5, 80);
  const std::vector<double> thermal = power_in_stretches({{Blackbody{3000}, 1}}, 400, 5, 80);
  // 3/8 over 100 nm of 5 nm stretches; the line's 1/8 lies in 545 to 550 nm; the blackbody is half of all.
  EXPECT_NEAR(power[20] - 0.5 * thermal[20], 3.0 / 8 / 20, 1e-12);
  EXPECT_NEAR(power[29] - 0.5 * thermal[29], 3.0 / 8 / 20 + 1.0 / 8, 1e-12);
  EXPECT_NEAR(power[40] - 0.5 * thermal[40], 0, 1e-12);
  // A stretch against Planck's law at its middle: curvature over 5 nm is below 1e-4 of it here.
  const SpectrumPerWatt whole = one({Blackbody{3000}, 1});
  double sum = 0;
  for (int i = 0; i < 60; ++i) sum += thermal[static_cast<std::size_t>(i)];
  EXPECT_NEAR(sum, whole.power.segment(bin_of(400), bin_of(700) - bin_of(400)).sum(), 1e-9);
  EXPECT_NEAR(thermal[30] / thermal[10], planck_w_m2_nm(552.5, 3000) / planck_w_m2_nm(452.5, 3000), 2e-4);
}

TEST(Emission, DensityIntegratesToTheSharesWithoutLines) {
  const std::vector<SpectrumComponent> parts = {
      {GaussianBand{450, 20, 440, 0}, 1}, {flat(500, 600), 2}, {SpectralLine{546.1}, 1}};
  double sum = 0;
  for (double x = 400.05; x < 700; x += 0.1) sum += 0.1 * spectral_density(parts, x);
  EXPECT_NEAR(sum, 0.75, 1e-4);  // steps of 0.1 nm at the cut of the band and the table's ends
}

TEST(Emission, RadiationBelow250NmIsRefused) {
  EXPECT_NE(refusal({{SpectralLine{249.9}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{260, 20, 0, 0}, 1}}).find("below 250 nm"), std::string::npos);
  EXPECT_EQ(refusal({{GaussianBand{260, 20, 250, 0}, 1}}), "");
  EXPECT_NE(refusal({{flat(249, 300), 1}}).find("below 250 nm"), std::string::npos);
  EXPECT_EQ(refusal({{flat(250, 300), 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{200, 5, 0, 0}, 1}}).find("below 250 nm"), std::string::npos);
}

TEST(Emission, ATableThatIsZeroBelow250NmIsTaken) {
  const Table table({200, 280, 300}, {0, 0, 1}, Between::linear, Beyond::zero);
  EXPECT_EQ(refusal({{TabulatedEmission{table}, 1}}), "");
  const Table early({200, 240, 300}, {0, 0, 1}, Between::linear, Beyond::zero);
  EXPECT_NE(refusal({{TabulatedEmission{early}, 1}}), "");
}

TEST(Emission, ABandMayHaveAMillionthOutsideAndNoMore) {
  // One-sided tail of a Gaussian: 1e-6 lies beyond 4.7534 sigma (from memory; the tails below differ by 20
  // %).
  const double sigma = 10 / (2 * std::sqrt(2 * std::log(2.0)));
  EXPECT_EQ(refusal({{GaussianBand{250 + 4.80 * sigma, 10, 0, 0}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{250 + 4.70 * sigma, 10, 0, 0}, 1}}), "");
}

TEST(Emission, RadiationAbove25UmIsRefused) {
  EXPECT_NE(refusal({{SpectralLine{25001}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{24000, 5000, 0, 0}, 1}}).find("above 25 um"), std::string::npos);
  EXPECT_NE(refusal({{flat(20000, 26000), 1}}).find("above 25 um"), std::string::npos);
}

TEST(Emission, WhatIsNoSpectrumIsRefused) {
  EXPECT_NE(refusal({}), "");
  EXPECT_NE(refusal({{SpectralLine{300}, 0}}), "");
  EXPECT_NE(refusal({{SpectralLine{300}, -1}, {SpectralLine{310}, 2}}), "");
  EXPECT_NE(refusal({{Blackbody{0}, 1}}), "");
  EXPECT_NE(refusal({{Blackbody{-5}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{300, 0, 0, 0}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{300, 10, 320, 310}, 1}}), "");
  EXPECT_NE(refusal({{GaussianBand{300, 10, 500, 600}, 1}}), "");
  EXPECT_NE(refusal({{TabulatedEmission{Table::constant(1)}, 1}}), "");
  EXPECT_NE(refusal({{TabulatedEmission{Table({300, 400}, {0, 0}, Between::linear, Beyond::zero)}, 1}}), "");
}

TEST(Emission, MessagesAreForPeople) {
  EXPECT_EQ(refusal({{GaussianBand{253.7, 20, 0, 0}, 1}}),
            "the band at 253.7 nm radiates below 250 nm; nothing there is reckoned, so cut it at 250 nm or "
            "above, as "
            "the lamp's envelope does");
}

}  // namespace
}  // namespace boughlight
