// Low-discrepancy sample points: Owen-scrambled Sobol' pairs, padded to as many dimensions as a path needs.
#pragma once

#include <cstdint>

#include "geometry/stream.h"

namespace boughlight {

struct Pair {
  float u = 0, v = 0;  // in [0, 1)
};

// The coordinates of one sample (`index` of a set of 2^k), two at a time. Every pair of dimensions is a
// Sobol' (0,2)-sequence with its own nested uniform scrambling and its own order, so the sets of different pairs and of
// different streams are independent, and each set of 2^k indices is stratified.
// Method: B. Burley, "Practical Hash-based Owen Scrambling", JCGT 9(4), 2020.
class PairSampler {
 public:
  PairSampler(std::uint64_t stream, std::uint32_t index) : stream_(stream), index_(index) {}

  Pair next() {
    const std::uint64_t seed = mix64(stream_, ++pair_);
    const std::uint64_t more = mix64(seed);
    const std::uint32_t index = scramble(index_, static_cast<std::uint32_t>(seed));
    return {to_unit(scramble(reversed(index), static_cast<std::uint32_t>(seed >> 32))),
            to_unit(scramble(second_sobol(index), static_cast<std::uint32_t>(more)))};
  }

 private:
  static constexpr std::uint32_t reversed(std::uint32_t x) {
    x = (x >> 16) | (x << 16);
    x = ((x & 0x00ff00ffu) << 8) | ((x & 0xff00ff00u) >> 8);
    x = ((x & 0x0f0f0f0fu) << 4) | ((x & 0xf0f0f0f0u) >> 4);
    x = ((x & 0x33333333u) << 2) | ((x & 0xccccccccu) >> 2);
    return ((x & 0x55555555u) << 1) | ((x & 0xaaaaaaaau) >> 1);
  }
  // Nested uniform scrambling of the bits from the top down: the Laine-Karras permutation on reversed bits.
  static constexpr std::uint32_t scramble(std::uint32_t x, std::uint32_t seed) {
    x = reversed(x);
    x += seed;
    x ^= x * 0x6c50b47cu;
    x ^= x * 0xb82f1e52u;
    x ^= x * 0xc7afe638u;
    x ^= x * 0x8d22f6e6u;
    return reversed(x);
  }
  // The second dimension of Sobol's sequence (primitive polynomial x + 1).
  static constexpr std::uint32_t second_sobol(std::uint32_t index) {
    std::uint32_t result = 0;
    for (std::uint32_t direction = 0x80000000u; index != 0; index >>= 1, direction ^= direction >> 1)
      if (index & 1) result ^= direction;
    return result;
  }
  static constexpr float to_unit(std::uint32_t x) { return static_cast<float>(x >> 8) * 0x1.0p-24f; }

  std::uint64_t stream_;
  std::uint64_t pair_ = 0;
  std::uint32_t index_;
};

}  // namespace boughlight
