// The warmth of a surface in the light against handbooks of heat transfer.
#include "assess/warmth.h"

#include <cmath>

#include "published/check.h"

namespace boughlight {
namespace {

constexpr double kZero = 273.15;

HeatBalance balance(double absorbed, double air_c, double surroundings_c, double emissivity,
                    double coefficient) {
  return {absorbed, air_c + kZero, surroundings_c + kZero, emissivity,
          [coefficient](double) { return coefficient; }};
}

TEST(PublishedWarmth, PropertiesOfAir) {
  formula("Properties of dry air (Poling, Prausnitz and O'Connell)");
  // Another source than the table's own: the correlations of Poling, Prausnitz and O'Connell, The Properties
  // of Gases and Liquids, 5th edition.
  const char* poling = "Poling, Prausnitz and O'Connell 2001, correlations for dry air";
  for (const double t : {263.15, 293.15, 300.0, 323.15, 353.15}) {
    const double density = 351.99 / t + 344.88 / (t * t);
    const double viscosity = 1.4592e-6 * std::pow(t, 1.5) / (109.10 + t);
    const double conductivity = 2.3340e-3 * std::pow(t, 1.5) / (164.54 + t);
    const double heat = 1030.5 - 0.19975 * t + 3.9734e-4 * t * t;
    const Air1Atm air = air_at(t);
    expect_published({"conductivity of air, W/(m K)", poling, conductivity, air.conductivity,
                      0.02 * conductivity,
                      "tables differ by 2 %: at 300 K the table's 0.0256, Incropera's 0.0263 (from memory)"});
    expect_published({"kinematic viscosity of air, m2/s", poling, viscosity / density, air.viscosity_m2_s,
                      0.01 * viscosity / density, "tables of air differ by 1 %"});
    expect_published({"Prandtl number of air", poling, heat * viscosity / conductivity, air.prandtl,
                      0.035 * air.prandtl, "the Prandtl numbers of tables differ by 3 %"});
  }
}

TEST(PublishedWarmth, NusseltNumberOfAHorizontalPlate) {
  formula("Nusselt number of a horizontal plate");
  // A plate of 1.2 by 0.8 m at 115 C in air of 25 C: length 0.24 m, k 0.02881, viscosity 1.995e-5, Pr 0.7177
  // at 70 C, Ra 6.414e7, Nu 60.04.
  const char* cengel =
      "Cengel, Heat and Mass Transfer, solution of a problem on absorber plates laid out horizontally";
  const Air1Atm air = air_at(70 + kZero);
  expect_published({"area over perimeter, m", cengel, 0.24, plate_length(1.2, 0.8), 1e-12, "exact"});
  expect_published({"conductivity at 70 C", cengel, 0.02881, air.conductivity, 1e-12, "the same table"});
  expect_published({"viscosity at 70 C", cengel, 1.995e-5, air.viscosity_m2_s, 1e-12, "the same table"});
  expect_published({"Nusselt number", cengel, 60.04, plate_nusselt(6.414e7), 0.01, "digits given"});
  expect_published({"coefficient, W/(m2 K)", cengel, 60.04 * 0.02881 / 0.24,
                    free_convection(115 + kZero, 25 + kZero, 0.24), 0.01, "digits given and g to 9.81"});
}

TEST(PublishedWarmth, SteadyTemperaturesOfWorkedExamples) {
  formula("Steady temperatures of worked examples");
  struct Row {
    const char* what;
    const char* source;
    HeatBalance balance;
    double celsius, allowed;
    const char* why;
  };
  const Row rows[] = {
      {"plate, convection alone", "Cengel, Heat and Mass Transfer, problem 1-135: a thin plate in the sun",
       balance(0.7 * 550, 10, 10, 0, 25), 25.4, 0.05, "digits given"},
      {"plate, convection alone", "learnthermo.com, example 4B-1: 0.72 of 650 W/m2 and 25 W/(m2 K)",
       balance(0.72 * 650, 20, 20, 0, 25), 38.72, 0.01, "digits given"},
      // The fourth root in closed form; the book's own figures are rounded to a degree.
      {"black lacquer, radiation alone",
       "Holman, Heat Transfer, example 8.20: 0.96 of 700 W/m2, emissivity 0.95",
       balance(0.96 * 700, 25, 25, 0.95, 0),
       std::pow(0.96 * 700 / (0.95 * 5.670374419e-8) + std::pow(25 + kZero, 4), 0.25) - kZero, 1e-6,
       "closed form"},
      {"white paint, radiation alone",
       "Holman, Heat Transfer, example 8.20: 0.12 of 700 W/m2, emissivity 0.9",
       balance(0.12 * 700, 25, 25, 0.9, 0),
       std::pow(0.12 * 700 / (0.9 * 5.670374419e-8) + std::pow(25 + kZero, 4), 0.25) - kZero, 1e-6,
       "closed form"},
      {"black lacquer, radiation alone, as printed",
       "Holman, Heat Transfer, example 8.20 (result from memory)", balance(0.96 * 700, 25, 25, 0.95, 0), 104,
       1, "printed to a degree"},
  };
  for (const Row& row : rows)
    expect_published(
        {row.what, row.source, row.celsius, steady_temperature(row.balance) - kZero, row.allowed, row.why});
}

TEST(PublishedWarmth, LossOfASolarPlateWithSkyAndOwnConvection) {
  formula("Balance of a solar plate");
  // A selective plate at 120 C, emissivity 0.1, air 30 C, sky -10 C, h = 0.22 (Ts - Ta)^(1/3): of 0.95 x 750
  // W/m2 it keeps 516 W/m2.
  HeatBalance plate = balance(0.95 * 750, 30, -10, 0.1, 0);
  plate.convection = [&](double surface_k) { return 0.22 * std::cbrt(surface_k - plate.air_k); };
  expect_published({"what a solar plate keeps, W/m2",
                    "Incropera, Fundamentals of Heat and Mass Transfer, example 12.11 "
                    "(from memory)",
                    516, -plate.surplus(120 + kZero), 1, "printed to 1 W/m2"});
}

TEST(PublishedWarmth, OtherCorrelationsOfABackLieInTheBandOfConvection) {
  formula("Other correlations of free and forced convection");
  // A back of 20 by 6 cm, 20 K warmer than the air at 25 C.
  const double length = plate_length(0.2, 0.06), air_k = 25 + kZero, surface_k = 45 + kZero;
  const Air1Atm air = air_at((air_k + surface_k) / 2);
  const double ours = free_convection(surface_k, air_k, length);
  const auto rayleigh = [&](double size) {
    return 9.81 / ((air_k + surface_k) / 2) * 20 * std::pow(size, 3) / std::pow(air.viscosity_m2_s, 2) *
           air.prandtl;
  };
  // Upright, as a flank that is turned to the lamp: Churchill and Chu 1975, laminar.
  const double upright = (0.68 + 0.67 * std::pow(rayleigh(0.06), 0.25) /
                                     std::pow(1 + std::pow(0.492 / air.prandtl, 9.0 / 16), 4.0 / 9)) *
                         air.conductivity / 0.06;
  expect_published({"upright flank, W/(m2 K)", "Churchill and Chu 1975, Int. J. Heat Mass Transfer 18:1323",
                    upright, ours, WarmthDoubt{}.convection * ours, "the band of the estimate"});
  // Horizontal, as the VDI Heat Atlas has it.
  const double prandtl_share = std::pow(1 + std::pow(0.322 / air.prandtl, 11.0 / 20), -20.0 / 11);
  const double atlas = 0.766 * std::pow(rayleigh(length) * prandtl_share, 0.2) * air.conductivity / length;
  expect_published({"horizontal back, W/(m2 K)",
                    "VDI Heat Atlas, free convection on horizontal plates (from memory)", atlas, ours,
                    WarmthDoubt{}.convection * ours, "the band of the estimate"});
  // Air that moves at 0.3 m/s along the back: laminar flat plate, Nu = 0.664 Re^(1/2) Pr^(1/3).
  const double moving =
      0.664 * std::sqrt(0.3 * 0.06 / air.viscosity_m2_s) * std::cbrt(air.prandtl) * air.conductivity / 0.06;
  expect_published({"air moving at 0.3 m/s, W/(m2 K)",
                    "Pohlhausen's laminar flat plate, as in every handbook", moving, ours,
                    WarmthDoubt{}.convection * ours, "the band of the estimate"});
}

}  // namespace
}  // namespace boughlight
