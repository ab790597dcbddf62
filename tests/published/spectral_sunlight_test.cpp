// The solar reference spectrum ASTM G173-03 (global, 37 deg tilt, air mass 1.5): every weighted quantity of a
// real spectrum, end to end, against what was computed apart from this program (Python, trapezia on the
// table's own rows).
#include <gtest/gtest.h>

#include <string>

#include "published/check.h"
#include "spectrum/emission.h"

namespace boughlight {
namespace {

using enum Quantity;

const char* const kSource = "computed in Python from the ASTM G173-03 table";

double reading(const Table& table, Quantity quantity) {
  const double from = table.x().front(), to = table.x().back();
  return table.mean(from, to) * (to - from) *
         integrate_spectrum({{TabulatedEmission{table}, 1}}).total(quantity);
}

// The table's rows from 290 to 400 nm, 0.5 nm apart.
const Table& ultraviolet() {
  static const Table table =
      read_table_file(std::string(BOUGHLIGHT_SOURCE_DIR) + "/tests/published/sunlight_ultraviolet.csv").table;
  return table;
}

TEST(Sunlight, UvIndex) {
  formula("UV index of the solar spectrum ASTM G173");
  expect_published({"UVI of G173 global", kSource, 3.6899, reading(ultraviolet(), uvi), 0.002 * 3.6899,
                    "0.2 %: trapezia of a product 0.5 nm apart against its integral"});
}

TEST(Sunlight, UvIndexByTheRuleOfKaplanAndDumont) {
  formula("UV index by the rule of Kaplan and Dumont 2021");
  // Kaplan and Dumont 2021, Sensors 21(16), 5528: UVI is about 77 m2 nm/W x E(310 nm) in sunlight.
  const double rule = 77 * ultraviolet().at(310);
  expect_published({"UVI by E(310 nm)", "Kaplan and Dumont 2021, Sensors 21, 5528", rule,
                    reading(ultraviolet(), uvi), 0.08 * rule,
                    "a rule of thumb, known to be 6 % above the integral here"});
}

TEST(Sunlight, WeightedUltraviolet) {
  formula("Weighted ultraviolet of the solar spectrum ASTM G173");
  struct Row {
    const char* what;
    double value;
    Quantity quantity;
  };
  for (const Row& r : {Row{"pre-vitamin D3 weighted W/m2", 0.146413, d3},
                       Row{"actinic weighted W/m2, log-linear", 0.020128, actinic},
                       Row{"UV-B, W/m2", 0.68233, uvb}, Row{"UV-A, W/m2", 45.42037, uva}})
    expect_published({r.what, kSource, r.value, reading(ultraviolet(), r.quantity), 0.005 * r.value,
                      "0.5 %: trapezia of a product 0.5 nm apart, and a range's end inside a trapezium"});
  // Ratio of D3 to erythema, 1.5872.
  expect_published({"pre-vitamin D3 to erythema", kSource, 1.5872,
                    reading(ultraviolet(), d3) / (reading(ultraviolet(), uvi) / 40), 0.005 * 1.5872,
                    "the same"});
}

TEST(Sunlight, PhotonsAndLux) {
  formula("Photons and lux of the solar spectrum ASTM G173");
  const Table nodes({400, 450, 500, 550, 600, 650, 700},
                    {1.1141, 1.5595, 1.5451, 1.5399, 1.4753, 1.3594, 1.2823}, Between::linear, Beyond::zero);
  const char* why = "3 %: seven rows 50 nm apart step over the absorption lines of the whole table";
  expect_published({"PPFD of G173 global", kSource, 1977.87, reading(nodes, ppfd), 0.03 * 1977.87, why});
  expect_published({"lux of G173 global", kSource, 109493, reading(nodes, lux), 0.03 * 109493, why});
  expect_published({"lux per PPFD of G173 global", kSource, 55.359,
                    reading(nodes, lux) / reading(nodes, ppfd), 0.01 * 55.359,
                    "1 %: the same lines, most of which cancel"});
}

}  // namespace
}  // namespace boughlight
