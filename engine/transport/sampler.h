// Low-discrepancy sample points: Owen-scrambled Sobol' pairs, padded to as many dimensions as a path needs.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <span>

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
    const Seeds seeds(mix64(mixed_stream_ ^ ++pair_));
    const std::uint32_t index = reversed(permute(reversed_index_, seeds.order));
    const std::uint32_t u = permute(index, seeds.u), v = permute(second_sobol(index), seeds.v);
    const std::uint64_t both = reversed(std::uint64_t{v} << 32 | u);
    return {to_unit(static_cast<std::uint32_t>(both)), to_unit(static_cast<std::uint32_t>(both >> 32))};
  }

  // Other pairs, independent of these: for what takes nobody knows beforehand how many, so that whatever
  // comes after it goes on with the same ones.
  PairSampler apart() const {
    PairSampler other(*this);
    other.mixed_stream_ = mix64(~mix64(mixed_stream_ ^ pair_));
    other.pair_ = 0;
    return other;
  }

  // pairs[i] = the next pair of samples[i].*sampler. Of samples of one set that have come equally far, as
  // those of a batch have, in a fraction of the time that one by one takes.
  template <class Sample>
  static void next_of(std::span<Sample> samples, PairSampler Sample::*sampler, Pair* pairs) {
    constexpr std::size_t kTogether = 32;
    for (std::size_t first = 0; first < samples.size(); first += kTogether)
      next_of_few<Sample, kTogether>(samples.subspan(first, std::min(kTogether, samples.size() - first)),
                                     sampler, pairs + first);
  }

 private:
  // What scrambles the order and the two coordinates of a pair of dimensions.
  struct Seeds {
    explicit Seeds(std::uint64_t seed)
        : order(static_cast<std::uint32_t>(seed)),
          u(static_cast<std::uint32_t>(seed >> 32)),
          v(static_cast<std::uint32_t>(mix64(seed))) {}
    std::uint32_t order, u, v;
  };

  template <class Sample, std::size_t kMost>
  static void next_of_few(std::span<Sample> samples, PairSampler Sample::*sampler, Pair* pairs) {
    PairSampler& lead = samples.front().*sampler;
    const std::uint64_t stream = lead.mixed_stream_, pair = lead.pair_;
    if (!std::all_of(samples.begin(), samples.end(), [&](const Sample& sample) {
          return (sample.*sampler).mixed_stream_ == stream && (sample.*sampler).pair_ == pair;
        })) {
      for (std::size_t i = 0; i < samples.size(); ++i) pairs[i] = (samples[i].*sampler).next();
      return;
    }
    // Loops over whole arrays of plain numbers, which compilers turn into operations on whole registers.
    const Seeds seeds(mix64(stream ^ (pair + 1)));
    std::array<std::uint32_t, kMost> index{};
    for (std::size_t i = 0; i < samples.size(); ++i) {
      index[i] = (samples[i].*sampler).reversed_index_;
      (samples[i].*sampler).pair_ = pair + 1;
    }
    constexpr std::size_t kLanes = 8;
    std::array<float, kMost> u, v;
    for (std::size_t first = 0; first < samples.size(); first += kLanes)
      for (std::size_t i = first; i < first + kLanes; ++i) {
        const std::uint32_t place = reversed(permute(index[i], seeds.order));
        u[i] = to_unit(reversed(permute(place, seeds.u)));
        v[i] = to_unit(reversed(permute(second_sobol(place), seeds.v)));
      }
    for (std::size_t i = 0; i < samples.size(); ++i) pairs[i] = {u[i], v[i]};
  }

  // From end to end: 32 bits, or each half of 64.
  template <class Bits>
  static constexpr Bits reversed(Bits x) {
    const auto swapped = [&x](int by, std::uint64_t low_bits) {
      const Bits low = static_cast<Bits>(low_bits);
      x = (x & low) << by | (x >> by & low);
    };
    swapped(16, 0x0000ffff0000ffffu);
    swapped(8, 0x00ff00ff00ff00ffu);
    swapped(4, 0x0f0f0f0f0f0f0f0fu);
    swapped(2, 0x3333333333333333u);
    swapped(1, 0x5555555555555555u);
    return x;
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
  static constexpr float to_unit(std::uint32_t x) {
    return static_cast<float>(static_cast<std::int32_t>(x >> 8)) * 0x1.0p-24f;
  }

  std::uint64_t mixed_stream_;
  std::uint64_t pair_ = 0;
  std::uint32_t reversed_index_;
};

}  // namespace boughlight
