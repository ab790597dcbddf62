// The angular forms: that each is the law it claims to be, and that it is sampled as that law says.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <memory>
#include <stdexcept>
#include <vector>

#include "spectrum/emitter.h"
#include "spectrum/sampling.h"
#include "spectrum/statistics.h"

namespace boughlight {
namespace {

constexpr double kOneDegree = kPi / 180;

Vec3 about_z(double cosine, double phi) {
  const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
  return {sine * std::cos(phi), sine * std::sin(phi), cosine};
}
// Polar axis along x, azimuth from z.
Vec3 about_x(double cosine, double phi) {
  const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
  return {cosine, sine * std::sin(phi), sine * std::cos(phi)};
}

struct NamedForm {
  const char* name;
  std::unique_ptr<AngularForm> form;
  bool x_axis = false;  // cells of the histogram lie about x
};
std::vector<NamedForm> forms() {
  std::vector<NamedForm> all;
  all.push_back({"isotropic", make_isotropic()});
  all.push_back({"cosine-power 10 deg", make_cosine_power(10 * kOneDegree)});
  all.push_back({"cosine-power 60 deg", make_cosine_power(60 * kOneDegree)});
  all.push_back({"cosine-power 85 deg", make_cosine_power(85 * kOneDegree)});
  all.push_back({"trough 30 deg", make_trough(30 * kOneDegree), true});
  all.push_back({"trough 120 deg", make_trough(120 * kOneDegree), true});
  all.push_back({"trough 180 deg", make_trough(kPi), true});
  all.push_back({"table", make_intensity_table({0, 0.3, 0.9, 1.7, 2.2}, {0.1, 1, 0.2, 0.5, 0})});
  all.push_back({"table held down", make_intensity_table({0.4, 0.5}, {2, 0})});
  all.push_back({"table to 180 deg", make_intensity_table({0, kPi}, {0, 1})});
  all.push_back({"table with a dark middle", make_intensity_table({0, 0.4, 0.6, 0.8}, {0, 0, 1, 0})});
  return all;
}

// Integral of the intensity over a cell of the sphere, by midpoints.
double over_cell(const NamedForm& f, double c0, double c1, double p0, double p1, int n) {
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double c = c0 + (c1 - c0) * (i + 0.5) / n, p = p0 + (p1 - p0) * (j + 0.5) / n;
      sum += f.form->intensity(f.x_axis ? about_x(c, p) : about_z(c, p));
    }
  }
  return sum * (c1 - c0) * (p1 - p0) / n / n;
}

TEST(AngularFormSlow, IntensityIntegratesToOneOverTheSphere) {
  for (const NamedForm& f : forms()) {
    double sum = 0;
    for (int i = 0; i < 24; ++i) sum += over_cell(f, -1 + i / 12.0, -1 + (i + 1) / 12.0, -kPi, kPi, 360);
    // Midpoints across the kinks of tables and the narrowest beam are within 2e-5.
    EXPECT_NEAR(sum, 1, 2e-5) << f.name;
  }
}

TEST(AngularFormSlow, SamplesFollowTheIntensity) {
  constexpr int kPolar = 24, kAround = 24, kDraws = 300000;
  for (const NamedForm& f : forms()) {
    Uniform uniform(11);
    std::vector<int> count(kPolar * kAround);
    for (int i = 0; i < kDraws; ++i) {
      const double u1 = uniform(), u2 = uniform();
      const Vec3 d = f.form->sample(u1, u2).direction;
      const double cosine = f.x_axis ? d.x() : d.z();
      const double phi = f.x_axis ? std::atan2(d.y(), d.z()) : std::atan2(d.y(), d.x());
      const int a = std::min(kPolar - 1, static_cast<int>((cosine + 1) / 2 * kPolar));
      const int b = std::min(kAround - 1, static_cast<int>((phi + kPi) / (2 * kPi) * kAround));
      ++count[static_cast<std::size_t>(a * kAround + b)];
    }
    double chi = 0, pooled_expected = 0, pooled_count = 0;
    int cells = 0;
    for (int a = 0; a < kPolar; ++a) {
      for (int b = 0; b < kAround; ++b) {
        const double share = over_cell(f, -1 + 2.0 * a / kPolar, -1 + 2.0 * (a + 1) / kPolar,
                                       -kPi + 2 * kPi * b / kAround, -kPi + 2 * kPi * (b + 1) / kAround, 48);
        const double expected = share * kDraws;
        const int seen = count[static_cast<std::size_t>(a * kAround + b)];
        if (expected < 10) {  // too few for a chi-square term of its own
          pooled_expected += expected;
          pooled_count += seen;
          continue;
        }
        chi += (seen - expected) * (seen - expected) / expected;
        ++cells;
      }
    }
    EXPECT_LT(chi_square_sigmas(chi, cells - 1), kSigmas) << f.name << ", " << cells << " cells";
    EXPECT_NEAR(pooled_count, pooled_expected, 5 + kSigmas * std::sqrt(pooled_expected + 1)) << f.name;
  }
}

TEST(AngularForm, EverySampleCarriesTheSamePower) {
  for (const NamedForm& f : forms()) {
    Uniform uniform(5);
    for (int i = 0; i < 20000; ++i) {
      const double u1 = uniform(), u2 = uniform();
      const auto sample = f.form->sample(u1, u2);
      EXPECT_NEAR(sample.direction.norm(), 1, 1e-12) << f.name;
      // 1e-6: the intensity of a table changes steeply where it comes down to zero.
      ASSERT_NEAR(f.form->intensity(sample.direction) * sample.inverse_pdf, 1, 1e-6) << f.name << " " << u1;
      ASSERT_NEAR(f.form->pdf(sample.direction) * sample.inverse_pdf, 1, 1e-6) << f.name;
    }
  }
}

