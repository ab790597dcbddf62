#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/panel.h"
#include "scene_kit.h"

namespace boughlight {
namespace {

constexpr int kBin = 36;  // any: the panes here are grey
// Single precision with a small difference of large numbers in Fresnel's amplitudes.
constexpr double kFresnelRounding = 3e-6;

struct Shares {
  double transmittance, reflectance;
};
Shares shares_of(const PaneOptics& pane, double cosine) {
  Spectral transmittance, reflectance;
  pane.evaluate(static_cast<float>(cosine), transmittance, reflectance);
  return {transmittance[kBin], reflectance[kBin]};
}

// The most that a slab of this index can pass at normal incidence: 2 n / (n^2 + 1), all inner reflections
// counted.
double clearest(double index) {
  return 2 * index / (index * index + 1);
}

TEST(Pane, ClearSlabLosesNothingAtAnyAngle) {
  for (const double index : {1.3, 1.49, 1.52, 2.5}) {
    const PaneOptics pane(kit::pane(clearest(index), index));
    for (const double cosine : {1.0, 0.9, 0.6, 0.3, 0.1, 0.02, 1e-3}) {
      const Shares shares = shares_of(pane, cosine);
      // The internal transmittance is known to single precision, and a slanted ray's many inner ways raise
      // its error by up to 1 / (1 - R), some hundredfold at the last angle.
      EXPECT_NEAR(shares.transmittance + shares.reflectance, 1, cosine < 0.01 ? 1e-3 : 2e-5)
          << "index " << index << ", cosine " << cosine;
    }
  }
}

TEST(Pane, AbsorbingSlabNeverGivesMoreThanItGets) {
  for (const double total : {0.0, 1e-6, 0.1, 0.5, 0.85})
    for (double cosine = 1; cosine > 1e-4; cosine *= 0.8) {
      const Shares shares = shares_of(PaneOptics(kit::pane(total)), cosine);
      EXPECT_GE(shares.transmittance, 0);
      EXPECT_GE(shares.reflectance, 0);
      EXPECT_LE(shares.transmittance + shares.reflectance, 1 + kFresnelRounding)
          << "total " << total << ", cosine " << cosine;
    }
}

TEST(Pane, DeclaredTotalComesBackAtNormalIncidence) {
  for (const double index : {1.0, 1.49, 1.5, 1.9})
    for (const double total : {1e-4, 0.05, 0.3, 0.7, 0.82})
      EXPECT_NEAR(shares_of(PaneOptics(kit::pane(total, index)), 1).transmittance, total, kFresnelRounding)
          << "index " << index;
}

TEST(Pane, InternalTransmittanceInvertsTheSlabFormula) {
  // T = (1 - R)^2 t / (1 - R^2 t^2), R = ((n - 1) / (n + 1))^2.
  for (const double index : {1.0, 1.0001, 1.5, 4.0})
    for (const double inner : {0.0, 1e-9, 0.2, 0.9, 1.0}) {
      const double r = std::pow((index - 1) / (index + 1), 2);
      const double total = (1 - r) * (1 - r) * inner / (1 - r * r * inner * inner);
      EXPECT_NEAR(PaneOptics::internal_transmittance(total, index), inner, 1e-12) << "index " << index;
    }
  EXPECT_EQ(PaneOptics::internal_transmittance(0.99, 1.5), 1)
      << "more than the faces let through is clear glass";
}

TEST(Pane, ReflectsFourPercentAFaceAtNormalIncidence) {
  // R = ((1.5 - 1) / (1.5 + 1))^2 = 0.04 a face; a slab that swallows what enters shows the first face alone.
  EXPECT_NEAR(shares_of(PaneOptics(kit::pane(0, 1.5)), 1).reflectance, 0.04, kFresnelRounding);
  EXPECT_NEAR(shares_of(PaneOptics(kit::pane(clearest(1.5), 1.5)), 1).reflectance, 2 * 0.04 / 1.04,
              kFresnelRounding);
}

TEST(Pane, OnlyOnePolarisationIsReflectedAtBrewstersAngle) {
  // tan(theta) = n: nothing of p is reflected, and of s ((n^2 - 1) / (n^2 + 1))^2 a face.
  for (const double index : {1.33, 1.52, 2.0}) {
    const double cosine = 1 / std::sqrt(1 + index * index);
    const double s = std::pow((index * index - 1) / (index * index + 1), 2);
    EXPECT_NEAR(shares_of(PaneOptics(kit::pane(0, index)), cosine).reflectance, s / 2, kFresnelRounding);
    EXPECT_NEAR(shares_of(PaneOptics(kit::pane(clearest(index), index)), cosine).reflectance, s / (1 + s),
                1e-5);
  }
}

TEST(Pane, IsAMirrorAtGrazing) {
  const PaneOptics pane(kit::pane(0.9, 1.5));
  EXPECT_GT(shares_of(pane, 1e-6).reflectance, 0.9999);
  EXPECT_LT(shares_of(pane, 1e-6).transmittance, 1e-4);
}

TEST(Pane, SlantedLightTakesTheLongerWay) {
  // Between 0 and 60 deg the internal way grows from 1 to 1 / sqrt(1 - (sin 60 deg / n)^2).
  constexpr double kIndex = 1.5, kTotal = 0.01;
  const double inner = PaneOptics::internal_transmittance(kTotal, kIndex);
  const double way = 1 / std::sqrt(1 - 0.75 / (kIndex * kIndex)), cosine = 0.5, cosine_inside = 1 / way;
  const double s = std::pow((cosine - kIndex * cosine_inside) / (cosine + kIndex * cosine_inside), 2);
  const double p = std::pow((kIndex * cosine - cosine_inside) / (kIndex * cosine + cosine_inside), 2);
  // Inner reflections are beyond R^2 t^2 < 1e-5 here.
  const double expected = std::pow(inner, way) * ((1 - s) * (1 - s) + (1 - p) * (1 - p)) / 2;
  EXPECT_NEAR(shares_of(PaneOptics(kit::pane(kTotal, kIndex)), 0.5).transmittance, expected, 2e-5 * expected);
}

}  // namespace
}  // namespace boughlight
