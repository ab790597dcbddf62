// Low-discrepancy sample points: Owen-scrambled Sobol' pairs, padded to as many dimensions as a path needs.
#pragma once

#include <cstdint>

#include "geometry/stream.h"

namespace boughlight {

struct Pair {
  float u = 0, v = 0;  // in [0, 1)
};

// The coordinates of one sample (`index` of a set of 2^k), two at a time. Every pair of dimensions is a
// Sobol' (0,2)-sequence with its own nested uniform scrambling and its own order, so the sets of different
// pairs and of different streams are independent, and each set of 2^k indices is stratified. Method: B.
// Burley, "Practical Hash-based Owen Scrambling", JCGT 9(4), 2020.
class PairSampler {
 public:
  explicit PairSampler(std::uint64_t stream = 0, std::uint32_t index = 0)
      : mixed_stream_(mix64(stream)), reversed_index_(reversed(index)) {}

  Pair next() {
    const std::uint64_t seed = mix64(mixed_stream_ ^ ++pair_);
    const std::uint64_t more = mix64(seed);
    const std::uint32_t index = reversed(permute(reversed_index_, static_cast<std::uint32_t>(seed)));
    const std::uint32_t u = permute(index, static_cast<std::uint32_t>(seed >> 32));
    const std::uint32_t v = permute(second_sobol(index), static_cast<std::uint32_t>(more));
    const std::uint64_t both = reversed(std::uint64_t{v} << 32 | u);
    return {to_unit(static_cast<std::uint32_t>(both)), to_unit(static_cast<std::uint32_t>(both >> 32))};
  }

 private:
  // Each half of 32 bits from end to end.
  static constexpr std::uint64_t reversed(std::uint64_t x) {
    const auto swapped = [&x](int by, std::uint64_t low) { x = (x & low) << by | (x >> by & low); };
    swapped(16, 0x0000ffff0000ffffu);
    swapped(8, 0x00ff00ff00ff00ffu);
    swapped(4, 0x0f0f0f0f0f0f0f0fu);
    swapped(2, 0x3333333333333333u);
    swapped(1, 0x5555555555555555u);
    return x;
  }
  static constexpr std::uint32_t reversed(std::uint32_t x) {
    return static_cast<std::uint32_t>(reversed(std::uint64_t{x}));
  }
  // Laine-Karras permutation: nested uniform scrambling of a number whose bits stand in reverse.
  static constexpr std::uint32_t permute(std::uint32_t x, std::uint32_t seed) {
    x += seed;
    x ^= x * 0x6c50b47cu;
    x ^= x * 0xb82f1e52u;
    x ^= x * 0xc7afe638u;
    return x ^ (x * 0x8d22f6e6u);
  }
  // The second dimension of Sobol's sequence (primitive polynomial x + 1), bits in reverse: bit j is the sum
  // of those index bits k for which the binomial coefficient of k over j is odd, that is, whose binary digits
  // cover j's.
  static constexpr std::uint32_t second_sobol(std::uint32_t index) {
    index ^= (index >> 1) & 0x55555555u;
    index ^= (index >> 2) & 0x33333333u;
    index ^= (index >> 4) & 0x0f0f0f0fu;
    index ^= (index >> 8) & 0x00ff00ffu;
    return index ^ (index >> 16);
  }
  static constexpr float to_unit(std::uint32_t x) { return static_cast<float>(x >> 8) * 0x1.0p-24f; }

  std::uint64_t mixed_stream_;
  std::uint64_t pair_ = 0;
  std::uint32_t reversed_index_;
};

}  // namespace boughlight
