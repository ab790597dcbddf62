#include "geometry/stream.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "spectrum/statistics.h"

namespace boughlight {
namespace {

constexpr int kAcross = 16, kCount = 1 << 17;

// Pairs of numbers in [0, 1) over 16 x 16 squares.
template <class Next>
double sigmas_of_pairs(Next next) {
  std::array<double, kAcross * kAcross> counted{};
  for (int i = 0; i < kCount; ++i) {
    const auto [a, b] = next(static_cast<std::uint64_t>(i));
    EXPECT_TRUE(a >= 0 && a < 1 && b >= 0 && b < 1);
    ++counted[static_cast<std::size_t>(static_cast<int>(a * kAcross) * kAcross +
                                       static_cast<int>(b * kAcross))];
  }
  const double expected = static_cast<double>(kCount) / (kAcross * kAcross);
  double chi_square = 0;
  for (const double count : counted) chi_square += (count - expected) * (count - expected) / expected;
  return chi_square_sigmas(chi_square, kAcross * kAcross - 1);
}

TEST(Stream, NumbersAndThoseThatFollowThemAreEvenAndIndependent) {
  Stream one(1, 2), single(1, 3);
  EXPECT_LT(sigmas_of_pairs([&](std::uint64_t) {
              const double a = one.next();
              return std::pair(a, one.next());
            }),
            kSigmas);
  EXPECT_LT(sigmas_of_pairs([&](std::uint64_t) {
              const double a = single.next_float();
              return std::pair(a, static_cast<double>(single.next_float()));
            }),
            kSigmas);
}

TEST(Stream, NeighbouringStreamsAndSeedsAreIndependent) {
  EXPECT_LT(sigmas_of_pairs(
                [](std::uint64_t i) { return std::pair(Stream(9, i).next(), Stream(9, i + 1).next()); }),
            kSigmas);
  EXPECT_LT(sigmas_of_pairs(
                [](std::uint64_t i) { return std::pair(Stream(i, 9).next(), Stream(i + 1, 9).next()); }),
            kSigmas);
}

}  // namespace
}  // namespace boughlight
