// The solar spectrum outside the atmosphere, ASTM E490-00, read from Debian's python3-pyspectral: every
// weighted quantity of a real spectrum from the whole table, against what was computed apart from this
// program (Python, trapezia on the table's own rows).
#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "published/check.h"
#include "spectrum/emission.h"

namespace boughlight {
namespace {

using enum Quantity;

struct Rows {
  std::vector<double> nm, w_m2_nm;
};

// Rows of wavelength in um and W/(m2 um), from `from_nm` to `to_nm`.
Rows e490(double from_nm, double to_nm) {
  const std::string path = "/usr/lib/python3/dist-packages/pyspectral/data/e490_00a.dat";
  std::ifstream in(path);
  if (!in)
    throw std::runtime_error("there is no " + path + ": install the Debian package python3-pyspectral");
  Rows rows;
  std::string line;
  while (std::getline(in, line)) {
    std::istringstream words(line);
    double um = 0, value = 0;
    if (!(words >> um >> value) || 1000 * um < from_nm || 1000 * um > to_nm) continue;
    rows.nm.push_back(1000 * um);
    rows.w_m2_nm.push_back(value / 1000);
  }
  return rows;
}

// Over the rows, or what of them lies above a wavelength.
double trapezia(const Rows& rows, double above_nm = 0) {
  double sum = 0;
  for (std::size_t i = 1; i < rows.nm.size(); ++i) {
    const double from = std::max(above_nm, rows.nm[i - 1]), to = rows.nm[i];
    if (from >= to) continue;
    const double slope = (rows.w_m2_nm[i] - rows.w_m2_nm[i - 1]) / (to - rows.nm[i - 1]);
    const double first = rows.w_m2_nm[i - 1] + slope * (from - rows.nm[i - 1]);
    sum += 0.5 * (first + rows.w_m2_nm[i]) * (to - from);
  }
  return sum;
}

TEST(Extraterrestrial, SolarConstant) {
  formula("Solar constant of ASTM E490");
  const Rows all = e490(0, 1e9);
  expect_published({"all rows, W/m2", "ASTM E490-00, as the NREL page on it prints", 1366.1, trapezia(all),
                    0.05, "half of the last digit printed"});
  // A lamp of this spectrum holds what lies between 250 nm and 25 um, as the rows there do.
  const Rows rows = e490(250, 25000);
  const Table table(rows.nm, rows.w_m2_nm, Between::linear, Beyond::zero);
  expect_published({"share above 700 nm of what lies in 250 nm to 25 um", "trapezia on the table's rows",
                    trapezia(rows, 700) / trapezia(rows),
                    integrate_spectrum({{TabulatedEmission{table}, 1}}).total(infrared), 1e-5,
                    "1e-5: sums over many bins"});
}

TEST(Extraterrestrial, WeightedQuantities) {
  formula("Weighted quantities of the solar spectrum ASTM E490");
  const Rows rows = e490(280, 25000);
  const Table table(rows.nm, rows.w_m2_nm, Between::linear, Beyond::zero);
  const SpectrumPerWatt spectrum = integrate_spectrum({{TabulatedEmission{table}, 1}});
  const double watts = trapezia(rows);
  struct Row {
    const char* what;
    Quantity quantity;
    double value;
  };
  const char* source = "computed in Python from the ASTM E490-00 table";
  for (const Row& r : {Row{"UV-B, W/m2", uvb, 16.85716}, Row{"UV-A, W/m2", uva, 83.01291},
                       Row{"PPFD, umol/(m2 s)", ppfd, 2414.20}, Row{"illuminance, lx", lux, 133318},
                       Row{"UV index, from 280 nm", uvi, 379.3}})
    expect_published({r.what, source, r.value, watts * spectrum.total(r.quantity), 5e-3 * r.value,
                      "0.5 %: trapezia of a product 1 nm apart, and a range's end inside a trapezium"});
}

}  // namespace
}  // namespace boughlight
