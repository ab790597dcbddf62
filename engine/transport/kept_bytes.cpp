#include "transport/kept_bytes.h"

#include <array>
#include <bit>
#include <cstddef>

namespace boughlight {
namespace {

enum class Shape : unsigned char { even, full };

template <class Bins>
void pack(Packed& bytes, const Bins& spectrum) {
  // Compared as bits, so that even a sign of zero comes back.
  const auto bits = [&](Eigen::Index bin) {
    return std::bit_cast<std::array<std::byte, sizeof *spectrum.data()>>(spectrum[bin]);
  };
  bool even = true;
  for (Eigen::Index bin = 1; bin < spectrum.size() && even; ++bin) even = bits(bin) == bits(0);
  carry(bytes, even ? Shape::even : Shape::full);
  bytes.raw(spectrum.data(), sizeof *spectrum.data() * static_cast<std::size_t>(even ? 1 : spectrum.size()));
}

template <class Bins>
void unpack(Unpacked& bytes, Bins& spectrum) {
  Shape shape = Shape::even;
  carry(bytes, shape);
  if (shape == Shape::full) {
    bytes.raw(spectrum.data(), sizeof *spectrum.data() * static_cast<std::size_t>(spectrum.size()));
    return;
  }
  typename Bins::Scalar value = 0;
  bytes.raw(&value, sizeof value);
  spectrum.setConstant(value);
}

}  // namespace

void carry(Packed& bytes, const Spectral& spectrum) {
  pack(bytes, spectrum);
}
void carry(Unpacked& bytes, Spectral& spectrum) {
  unpack(bytes, spectrum);
}
void carry(Packed& bytes, const SpectralD& spectrum) {
  pack(bytes, spectrum);
}
void carry(Unpacked& bytes, SpectralD& spectrum) {
  unpack(bytes, spectrum);
}

}  // namespace boughlight
