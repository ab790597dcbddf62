// Emitters of every shape and form: connect(), emit() and on_axis() against sums over small elements.
#include "spectrum/emitter.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "spectrum/emitter_subjects.h"
#include "spectrum/sampling.h"
#include "spectrum/statistics.h"

namespace boughlight {
namespace {

struct Sensor {
  Vec3 at, facing;
};

// Places of a sensor in front, beside, off the ends, near by and far off; upright, tilted and turned away.
std::vector<Sensor> sensors() {
  const Vec3 up(0, 0, -1);  // aim is +z, so this faces the lamp's plane
  std::vector<Sensor> all = {{{0, 0, 0.3}, up},
                             {{0.02, 0.01, 0.06}, up},
                             {{0.2, 0.15, 0.1}, up},
                             {{0.28, -0.05, 0.06}, Vec3(0.3, 0.1, -1)},
                             {{0.5, 0.1, 0.2}, Vec3(-1, 0, -0.5)},
                             {{-0.1, 0.4, 0.05}, Vec3(0, -1, 0)},
                             {{0.1, -0.3, 0.7}, Vec3(0.5, 1, -0.2)},
                             {{0.05, 0.1, -0.2}, Vec3(0, 0, 1)},
                             {{1.5, -2, 1}, Vec3(-1, 1.5, 0)},
                             {{-0.45, 0.02, 0.03}, Vec3(1, 0, 0)}};
  for (Sensor& s : all) s.facing.normalize();
  return all;
}

class EmitterOf : public testing::TestWithParam<int> {
 protected:
  Subject subject_ = make_subject(GetParam());
};
INSTANTIATE_TEST_SUITE_P(Shapes, EmitterOf, testing::Range(0, kSubjects),
                         [](const auto& param) { return subject_name(param.param); });

TEST_P(EmitterOf, ConnectionsAverageToTheSumOverElements) {
  for (const Sensor& s : sensors()) {
    if (subject_.emitter->distance(s.at) < 0.02) continue;
    const double expected = sum_over_elements(subject_, s.at, s.facing);
    const double obtained = grid_of_connections(*subject_.emitter, s.at, s.facing, 400);
    // Both sides are midpoint sums over some 1e5 places; a law that jumps (a trough's cutoff, a table's or
    // the sensor's horizon) costs one part in the number of places across the jump.
    EXPECT_NEAR(obtained, expected, 1e-3 * expected + 1e-9) << s.at.transpose();
  }
}

TEST_P(EmitterOf, SamplesAreWithoutBiasOnEveryPatch) {
  constexpr int kDraws = 200000;
  for (const Sensor& s :
       {Sensor{{0.2, 0.15, 0.1}, -Vec3::UnitZ()}, Sensor{{0.03, 0.02, 0.08}, -Vec3::UnitZ()},
        Sensor{{0.4, -0.3, 0.5}, Vec3(-0.4, 0.3, -0.5).normalized()}}) {
    int cells = 0;
    for (const Element& e : subject_.elements) cells = std::max(cells, e.cell + 1);
    // Sums and squares of weight x cosine of the samples that fall on each patch.
    std::vector<double> sum(static_cast<std::size_t>(cells)), square(sum.size());
    std::vector<int> hits(sum.size());
    Uniform uniform(3);
    for (int i = 0; i < kDraws; ++i) {
      const double u1 = uniform(), u2 = uniform();
      const EmitterPoint p = subject_.emitter->connect(s.at, u1, u2);
      if (!(p.weight > 0)) continue;
      const double v = p.weight * std::max(0.0, s.facing.dot((p.point - s.at).normalized()));
      const auto cell = static_cast<std::size_t>(subject_.cell_of(p.point));
      sum[cell] += v;
      square[cell] += v * v;
      ++hits[cell];
    }
    double chi = 0;
    int used = 0;
    for (std::size_t cell = 0; cell < sum.size(); ++cell) {
      const double expected = sum_over_elements(subject_, s.at, s.facing, static_cast<int>(cell));
      const double mean = sum[cell] / kDraws;
      if (hits[cell] < 100) {  // too few for a normal law: no more than a bound
        EXPECT_LT(std::abs(mean - expected), 0.01 * sum_over_elements(subject_, s.at, s.facing)) << cell;
        continue;
      }
      const double variance = (square[cell] / kDraws - mean * mean) / kDraws;
      // The sum over elements has a doubt of its own, 1e-3 of the patch.
      chi += (mean - expected) * (mean - expected) / (variance + 1e-6 * expected * expected);
      ++used;
    }
    if (used == 0) continue;
    EXPECT_LT(chi_square_sigmas(chi, used), kSigmas) << s.at.transpose() << ", " << used << " patches";
  }
}

TEST_P(EmitterOf, EmittedRaysCrossEachPatchOfASphereAsItsIrradianceSays) {
  // Near field: the sphere is only half as wide again as the emitter.
  const double radius = 1.5 * subject_.size;
  constexpr int kPolar = 10, kAround = 12, kFine = 24, kDraws = 200000;
  std::vector<double> expected(kPolar * kAround), seen(expected.size());
  const Subject coarse = make_subject(GetParam(), 20);
  for (int a = 0; a < kPolar * kFine; ++a) {
    for (int b = 0; b < kAround * kFine; ++b) {
      const double z = -1 + 2 * (a + 0.5) / (kPolar * kFine), phi = 2 * kPi * (b + 0.5) / (kAround * kFine);
      const double c = std::sqrt(1 - z * z);
      const Vec3 out(c * std::cos(phi), c * std::sin(phi), z);
      const double area = 4 * kPi * radius * radius / (kPolar * kAround * kFine * kFine);
      expected[static_cast<std::size_t>(a / kFine * kAround + b / kFine)] +=
          area * sum_over_elements(coarse, radius * out, -out);
    }
  }
  double flux = 0;
  for (const double e : expected) flux += e;
  EXPECT_NEAR(flux, 1, 0.01);  // the sums' own grid

  Uniform uniform(17);
  Mean carried;
  for (int i = 0; i < kDraws; ++i) {
    const double u1 = uniform(), u2 = uniform(), u3 = uniform(), u4 = uniform();
    const EmittedRay ray = subject_.emitter->emit(u1, u2, u3, u4);
    ASSERT_NEAR(ray.direction.norm(), 1, 1e-12);
    carried.add(ray.weight);
    const double along = ray.origin.dot(ray.direction);
    const double t = -along + std::sqrt(along * along + radius * radius - ray.origin.squaredNorm());
    const Vec3 hit = (ray.origin + t * ray.direction) / radius;
    const int a = std::clamp(static_cast<int>((hit.z() + 1) / 2 * kPolar), 0, kPolar - 1);
    double phi = std::atan2(hit.y(), hit.x());
    if (phi < 0) phi += 2 * kPi;
    const int b = std::clamp(static_cast<int>(phi / (2 * kPi) * kAround), 0, kAround - 1);
    seen[static_cast<std::size_t>(a * kAround + b)] += ray.weight;
  }
  EXPECT_NEAR(carried.mean(), 1, 1e-6);
  double chi = 0;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const double e = expected[i] / flux * kDraws;
    // The sums are good to 2 % of a patch where the law jumps inside it.
    chi += (seen[i] - e) * (seen[i] - e) / (e + 4e-4 * e * e + 1);
  }
  EXPECT_LT(chi_square_sigmas(chi, kPolar * kAround - 1), kSigmas);
}

TEST_P(EmitterOf, FluxThroughAFarSphereIsOneWatt) {
  constexpr double kRadius = 10;
  Uniform uniform(29);
  Mean flux;
  for (int i = 0; i < 400000; ++i) {
    const double z = 1 - 2 * uniform(), phi = 2 * kPi * uniform(), c = std::sqrt(1 - z * z);
    const Vec3 out(c * std::cos(phi), c * std::sin(phi), z);
    const double u1 = uniform(), u2 = uniform();
    const EmitterPoint p = subject_.emitter->connect(kRadius * out, u1, u2);
    flux.add(4 * kPi * kRadius * kRadius * p.weight *
             std::max(0.0, -out.dot((p.point - kRadius * out).normalized())));
  }
  EXPECT_NEAR(flux.mean(), 1, kSigmas * flux.error() + 1e-9);
}

TEST_P(EmitterOf, OnAxisIsTheSumOverElementsFacingBack) {
  for (const double d : {0.06, 0.3, 2.0}) {
    const double expected = sum_over_elements(subject_, {0, 0, d}, {0, 0, -1});
    // The sum is good to some 1e-4 with these elements; 3e-4 at the horizon of the near sphere.
    EXPECT_NEAR(subject_.emitter->on_axis(d), expected, 5e-4 * expected) << d;
  }
}

TEST_P(EmitterOf, OnAxisIsWhatConnectionsGiveThere) {
  for (const double d : {0.06, 0.3, 2.0}) {
    const double obtained = grid_of_connections(*subject_.emitter, {0, 0, d}, {0, 0, -1}, 600);
    EXPECT_NEAR(obtained, subject_.emitter->on_axis(d), 2e-4 * obtained) << d;
  }
}

TEST_P(EmitterOf, NoWeightIsEverNegativeOrNotFinite) {
  const double last = std::nextafter(1.0, 0.0);
  std::vector<Vec3> places = {{0, 0, 0},         {0.3, 0, 0},      {0.31, 0, 0},        {0.3, 0, 0.013},
                              {0, 0, 0.013},     {0, 0.013, 0},    {0, 0, 0.04},        {0, 0, 1e-12},
                              {0.06, 0, 0},      {0.06, 0, 1e-9},  {0.3, 0.1, 0},       {0, 0, 1e-300},
                              {0, 0, 0.0130001}, {0.5, 1e-12, 0},  {0.5, 0, 1e-5},      {1e3, 1e3, 1e3},
                              {0, 0, -0.1},      {0.01, 0.005, 0}, {0.01, 0.005, 1e-7}, {1e5, 0, 1}};
  Uniform uniform(41);
  for (int i = 0; i < 2000; ++i)
    places.push_back({uniform() - 0.5, 0.3 * (uniform() - 0.5), 0.3 * (uniform() - 0.5)});
  for (const Vec3& from : places) {
    for (const double u1 : {0.0, 0.25, 0.5, uniform(), last}) {
      for (const double u2 : {0.0, 0.5, uniform(), last}) {
        const EmitterPoint p = subject_.emitter->connect(from, u1, u2);
        ASSERT_TRUE(p.point.allFinite()) << from.transpose();
        ASSERT_TRUE(std::isfinite(p.weight) && p.weight >= 0) << from.transpose() << " weighs " << p.weight;
        ASSERT_LT(p.weight > 0 ? subject_.emitter->distance(p.point) : 0, 1e-9) << from.transpose();
      }
    }
  }
  for (const double u : {0.0, 0.5, last}) {
    const EmittedRay ray = subject_.emitter->emit(u, u, u, u);
    EXPECT_TRUE(ray.origin.allFinite() && ray.direction.allFinite() && ray.weight >= 0 &&
                std::isfinite(ray.weight));
  }
}

TEST_P(EmitterOf, ExtentIsThatOfTheEmittedRaysOrigins) {
  Uniform uniform(43);
  for (int i = 0; i < 30; ++i) {
    const Vec3 direction = Vec3(2 * uniform() - 1, 2 * uniform() - 1, 2 * uniform() - 1).normalized();
    double reach = 0;
    for (const Element& e : subject_.elements) reach = std::max(reach, e.at.dot(direction));
    const double extent = subject_.emitter->extent(direction);
    EXPECT_GE(extent, reach - 1e-12);
    // A form's elements lie on the axis or at the centre: the body adds its radius. Else the grid's step.
    EXPECT_LE(extent, reach + (subject_.form ? 0.041 : 0.003));
  }
}

TEST_P(EmitterOf, NoElementIsNearerThanTheNearestPlace) {
  Uniform uniform(47);
  for (int i = 0; i < 50; ++i) {
    const Vec3 from(1.2 * (uniform() - 0.5), 0.6 * (uniform() - 0.5), 0.6 * (uniform() - 0.5));
    const Vec3 nearest = subject_.emitter->nearest(from);
    const double distance = subject_.emitter->distance(from);
    EXPECT_NEAR((from - nearest).norm(), distance, 1e-12);
    EXPECT_LT(subject_.emitter->distance(nearest), 1e-12);
    for (const Element& e : subject_.elements) ASSERT_GE((from - e.at).norm(), distance - 1e-12);
  }
}

}  // namespace
}  // namespace boughlight
