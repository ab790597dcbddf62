// The mesh formulas against woven wires traced as geometry, crimp and all.
#include "geometry/woven_wires.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/panel.h"
#include "scene_kit.h"

namespace boughlight {
namespace {

using Eigen::Vector3d;

constexpr double kDegree = std::numbers::pi / 180;
constexpr int kRays = 20000;
// 20,000 places spread evenly count a share of the light to about 1e-3.
constexpr double kCounted = 2e-3;

struct Mesh {
  const char* name;
  double wire, pitch_x, pitch_y;  // mm
};
// Thin and wide, the commonest insect screen (18 x 16 to the inch, 0.011 in), and a dense one.
constexpr Mesh kMeshes[] = {{"welded, 1 mm each 12.7 mm", 1.0, 12.7, 12.7},
                            {"0.23 mm each 1.41 mm", 0.23, 1.41, 1.41},
                            {"18 x 16 to the inch, 0.28 mm", 0.28, 25.4 / 18, 25.4 / 16},
                            {"0.4 mm each 1.4 mm", 0.4, 1.4, 1.4}};

struct Way {
  double slant, turn;  // deg, from the normal; about it from x, along which the first pitch is counted
  Vector3d direction() const {
    const double s = slant * kDegree, t = turn * kDegree;
    return {std::sin(s) * std::cos(t), std::sin(s) * std::sin(t), -std::cos(s)};
  }
};
std::ostream& operator<<(std::ostream& out, const Way& way) {
  return out << way.slant << " deg from the normal, turned by " << way.turn << " deg";
}

MeshOptics optics(const Mesh& mesh, double reflectance) {
  return MeshOptics(kit::mesh(mesh.wire * 1e-3, mesh.pitch_x * 1e-3, mesh.pitch_y * 1e-3, reflectance));
}

MeshShares shares(const MeshOptics& mesh, const Way& way) {
  const Vector3d w = way.direction();
  return mesh.shares(static_cast<float>(std::abs(w.x() / w.z())),
                     static_cast<float>(std::abs(w.y() / w.z())));
}

TEST(WovenWires, LetThroughTheOpenAreaStraightOn) {
  for (const Mesh& mesh : kMeshes) {
    const WovenWires woven(mesh.wire, mesh.pitch_x, mesh.pitch_y);
    EXPECT_NEAR(woven.straight(Way{0, 0}.direction(), kRays),
                (1 - mesh.wire / mesh.pitch_x) * (1 - mesh.wire / mesh.pitch_y), kCounted)
        << mesh.name;
  }
}

TEST(WovenWires, StraightLightIsWithinTwoPercentOfTheFormulaWhereItHolds) {
  for (const Mesh& mesh : kMeshes) {
    const WovenWires woven(mesh.wire, mesh.pitch_x, mesh.pitch_y);
    const MeshOptics formula = optics(mesh, 0);
    const bool dense = mesh.wire / mesh.pitch_x > 0.2;
    for (const double turn : {0.0, 20.0, 45.0, 70.0, 90.0})
      for (const double slant : {20.0, 40.0, 50.0, 60.0, 70.0}) {
        // Slanted across both families the weave's thickness closes it up sooner than flat families would.
        const bool across_both = turn != 0 && turn != 90;
        if (slant > (dense ? 40 : across_both ? 50 : 70)) continue;
        const Way way{slant, turn};
        EXPECT_NEAR(static_cast<double>(shares(formula, way).straight),
                    woven.straight(way.direction(), kRays), 0.02)
            << mesh.name << ", " << way;
      }
  }
}

TEST(WovenWires, TheFormulaIsTooBrightByWhatTheReadmeSaysFarAslant) {
  // What is so, for the README: the difference in straight light at the worst of slants and turns, 70 deg
  // halfway between the wires' directions. Less than 0.01 of each comes from counting and rounding.
  const double too_bright[] = {0.006, 0.051, 0.075, 0.105};
  for (std::size_t i = 0; i < std::size(kMeshes); ++i) {
    const Mesh& mesh = kMeshes[i];
    const Way way{70, 45};
    const double traced = WovenWires(mesh.wire, mesh.pitch_x, mesh.pitch_y).straight(way.direction(), kRays);
    EXPECT_NEAR(static_cast<double>(shares(optics(mesh, 0), way).straight) - traced, too_bright[i], 0.004)
        << mesh.name;
  }
}

TEST(WovenWiresSlow, ScatteredLightIsWithinTenPercentUpToSixtyDegrees) {
  for (const Mesh& mesh : kMeshes) {
    const WovenWires woven(mesh.wire, mesh.pitch_x, mesh.pitch_y);
    for (const double reflectance : {0.1, 0.5, 0.9}) {
      const MeshOptics model = optics(mesh, reflectance);
      for (const Way& way :
           {Way{0, 0}, Way{30, 45}, Way{45, 0}, Way{45, 90}, Way{60, 0}, Way{60, 45}, Way{60, 90}}) {
        const WovenWires::Scattered traced = woven.scattered(way.direction(), reflectance, kRays);
        const MeshShares model_shares = shares(model, way);
        const auto sent = static_cast<double>(model.reflectance()[36]);
        const double back = sent * static_cast<double>(model_shares.back);
        const double forward = sent * static_cast<double>(model_shares.forward);
        const double all = traced.back + traced.forward;
        EXPECT_NEAR(back + forward, all, 0.1 * all)
            << mesh.name << ", " << way << ", reflectance " << reflectance;
        EXPECT_NEAR(back, traced.back, 0.1 * all)
            << mesh.name << ", " << way << ", reflectance " << reflectance;
        EXPECT_NEAR(forward, traced.forward, 0.1 * all)
            << mesh.name << ", " << way << ", reflectance " << reflectance;
      }
    }
  }
}

TEST(WovenWires, WhatGoesBackIsNearlySpreadByTheCosineLaw) {
  // Zones that the cosine law fills alike, from straight back to along the mesh: the outermost gets up to 1.7
  // times its share. The little that goes forward leaves mostly along the mesh.
  for (const Mesh& mesh : kMeshes) {
    const WovenWires woven(mesh.wire, mesh.pitch_x, mesh.pitch_y);
    const auto traced = woven.scattered(Way{45, 45}.direction(), 0.5, kRays);
    for (int zone = 0; zone + 1 < WovenWires::Scattered::kZones; ++zone)
      EXPECT_NEAR(
          traced.back_zones[static_cast<std::size_t>(zone)] * WovenWires::Scattered::kZones / traced.back, 1,
          0.25)
          << mesh.name << ", zone " << zone;
    EXPECT_LT(traced.back_zones.back() * WovenWires::Scattered::kZones / traced.back, 1.7) << mesh.name;
    EXPECT_LT(traced.forward, 0.3 * traced.back) << mesh.name;
  }
}

TEST(WovenWires, WhiteOnesLoseNothing) {
  const WovenWires woven(0.28, 25.4 / 18, 25.4 / 16);
  for (const Way& way : {Way{0, 0}, Way{60, 30}}) {
    const auto traced = woven.scattered(way.direction(), 1, kRays);
    EXPECT_NEAR(woven.straight(way.direction(), kRays) + traced.back + traced.forward, 1, 1e-12) << way;
    const MeshOptics model = optics(kMeshes[2], 1);
    const MeshShares of_model = shares(model, way);
    EXPECT_NEAR(of_model.straight + model.reflectance()[36] * (of_model.back + of_model.forward), 1, 1e-6)
        << way;
  }
}

TEST(WovenWiresSlow, AnotherWireKeepsTheShareThatTheModelTakes) {
  // Of what dark wires send out once, x / (1 + x) is lost on others, x the mean of wire / pitch; weighted by
  // the cosine of the slant, as even light falls in.
  struct Case {
    double wire, pitch_x, pitch_y;
  };
  for (const Case& c : {Case{0.08, 1, 1}, Case{0.15, 1, 1}, Case{0.2, 1, 2}, Case{0.3, 1, 1}}) {
    const WovenWires woven(c.wire, c.pitch_x, c.pitch_y);
    double lost = 0, weight = 0;
    for (const double slant : {0.0, 30.0, 50.0, 65.0})
      for (const double turn : {10.0, 45.0, 80.0}) {
        const Vector3d way = Way{slant, turn}.direction();
        constexpr double kDark = 1e-3;
        const auto traced = woven.scattered(way, kDark, kRays);
        lost += -way.z() * (1 - (traced.back + traced.forward) / kDark / (1 - woven.straight(way, kRays)));
        weight += -way.z();
      }
    const double crowding = 0.5 * (c.wire / c.pitch_x + c.wire / c.pitch_y);
    EXPECT_NEAR(lost / weight, crowding / (1 + crowding), 0.01)
        << c.wire << " each " << c.pitch_x << ", " << c.pitch_y;
  }
}

}  // namespace
}  // namespace boughlight