TEST(AngularForm, SamplesAtTheEdgesOfTheUnitSquareAreFinite) {
  const double last = std::nextafter(1.0, 0.0);
  for (const NamedForm& f : forms()) {
    for (const double u1 : {0.0, 1e-300, 1e-17, 0.5, last}) {
      for (const double u2 : {0.0, 0.5, last}) {
        const auto sample = f.form->sample(u1, u2);
        EXPECT_TRUE(sample.direction.allFinite()) << f.name << " " << u1;
        EXPECT_NEAR(sample.direction.norm(), 1, 1e-12) << f.name << " " << u1;
        const double carried = f.form->intensity(sample.direction) * sample.inverse_pdf;
        EXPECT_TRUE(std::isfinite(carried) && carried >= 0 && carried < 2) << f.name << " " << u1;
      }
    }
  }
}

TEST(CosinePower, HalvesAtTheHalfAngleAndIsDarkFrom90Degrees) {
  for (const double half : {0.01, 0.2, 0.8, 1.5}) {
    const auto form = make_cosine_power(half);
    EXPECT_NEAR(form->intensity(about_z(std::cos(half), 0.3)) / form->intensity(Vec3::UnitZ()), 0.5, 1e-10);
    EXPECT_EQ(form->intensity(Vec3::UnitX()), 0);
    EXPECT_EQ(form->intensity(-Vec3::UnitZ()), 0);
  }
}

TEST(CosinePower, At60DegreesItIsLambertsLaw) {
  EXPECT_NEAR(make_cosine_power(kPi / 3)->intensity(about_z(0.37, 1)), 0.37 / kPi, 1e-14);
}

TEST(CosinePower, HalfAnglesOf90DegreesAndMoreAreRefused) {
  EXPECT_THROW(make_cosine_power(0), std::invalid_argument);
  EXPECT_THROW(make_cosine_power(kPi / 2), std::invalid_argument);
  EXPECT_THROW(make_cosine_power(-1), std::invalid_argument);
}

TEST(Trough, IsEvenAcrossUpToTheCutoffAndDarkBehindIt) {
  const auto form = make_trough(70 * kOneDegree);
  const double front = form->intensity(Vec3::UnitZ());
  EXPECT_NEAR(front, 1 / (kPi * 70 * kOneDegree), 1e-15);
  for (const double across : {-69.9, -20.0, 45.0, 69.9})
    EXPECT_NEAR(form->intensity(about_x(0, across * kOneDegree)), front, 1e-14);
  for (const double across : {70.1, 120.0, 180.0, -70.1})
    EXPECT_EQ(form->intensity(about_x(0, across * kOneDegree)), 0);
  EXPECT_NEAR(form->intensity(about_x(0.8, 0.3)), 0.6 * front, 1e-14);
  EXPECT_EQ(form->intensity(Vec3::UnitX()), 0);
}

TEST(Trough, At180DegreesItIsTheThinBareTube) {
  const auto form = make_trough(kPi);
  for (const double across : {0.0, 1.0, 3.0, kPi, -3.14159})
    EXPECT_NEAR(form->intensity(about_x(0.6, across)), 0.8 / (kPi * kPi), 1e-14);
}

TEST(Trough, BadCutoffsAreRefused) {
  EXPECT_THROW(make_trough(0), std::invalid_argument);
  EXPECT_THROW(make_trough(3.2), std::invalid_argument);
}

TEST(IntensityTable, IsLinearInTheAngleHeldToTheAxisAndZeroPastTheEnd) {
  const auto form = make_intensity_table({0.5, 1.0}, {2, 1});
  const double axis = form->intensity(Vec3::UnitZ());
  const auto at = [&](double theta) { return form->intensity(about_z(std::cos(theta), 2)); };
  EXPECT_NEAR(at(0.3), axis, 1e-12);
  EXPECT_NEAR(at(0.75), 0.75 * axis, 1e-12);
  EXPECT_NEAR(at(0.9999), 0.50010 * axis, 1e-12);
  EXPECT_EQ(at(1.0001), 0);
}

TEST(IntensityTable, AUniformTableIsIsotropic) {
  EXPECT_NEAR(make_intensity_table({0, kPi}, {7, 7})->intensity(about_z(-0.2, 1)), 1 / (4 * kPi), 1e-15);
}

TEST(IntensityTable, ANarrowBeamKeepsItsDigits) {
  // A cone of 0.001 rad with even intensity: 1 / solid angle.
  const auto form = make_intensity_table({0.001}, {5});
  const double solid_angle = 4 * kPi * std::pow(std::sin(0.0005), 2);
  EXPECT_NEAR(form->intensity(Vec3::UnitZ()) * solid_angle, 1, 1e-12);
}

TEST(IntensityTable, WhatIsNoTableIsRefused) {
  EXPECT_THROW(make_intensity_table({}, {}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({0, 1}, {1}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({0, 0}, {1, 1}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({0, 4}, {1, 1}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({-0.1, 1}, {1, 1}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({0, 1}, {0, 0}), std::invalid_argument);
  EXPECT_THROW(make_intensity_table({0, 1}, {-1, 2}), std::invalid_argument);
}

}  // namespace
}  // namespace boughlight
