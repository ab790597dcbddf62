#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/panel.h"
#include "scene_kit.h"
#include "spectrum/statistics.h"

namespace boughlight {
namespace {

// Single precision, a handful of operations.
constexpr float kShareRounding = 1e-6f;

// One bracket of the design's formula, in double precision: 1 - (d / p) sqrt(1 + tan^2), floored at 0.
double bracket(double wire, double pitch, double tangent) {
  return std::max(0.0, 1 - wire / pitch * std::sqrt(1 + tangent * tangent));
}

TEST(Mesh, NothingIsLostOrMadeAtAnyAngle) {
  Uniform uniform(11);
  for (int i = 0; i < 2000; ++i) {
    const double wire = 1e-4 + 2e-3 * uniform(), u = wire * (1.01 + 8 * uniform()),
                 v = wire * (1.01 + 8 * uniform());
    const MeshOptics mesh(kit::mesh(wire, u, v, 0.5));
    // From straight on to nearly along the mesh.
    const auto tan_u = static_cast<float>(std::tan(0.5 * std::numbers::pi * 0.999 * uniform()));
    const auto tan_v = static_cast<float>(std::tan(0.5 * std::numbers::pi * 0.999 * uniform()));
    const MeshShares shares = mesh.shares(tan_u, tan_v);
    EXPECT_NEAR(shares.straight + shares.back + shares.forward, 1, kShareRounding);
    EXPECT_GE(shares.straight, 0);
    EXPECT_GE(shares.back, 0.5f * (1 - shares.straight) - kShareRounding) << "at least half goes back";
    EXPECT_GE(shares.forward, -kShareRounding);
  }
}

TEST(Mesh, StraightShareFollowsTheFormulaInBothDirections) {
  constexpr double kWire = 0.28e-3, kU = 1.41e-3, kV = 0.9e-3;
  const MeshOptics mesh(kit::mesh(kWire, kU, kV, 0));
  for (const double u_deg : {0.0, 20.0, 45.0, 60.0, 75.0, 85.0})
    for (const double v_deg : {0.0, 30.0, 55.0, 70.0, 80.0}) {
      const double tan_u = std::tan(u_deg * std::numbers::pi / 180),
                   tan_v = std::tan(v_deg * std::numbers::pi / 180);
      const MeshShares shares = mesh.shares(static_cast<float>(tan_u), static_cast<float>(tan_v));
      EXPECT_NEAR(shares.straight, bracket(kWire, kU, tan_u) * bracket(kWire, kV, tan_v), 2 * kShareRounding)
          << u_deg << " deg, " << v_deg << " deg";
    }
}

TEST(Mesh, WiresCloseUpBeforeGrazing) {
  // A bracket is 0 from cos psi = d / p on: 78.46 deg for d / p = 0.2.
  const MeshOptics mesh(kit::mesh(0.2e-3, 1e-3, 1e-3, 1));
  EXPECT_GT(mesh.shares(std::tan(78.4f * 0.017453293f), 0).straight, 0);
  EXPECT_EQ(mesh.shares(std::tan(78.5f * 0.017453293f), 0).straight, 0);
  EXPECT_EQ(mesh.shares(0, 1e9f).straight, 0);
}

TEST(Mesh, BackShareIsThatOfADiffuseRoundWire) {
  // A diffuse cylinder lit from azimuth 0 receives by cos(theta) at azimuth theta; what a diffuse element at
  // angle a to the mesh's normal sends to the normal's side is (1 + cos a) / 2. Integrated here over the lit
  // half.
  constexpr double kWire = 0.3e-3, kPitch = 1.5e-3;
  const MeshOptics mesh(kit::mesh(kWire, kPitch, 1e6 * kPitch, 0.7));
  for (const double psi : {0.0, 0.4, 0.9, 1.2}) {
    double back = 0, all = 0;
    constexpr int kSteps = 20000;
    for (int i = 0; i < kSteps; ++i) {
      const double theta = std::numbers::pi * ((i + 0.5) / kSteps - 0.5);
      back += std::cos(theta) * (1 + std::cos(theta - psi)) / 2;
      all += std::cos(theta);
    }
    const MeshShares shares = mesh.shares(static_cast<float>(std::tan(psi)), 0);
    EXPECT_NEAR(shares.back / (shares.back + shares.forward), back / all, 1e-5) << "psi " << psi;
  }
}

TEST(Mesh, MeasuredTransmittanceHoldsAtAllAnglesAndScattersNothing) {
  Material material = kit::mesh(0, 0, 0, 0.9);
  material.flat = 0.62;
  const MeshOptics mesh(material);
  for (const float tangent : {0.0f, 1.0f, 1e3f}) {
    const MeshShares shares = mesh.shares(tangent, tangent);
    EXPECT_FLOAT_EQ(shares.straight, 0.62f);
    EXPECT_EQ(shares.back, 0);
    EXPECT_EQ(shares.forward, 0);
  }
  EXPECT_EQ(mesh.reflectance().maxCoeff(), 0);
}

}  // namespace
}  // namespace boughlight
