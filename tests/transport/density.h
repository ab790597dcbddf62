// Whether sampled directions have the density that is claimed for them: chi-square over cells of the sphere.
#pragma once

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <optional>

#include "spectrum/statistics.h"
#include "transport/directions.h"

namespace boughlight {

// 16 x 8 cells of equal solid angle.
class SphereCells {
 public:
  static constexpr int kPhis = 16, kZs = 8, kCells = kPhis * kZs;

  static std::size_t of(const Vec3f& direction) {
    const int z = std::min(kZs - 1, static_cast<int>((direction.z() + 1) / 2 * kZs));
    const double turn = std::atan2(direction.y(), direction.x()) / (2 * kPi) + 0.5;
    return static_cast<std::size_t>(z * kPhis + std::min(kPhis - 1, static_cast<int>(turn * kPhis)));
  }

  // The integral over each cell of a function of the direction, by midpoints.
  template <class Density>
  static std::array<double, kCells> integrals(Density density) {
    constexpr int kSub = 96;
    std::array<double, kCells> sums{};
    for (int z = 0; z < kZs * kSub; ++z)
      for (int phi = 0; phi < kPhis * kSub; ++phi) {
        const double height = 2 * (z + 0.5) / (kZs * kSub) - 1,
                     turn = 2 * kPi * ((phi + 0.5) / (kPhis * kSub) - 0.5);
        const double radius = std::sqrt(1 - height * height);
        const Vec3f d(static_cast<float>(radius * std::cos(turn)),
                      static_cast<float>(radius * std::sin(turn)), static_cast<float>(height));
        sums[static_cast<std::size_t>(z / kSub * kPhis + phi / kSub)] +=
            static_cast<double>(density(d)) * 4 * kPi / (kZs * kSub * kPhis * kSub);
      }
    return sums;
  }
};

// Counts of `sample(pair)` against `pdf` (1/sr), which integrates to 1.
template <class Sample, class Pdf>
void expect_density(Sample sample, Pdf pdf) {
  constexpr int kCount = 1 << 16;
  std::array<double, SphereCells::kCells> counted{};
  Stream random(3, 4);
  for (int i = 0; i < kCount; ++i) {
    const Pair pair{random.next_float(), random.next_float()};
    const Vec3f d = sample(pair);
    EXPECT_NEAR(d.norm(), 1, 1e-5);
    ++counted[SphereCells::of(d)];
  }
  double chi_square = 0, total = 0;
  int cells = 0;
  const auto shares = SphereCells::integrals(pdf);
  for (std::size_t i = 0; i < counted.size(); ++i) {
    const double expected = kCount * shares[i];
    total += expected;
    if (expected < 5) {
      EXPECT_LT(counted[i], 30);
      continue;
    }
    chi_square += (counted[i] - expected) * (counted[i] - expected) / expected;
    ++cells;
  }
  EXPECT_NEAR(total, kCount, 1e-3 * kCount) << "the density integrates to 1";
  EXPECT_LT(chi_square_sigmas(chi_square, std::max(1, cells - 1)), kSigmas);
}

// What a sample carries away, and whither; nothing where it ends.
struct Carried {
  Vec3f direction;
  double weight;
};

// Weighted directions: their weights' sum over each cell against `carried` (per sr and sample). With weights
// that are all alike this is Pearson's test of their counts.
template <class Sample, class Density>
void expect_carried(Sample sample, Density carried) {
  constexpr int kCount = 1 << 17;
  std::array<double, SphereCells::kCells> sums{}, squares{};
  for (int i = 0; i < kCount; ++i) {
    const std::optional<Carried> one = sample(static_cast<std::uint64_t>(i));
    if (!one) continue;
    sums[SphereCells::of(one->direction)] += one->weight;
    squares[SphereCells::of(one->direction)] += one->weight * one->weight;
  }
  double chi_square = 0, rest = 0, rest_squares = 0, rest_expected = 0;
  int cells = 0;
  const auto shares = SphereCells::integrals(carried);
  for (std::size_t i = 0; i < sums.size(); ++i) {
    const double expected = kCount * shares[i];
    if (expected == 0) {
      EXPECT_EQ(sums[i], 0) << "cell " << i;
      continue;
    }
    // The variance of a sum of independent rare events is the sum of their squares, here scaled to what is
    // expected.
    const double variance = sums[i] > 0 ? squares[i] / sums[i] * expected : 0;
    if (expected * expected < 10 * variance || variance == 0) {  // too few for a term of its own
      rest += sums[i], rest_squares += squares[i], rest_expected += expected;
      continue;
    }
    chi_square += (sums[i] - expected) * (sums[i] - expected) / variance;
    ++cells;
  }
  EXPECT_NEAR(rest, rest_expected, kSigmas * std::sqrt(rest_squares) + 1e-4 * kCount);
  ASSERT_GT(cells, 30);
  EXPECT_LT(chi_square_sigmas(chi_square, cells), kSigmas) << chi_square << " over " << cells << " cells";
}

}  // namespace boughlight
