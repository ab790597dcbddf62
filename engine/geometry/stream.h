// Reproducible random streams: a number is fixed by (seed, stream, position), whatever the thread or
// platform.
#pragma once

#include <cstdint>

namespace boughlight {

// A bijective 64-bit mixer with full avalanche (the finaliser of SplitMix64; Steele, Lea and Flood 2014).
constexpr std::uint64_t mix64(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15u;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
  return x ^ (x >> 31);
}

constexpr std::uint64_t mix64(std::uint64_t a, std::uint64_t b) {
  return mix64(mix64(a) ^ b);
}

// Independent uniform numbers in [0, 1).
class Stream {
 public:
  Stream(std::uint64_t seed, std::uint64_t stream) : state_(mix64(seed, stream)) {}
  double next() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }
  float next_float() { return static_cast<float>(bits() >> 40) * 0x1.0p-24f; }

 private:
  std::uint64_t bits() { return mix64(state_ ^ (0xd1342543de82ef95u * ++position_)); }
  std::uint64_t state_;
  std::uint64_t position_ = 0;
};

}  // namespace boughlight
