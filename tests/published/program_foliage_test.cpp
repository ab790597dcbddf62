// The whole program on light through real leaves against Beer and Lambert's law for leaves of every slant:
// Monsi & Saeki 1953; Campbell & Norman 1998 (pages from memory). Where leaves happen to hang is a doubt of
// its own: the spread of the gap fraction over an area A is exp(-LAI / 2) sqrt(LAI a / (3 A)) for leaves of
// area a, whose shadows are a |cos|, mean square a^2 / 3.
#include <gsl/gsl_sf_expint.h>

#include <cmath>

#include "published/program_scene.h"
#include "published/quadrature.h"

namespace boughlight {
namespace {

const char* const kBeer = "Monsi & Saeki 1953, G = 0.5; computed from the formula";
const char* const kLeaves =
    "materials:\n  black: {surface: matte, reflectance: 0}\n"
    "  black-leaf: {surface: leaf, reflectance: 0, transmittance: 0}\n";
constexpr double kSpreads = 4;
// Even over a cone of 4 deg, so that 50 m away there is 100 W/m2 of all but parallel light.
const char* const kBeam = "form: table, intensity: [[0 deg, 1], [4 deg, 1]]";

std::string plant(const std::string& name, const std::string& at, const std::string& radii, double leaf_area,
                  double side) {
  return "  - name: " + name + "\n    crown: {at: " + at + ", radii: " + radii +
         ", leaf_area: " + std::to_string(leaf_area) +
         " m2, seed: 7}\n    leaf: {length: " + std::to_string(side) + ", width: " + std::to_string(side) +
         ", material: black-leaf}\n";
}

// A probe: a flat crown with a single tiny leaf, whose reading is the mean over it.
std::string probe(const std::string& at, const std::string& radii) {
  return plant("probe", at, radii, 1e-6, 1e-3);
}

// A crown 5 cm thick that fills a black box of 3 x 3 m with 1 cm leaves, and a probe under it. The crown is a
// flat ellipsoid of 8 m: over the probe (mean square distance 0.9^2 x 2 / 5) it is thicker than over the
// whole box (3^2 / 6).
constexpr double kSide = 0.01;
ProgramScene slab_of_leaves(double leaves) {
  ProgramScene scene;
  scene.tolerance = "0.5 %";
  scene.size = "[3, 3, 0.43]";
  scene.faces = "floor: black, top: open, left: black, right: black, front: black, back: black";
  scene.sections = std::string(kLeaves) + "plants:\n" +
                   plant("slab", "[1.5, 1.5, 0.4]", "[8, 8, 0.025]", 9 * leaves, kSide) +
                   probe("[1.5, 1.5, 0.36]", "[0.9, 0.9, 0.005]");
  return scene;
}
const double kThicker = (1 - 0.324 / 128) / (1 - 1.5 / 128);
// Places of the probe are spread by its height, sqrt(1 - r^2), so its area counts 8/9.
double spread_under_slab(double lai) {
  return std::sqrt(lai * kSide * kSide / (3 * M_PI * 0.81 * 8 / 9));
}

TEST(ProgramFoliageSlow, BeerLambertThroughASlabOfBlackLeaves) {
  formula("Beer-Lambert law through random leaves, direct light");
  for (const double leaves : {0.5, 1.0, 2.0}) {
    const double lai = leaves * kThicker;
    ProgramScene scene = slab_of_leaves(leaves);
    scene.tolerance = "0.3 %";
    for (const double degrees : {0, 30, 60}) {
      const double t = degrees * M_PI / 180;
      scene.add_lamp("t" + std::to_string(static_cast<int>(degrees)), "shape: point", kBeam,
                     "irradiance: 2500 W/m2, at: 10 m",
                     {1.5 + 50 * std::sin(t), 1.5, 0.36 + 50 * std::cos(t)},
                     "along: [0, 1, 0], aim: " + yaml_list({-std::sin(t), 0, -std::cos(t)}));
    }
    const ProgramReadings readings(scene);
    // All light shares its places in the probe, so the error of the whole bounds that of each lamp.
    const Printed whole = readings.value("probe");
    for (const double degrees : {0, 30, 60}) {
      const double cosine = std::cos(degrees * M_PI / 180);
      const std::string lamp = "t" + std::to_string(static_cast<int>(degrees));
      expect_reading(
          "light " + lamp + " through leaves, LAI " + std::to_string(leaves).substr(0, 3) + ", W/m2", kBeer,
          100 * cosine * std::exp(-0.5 * lai / cosine), {readings.by_lamp("probe", lamp), whole.se}, 0.06,
          kSpreads * spread_under_slab(lai) / std::sqrt(cosine) + 1e-3,
          "4 spreads of where leaves hang, and 1e-3 for the lamp's distance");
    }
  }
}

TEST(ProgramFoliageSlow, EvenLightThroughASlabOfBlackLeaves) {
  formula("Beer-Lambert law through random leaves, even light: 2 E3(LAI / 2)");
  for (const double leaves : {1.0, 2.0}) {
    const double lai = leaves * kThicker;
    ProgramScene scene = slab_of_leaves(leaves);
    scene.sections += "room: {lux: 10000, spectrum: D65}\n";
    const ProgramReadings readings(scene);
    expect_reading("even light through leaves, LAI " + std::to_string(leaves).substr(0, 3) + ", lx",
                   "2 E3(LAI / 2), the Lambertian mean of the formula; GSL",
                   20000 * gsl_sf_expint_En(3, lai / 2), readings.value("probe", "lux"), 0.01,
                   kSpreads * spread_under_slab(lai) + 2e-3,
                   "4 spreads of where leaves hang, and 2e-3 that the walls hide");
  }
}

TEST(ProgramFoliage, TheShadowOfABallOfLeaves) {
  formula("Gap fraction through a ball of leaves");
  // A crown of radius R and density u: exp(-u s / 2) along a chord s = 2 sqrt(R^2 - r^2), averaged over its
  // shadow.
  const double radius = 0.2, density = 5, side = 0.004, across = 0.19;
  ProgramScene scene;
  scene.tolerance = "0.3 %";
  scene.sections = std::string(kLeaves) + "plants:\n" +
                   plant("ball", "[0.5, 0.5, 0.6]", "[0.2, 0.2, 0.2]",
                         density * 4 / 3 * M_PI * std::pow(radius, 3), side) +
                   probe("[0.5, 0.5, 0.2]", "[0.19, 0.19, 0.005]");
  scene.add_lamp("sun", "shape: point", kBeam, "irradiance: 2500 W/m2, at: 10 m", {0.5, 0.5, 50.2});
  const ProgramReadings readings(scene);
  const auto weight = [&](double r) { return r * std::sqrt(std::max(0.0, 1 - r * r / (across * across))); };
  const double gaps = quadrature(
      [&](double r) { return weight(r) * std::exp(-density * std::sqrt(radius * radius - r * r)); }, 0,
      across);
  const double whole = quadrature(weight, 0, across), mean_lai = density * 4 / 3 * radius;
  const double spread = std::sqrt(mean_lai * side * side / (3 * M_PI * across * across * 8 / 9));
  expect_reading("shadow of a ball of leaves, W/m2", kBeer, 100 * gaps / whole, readings.value("probe"), 0.01,
                 kSpreads * spread + 2e-3,
                 "4 spreads of where leaves hang, and 2e-3 for leaves that stick out");
}

TEST(ProgramFoliage, LeavesThatLoseNothingSendOnWhatTheyStop) {
  formula("Energy balance of leaves that lose nothing");
  // Energy balance: leaves of R + T = 1 between a black floor and an open top. What the floor gets and what
  // comes back up add up to what falls in: the room's light, as means over the floor and over the opening.
  ProgramScene scene;
  scene.tolerance = "1 %";
  scene.size = "[1, 1, 0.3]";
  scene.faces = "floor: black, top: open, left: white, right: white, front: white, back: white";
  scene.sections =
      "materials:\n  black: {surface: matte, reflectance: 0}\n  white: {surface: matte, reflectance: 1}\n"
      "  lossless: {surface: leaf, reflectance: 0.55, transmittance: 0.45}\n"
      "plants:\n"
      "  - name: slab\n    crown: {at: [0.5, 0.5, 0.15], radii: [3, 3, 0.1], leaf_area: 2 m2, seed: 3}\n"
      "    leaf: {length: 0.03, width: 0.03, material: lossless}\n"
      "  - name: below\n    crown: {at: [0.5, 0.5, 0.02], radii: [3, 3, 0.01], leaf_area: 0.000001 m2, seed: "
      "3}\n"
      "    leaf: {length: 0.001, width: 0.001, material: lossless}\n"
      "room: {lux: 10000, spectrum: D65}\n";
  // Gauss-Legendre over the opening.
  const double nodes[] = {0.1127016654, 0.5, 0.8872983346}, weights[] = {5 / 18.0, 8 / 18.0, 5 / 18.0};
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      scene.add_point("up" + std::to_string(3 * i + j), {nodes[i], nodes[j], 0.2999}, {0, 0, -1});
  const ProgramReadings readings(scene);
  Printed total = readings.value("below", "lux");
  EXPECT_LT(total.value, 9000) << "the leaves turn some back";
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      const Printed here = readings.value("up" + std::to_string(3 * i + j), "lux");
      total.value += weights[i] * weights[j] * here.value;
      total.se = std::hypot(total.se, weights[i] * weights[j] * here.se);
    }
  expect_reading("light through and back from leaves that lose nothing, lx", "energy balance, exact", 10000,
                 total, 0.01, 0.01, "1 %: nine places stand for the opening");
}

}  // namespace
}  // namespace boughlight
