// Planck's law against published fractions, Stefan and Boltzmann's and Wien's laws, and blackbodies as light.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "published/check.h"
#include "spectrum/emission.h"

namespace boughlight {
namespace {

using enum Quantity;

constexpr double kStefanBoltzmann = 5.670374419e-8;  // W/(m2 K4), CODATA 2018

// Integral of the exitance over wavelength by Simpson's rule in log(wavelength).
double exitance(double from_nm, double to_nm, double temperature_k) {
  constexpr int n = 4000;
  const double a = std::log(from_nm), step = (std::log(to_nm) - a) / n;
  double sum = 0;
  for (int i = 0; i <= n; ++i) {
    const double nm = std::exp(a + i * step);
    sum += (i == 0 || i == n ? 1 : i % 2 == 1 ? 4 : 2) * nm * planck_w_m2_nm(nm, temperature_k);
  }
  return sum * step / 3;
}
double share(double from_nm, double to_nm, double temperature_k) {
  return exitance(from_nm, to_nm, temperature_k) / (kStefanBoltzmann * std::pow(temperature_k, 4));
}

TEST(Planck, FractionsBelowAWavelength) {
  formula("Fractions of the black body below a wavelength");
  struct Row {
    double lambda_t, fraction, allowed;
    const char* source;
  };
  const char* code = "blackbody table of an open CFD code";
  const char* memory = "Incropera, table 12.1, from memory";
  for (const Row& r :
       {Row{1000, 0.00032, 5e-6, code}, Row{1400, 0.00779, 5e-6, code}, Row{1600, 0.01972, 5e-6, code},
        Row{2000, 0.06672, 2e-5, code}, Row{2000, 0.0667, 5e-5, "Kreith, Manglik and Bohn, table 9.1"},
        Row{4000, 0.4809, 5e-5, "Kreith, Manglik and Bohn, worked example"},
        Row{2898, 0.250108, 5e-5, memory}, Row{3000, 0.273232, 5e-5, memory},
        Row{5000, 0.633747, 5e-5, memory}, Row{6000, 0.737818, 5e-5, memory},
        Row{10000, 0.914199, 5e-5, memory}})
    expect_published({"fraction below " + std::to_string(static_cast<int>(r.lambda_t)) + " um K", r.source,
                      r.fraction, share(10, r.lambda_t, 1000), r.allowed,
                      "digits printed, and older tables use c2 = 14388 um K, which moves the fifth digit"});
  expect_published({"fraction from 4000 to 5000 um K", "unit test of an open radiation library", 0.1529,
                    share(4000, 5000, 1000), 5e-5, "half of the last digit printed"});
}

TEST(Planck, StefanAndBoltzmannsLaw) {
  formula("Stefan and Boltzmann");
  for (const double t : {300.0, 2856.0, 5778.0})
    expect_published({"whole exitance at " + std::to_string(static_cast<int>(t)) + " K",
                      "sigma T^4, CODATA 2018", kStefanBoltzmann * std::pow(t, 4),
                      exitance(1e4 / t, 1e10 / t, t), 1e-6 * kStefanBoltzmann * std::pow(t, 4),
                      "1e-6: what lies beyond 10 m K"});
}

TEST(Planck, WiensLaw) {
  formula("Wien's displacement law");
  // 2897.771955 um K, CODATA 2018.
  for (const double t : {2700.0, 2856.0, 3000.0, 5778.0, 6500.0}) {
    double peak = 0, greatest = 0;
    for (double nm = 300; nm < 1300; nm += 0.01) {
      const double value = planck_w_m2_nm(nm, t);
      if (value > greatest) peak = nm, greatest = value;
    }
    expect_published({"peak at " + std::to_string(static_cast<int>(t)) + " K, nm", "Wien's law, CODATA 2018",
                      2897771.955 / t, peak, 0.011, "steps of 0.01 nm"});
  }
}

TEST(Planck, BlackbodiesAsLamps) {
  formula("Shares of a black body's radiation in bands");
  // Computed apart from this program (Python, V over 380-780 nm).
  struct Row {
    double t, visible, uva, uvb, lumen_per_watt, lumen_per_visible, lux_per_umol;
  };
  const char* source = "computed in Python from Planck's law";
  const char* why = "digits given; V ends at 360 and 830 nm here";
  for (const Row& r : {Row{2700, .049994, 7.1213e-4, 3.346e-5, 12.36, 247.2, 48.92},
                       Row{2856, .065272, 1.2477e-3, 7.023e-5, 16.45, 252.0, 50.26},
                       Row{3000, .080919, 1.9717e-3, 1.288e-4, 20.67, 255.4, 51.30},
                       Row{5778, .366659, .080496, .02060, 92.08, 251.1, 55.00},
                       Row{6500, .388732, .10884, .03254, 95.36, 245.3, 54.39}}) {
    const SpectrumPerWatt s = integrate_spectrum({{Blackbody{r.t}, 1}});
    // A lamp's watts are those inside 250 nm to 25 um; the figures are of the whole.
    const double inside = share(kFirstNm, kLastNm, r.t);
    double visible = 0;
    for (int bin = bin_of(400); bin < bin_of(700); ++bin) visible += s.power[bin];
    const std::string at = " at " + std::to_string(static_cast<int>(r.t)) + " K";
    expect_published({"share from 400 to 700 nm" + at, source, r.visible, visible * inside, 1e-6, why});
    expect_published(
        {"share from 315 to 400 nm" + at, source, r.uva, s.total(uva) * inside, 1e-4 * r.uva, why});
    expect_published(
        {"share from 280 to 315 nm" + at, source, r.uvb, s.total(uvb) * inside, 3e-4 * r.uvb, why});
    expect_published(
        {"lm/W" + at, source, r.lumen_per_watt, s.total(lux) * inside, 6e-4 * r.lumen_per_watt, why});
    expect_published({"lm per W from 400 to 700 nm" + at, source, r.lumen_per_visible, s.total(lux) / visible,
                      6e-4 * r.lumen_per_visible, why});
    expect_published({"lux per umol/(m2 s)" + at, source, r.lux_per_umol, s.total(lux) / s.total(ppfd),
                      4e-4 * r.lux_per_umol, why});
  }
}

}  // namespace
}  // namespace boughlight
