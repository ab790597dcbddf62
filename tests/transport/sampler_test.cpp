#include "transport/sampler.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <set>
#include <span>
#include <vector>

#include "transport/density.h"
#include "transport/lamp_cones.h"

namespace boughlight {
namespace {

TEST(PairSampler, EveryPairOfDimensionsIsStratifiedInAllElementaryIntervals) {
  // A (0, 2)-sequence: of 2^k samples, each box of 2^-a by 2^-b with a + b = k holds exactly one (Sobol'
  // 1967; Niederreiter 1992), and Owen's scrambling keeps that.
  constexpr int kPower = 8, kCount = 1 << kPower;
  for (int pair = 0; pair < 3; ++pair)
    for (int a = 0; a <= kPower; ++a) {
      std::set<int> boxes;
      for (std::uint32_t i = 0; i < kCount; ++i) {
        PairSampler sampler(77, i);
        Pair sample;
        for (int skip = 0; skip <= pair; ++skip) sample = sampler.next();
        const int x = static_cast<int>(sample.u * static_cast<float>(1 << a));
        const int y = static_cast<int>(sample.v * static_cast<float>(1 << (kPower - a)));
        boxes.insert(x * (1 << (kPower - a)) + y);
      }
      EXPECT_EQ(boxes.size(), static_cast<std::size_t>(kCount)) << "pair " << pair << ", 2^-" << a << " wide";
    }
}

TEST(PairSampler, ABatchDrawsWhatEachOfItsSamplesWould) {
  struct Sample {
    int place;
    PairSampler sampler;
  };
  // Of one set and as far as each other, or not.
  for (const bool alike : {true, false})
    for (const std::uint32_t count : {1U, 7U, 32U, 45U}) {
      std::vector<Sample> samples;
      for (std::uint32_t i = 0; i < count; ++i) {
        samples.push_back({0, PairSampler(alike ? 9 : 9 + i % 2, 1000 + 3 * i)});
        if (!alike && i % 3 == 0) samples.back().sampler.next();
      }
      std::vector<Sample> each = samples;
      for (int round = 0; round < 3; ++round) {
        std::vector<Pair> pairs(count);
        PairSampler::next_of(std::span<Sample>(samples), &Sample::sampler, pairs.data());
        for (std::uint32_t i = 0; i < count; ++i) {
          const Pair pair = each[i].sampler.next();
          EXPECT_EQ(pairs[i].u, pair.u) << i << " of " << count << ", round " << round;
          EXPECT_EQ(pairs[i].v, pair.v) << i << " of " << count << ", round " << round;
        }
      }
    }
}

TEST(PairSampler, StreamsAndPairsAreUncorrelated) {
  // Correlation of n independent uniforms: standard deviation 1 / sqrt(n). Nine tests, bound 4.
  constexpr int kCount = 1 << 12;
  std::array<double, 9> sums{};
  for (std::uint32_t i = 0; i < kCount; ++i) {
    PairSampler one(1, i), two(2, i);
    const Pair a = one.next(), b = one.next(), c = two.next();
    const std::array<double, 3> x = {a.u - 0.5, a.v - 0.5, b.u - 0.5}, y = {b.v - 0.5, c.u - 0.5, c.v - 0.5};
    for (std::size_t j = 0; j < 9; ++j) sums[j] += 12 * x[j / 3] * y[j % 3] / kCount;
  }
  for (const double sum : sums) EXPECT_LT(std::abs(sum), 4 / std::sqrt(static_cast<double>(kCount)));
}

// None; one lamp in front and one behind; wide ones that hold the place.
std::vector<LampCones> some_cones() {
  std::vector<LampCones> all(3);
  all[1].add({0.5f, 0.4f, -0.6f}, 0.2f);
  all[1].add({-0.2f, -1.1f, 1.5f}, 0.25f);
  all[2].add({0.4f, 0.3f, 0.1f}, 0.4f);
  return all;
}

TEST(Directions, SphereIsSampledByItsDensity) {
  expect_density([](Pair p) { return sample_sphere(p); }, [](const Vec3f&) { return 1 / (4 * kPi); });
}

TEST(Directions, CosineLawIsSampledByItsDensityAboutAnyAxis) {
  for (const Vec3f& axis : {Vec3f(0, 0, 1), Vec3f(0, 0, -1), Vec3f(0.6f, -0.48f, 0.64f), Vec3f(-1, 0, 0)})
    expect_density([&](Pair p) { return sample_cosine(axis, p); },
                   [&](const Vec3f& d) { return std::max(0.0f, axis.dot(d)) * kInversePi; });
}

TEST(Directions, SensorMixtureIsSampledByItsDensity) {
  const Vec3f normal = Vec3f(0.3f, 0.5f, -0.8f).normalized();
  for (const LampCones& cones : some_cones()) {
    const SensorDirections directions(cones, {0.3f, 0.1f, 0.2f}, normal);
    expect_density([&](Pair p) { return directions.sample(p); },
                   [&](const Vec3f& d) { return directions.pdf(d); });
  }
}

TEST(Directions, BouncesTowardsLampsAreSampledByTheirDensity) {
  // What falls behind the surface goes nowhere; in front the density is the cosine law's over the weight.
  const Vec3f normal = Vec3f(0.3f, 0.5f, -0.8f).normalized(), place(0.3f, 0.1f, 0.2f);
  for (const LampCones& cones : some_cones()) {
    const BounceDirections directions(cones, place, normal, 0.2f);
    const bool any = cones.in_front_of(place, normal);
    expect_density([&](Pair p) { return directions.sample(p); },
                   [&](const Vec3f& d) {
                     const float weight = directions.weight(d);
                     if (weight > 0 && normal.dot(d) > 0) return normal.dot(d) * kInversePi / weight;
                     return any ? 0.2f * cones.pdf(place, d) : 0.0f;
                   });
  }
}

TEST(LampCones, AreSampledByTheirDensity) {
  for (const LampCones& cones : some_cones()) {
    if (!cones.in_front_of({0, 0, 0}, Vec3f::UnitZ()) && !cones.in_front_of({0, 0, 0}, -Vec3f::UnitZ()))
      continue;
    for (const Vec3f& from : {Vec3f(0, 0, 0), Vec3f(0.3f, 0.1f, 0.2f), Vec3f(-0.2f, 0.9f, 1.2f)})
      expect_density([&](Pair p) { return cones.sample(from, p); },
                     [&](const Vec3f& d) { return cones.pdf(from, d); });
  }
}

TEST(LampCones, ANarrowConeHoldsItsOwnSamples) {
  // 2 cm seen from 30 m: what is sampled has the density of the cone, all but a hair's breadth at its rim.
  LampCones cones;
  cones.add({3, -20, 22}, 0.001f);
  int lost = 0;
  for (std::uint32_t i = 0; i < 10000; ++i) {
    PairSampler sampler(7, i);
    lost += !(cones.pdf({0, 0, 0}, cones.sample({0, 0, 0}, sampler.next())) > 0);
  }
  EXPECT_LE(lost, 10);
}

TEST(Directions, OrientationsAreACubesFacesEdgesAndCorners) {
  std::array<int, 4> kinds{};
  for (const Vec3f& o : orientations()) {
    EXPECT_NEAR(o.norm(), 1, 1e-6);
    int zeros = 0;
    for (int axis = 0; axis < 3; ++axis) zeros += o[axis] == 0;
    ++kinds[static_cast<std::size_t>(zeros)];
  }
  EXPECT_EQ(kinds, (std::array<int, 4>{8, 12, 6, 0}));
}

}  // namespace
}  // namespace boughlight
