// Lux, photons and their ratio for the CIE illuminants, read from Debian's colord-data.
#include <gtest/gtest.h>

#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "published/check.h"
#include "spectrum/emission.h"
#include "spectrum/quantity.h"

namespace boughlight {
namespace {

using enum Quantity;

// A spectrum of the package colord-data (CGATS text): evenly spaced from SPECTRAL_START_NM to
// SPECTRAL_END_NM, the values after BEGIN_DATA.
Table illuminant(const std::string& name) {
  const std::string path = "/usr/share/colord/illuminant/CIE-" + name + ".sp";
  std::ifstream in(path);
  if (!in) throw std::runtime_error("there is no " + path + ": install the Debian package colord-data");
  double start = 0, end = 0;
  std::vector<double> x, y;
  std::string word;
  while (in >> word && word != "BEGIN_DATA") {
    if (word == "SPECTRAL_START_NM") in >> start;
    if (word == "SPECTRAL_END_NM") in >> end;
  }
  while (in >> word && word != "END_DATA") y.push_back(std::stod(word));
  for (std::size_t i = 0; i < y.size(); ++i)
    x.push_back(start + (end - start) * static_cast<double>(i) / static_cast<double>(y.size() - 1));
  return Table(x, y, Between::linear, Beyond::zero);
}

// Sum of the power in the bins of [from, to), edges both.
double power_between(const SpectrumPerWatt& s, double from_nm, double to_nm) {
  double sum = 0;
  for (int bin = bin_of(from_nm); bin < bin_of(to_nm); ++bin) sum += s.power[bin];
  return sum;
}

TEST(Photometry, LuminousEfficiencyOfCie1931) {
  formula("CIE 1931 luminous efficiency");
  struct Row {
    double nm, v;
  };
  for (const Row& r :
       {Row{400, .000396}, Row{440, .023}, Row{480, .13902}, Row{500, .323}, Row{520, .710}, Row{555, 1.000},
        Row{580, .870}, Row{600, .631}, Row{640, .175}, Row{680, .017}, Row{720, .001047}, Row{780, .000015}})
    expect_published({"V at " + std::to_string(static_cast<int>(r.nm)) + " nm",
                      "CIE 1931 2 deg y-bar (colord-data)", r.v, weighting(lux).at(r.nm) / 683.002, 1.1e-8,
                      "15 and 14.99 millionths at 780 nm"});
}

TEST(Photometry, LuminousEfficacyOfRadiation) {
  formula("683 lm/W");
  // 683 lm/W at 540 THz (SI); at 555 nm, V's greatest, CIE e-ILV 'luminous efficacy of radiation'.
  expect_published({"lm/W at 555 nm", "CIE e-ILV, luminous efficacy of radiation", 683,
                    integrate_spectrum({{SpectralLine{555}, 1}}).total(lux), 0.01,
                    "683.002 in air against 683"});
}

TEST(Photometry, IntegralOfLuminousEfficiency) {
  formula("Integral of the luminous efficiency");
  const Table flat({360, 830}, {1, 1}, Between::linear, Beyond::zero);
  const double integral = integrate_spectrum({{TabulatedEmission{flat}, 1}}).total(lux) / 683.002 * 470;
  expect_published({"integral of V, nm", "Wyszecki and Stiles, Color Science, from memory", 106.857, integral,
                    5e-4, "half of the last digit printed"});
}

TEST(Photons, PerJoule) {
  formula("Photons per joule");
  struct Row {
    double nm, umol;
  };
  for (const Row& r : {Row{450, 3.76171}, Row{550, 4.59764}, Row{660, 5.51717}})
    expect_published({"umol/J at " + std::to_string(static_cast<int>(r.nm)) + " nm",
                      "computed: L / (h c N_A), SI 2019", r.umol,
                      integrate_spectrum({{SpectralLine{r.nm}, 1}}).total(ppfd), 5e-6, "digits given"});
  const Table flat({400, 700}, {1, 1}, Between::linear, Beyond::zero);
  expect_published({"umol/J, flat from 400 to 700 nm", "computed: as 550 nm", 4.59764,
                    integrate_spectrum({{TabulatedEmission{flat}, 1}}).total(ppfd), 5e-6, "digits given"});
}

TEST(Photons, DailyLightIntegral) {
  formula("Daily light integral");
  // mol/(m2 d) = PPFD x 3600 x hours / 1e6 (encyclopedia page on DLI; Faust and Logan 2018, from memory).
  expect_published({"DLI of 100 umol/(m2 s) for 12 h", "definition of DLI", 4.32,
                    100 * 12 * info(dli).per_hour, 1e-12, "exact"});
}

TEST(Illuminants, LuxPerPhotonFluxComputedElsewhere) {
  formula("Lux per photon flux of CIE illuminants (tables of colord-data)");
  // Computed apart from this program (Python, 1 nm, V over 380-780 nm) from the same tables of colord-data.
  struct Row {
    const char* name;
    double lux_per_umol, umol_per_joule, lumen_per_watt;
  };
  const char* source = "computed in Python from colord-data's tables";
  const char* why = "0.3 %: 1 nm steps and the ends of V";
  for (const Row& r :
       {Row{"A", 50.26, 5.013, 252.0}, Row{"D50", 56.20, 4.668, 262.3}, Row{"D55", 56.15, 4.613, 259.0},
        Row{"D65", 55.50, 4.528, 251.3}, Row{"E", 52.91, 4.598, 243.3}, Row{"F2", 76.46, 4.533, 346.6},
        Row{"F7", 60.57, 4.477, 271.2}, Row{"F11", 76.02, 4.573, 347.6}}) {
    const SpectrumPerWatt s = integrate_spectrum({{TabulatedEmission{illuminant(r.name)}, 1}});
    const double visible = power_between(s, 400, 700);
    const std::string name = r.name;
    expect_published({name + ": lux per umol/(m2 s)", source, r.lux_per_umol, s.total(lux) / s.total(ppfd),
                      0.003 * r.lux_per_umol, why});
    expect_published({name + ": umol per J from 400 to 700 nm", source, r.umol_per_joule,
                      s.total(ppfd) / visible, 0.003 * r.umol_per_joule, why});
    expect_published({name + ": lm per W from 400 to 700 nm", source, r.lumen_per_watt,
                      s.total(lux) / visible, 0.003 * r.lumen_per_watt, why});
  }
}

TEST(Illuminants, LuxPerPhotonFluxOfThimijanAndHeins) {
  formula("Lux per photon flux of Thimijan and Heins 1983");
  // Thimijan and Heins 1983, HortScience 18, 818-822: measured lamps and skies, not these illuminants
  // themselves.
  struct Row {
    const char *source_of_light, *illuminant;
    double lux_per_umol, umol_per_joule;
  };
  for (const Row& r : {Row{"sun and sky", "D65", 54, 4.57}, Row{"incandescent", "A", 50, 5.0},
                       Row{"cool-white fluorescent", "F2", 74, 4.59}}) {
    const SpectrumPerWatt s = integrate_spectrum({{TabulatedEmission{illuminant(r.illuminant)}, 1}});
    const std::string name = r.source_of_light;
    const char* source = "Thimijan and Heins 1983, HortScience 18, 818-822";
    const char* why = "5 %: a real lamp or sky against the CIE illuminant nearest to it";
    expect_published({name + ": lux per umol/(m2 s)", source, r.lux_per_umol, s.total(lux) / s.total(ppfd),
                      0.05 * r.lux_per_umol, why});
    expect_published({name + ": umol per J from 400 to 700 nm", source, r.umol_per_joule,
                      s.total(ppfd) / power_between(s, 400, 700), 0.05 * r.umol_per_joule, why});
  }
}

TEST(StandardFiles, DaylightIsTheIlluminantOfTheInstalledPackage) {
  const Table installed = illuminant("D65");
  const Table ours = read_table_file(std::string(BOUGHLIGHT_SOURCE_DIR) + "/fixtures/standard/d65.csv").table;
  EXPECT_EQ(ours.x(), installed.x());
  EXPECT_EQ(ours.y(), installed.y());
}

}  // namespace
}  // namespace boughlight
