#include "report/packed.h"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace boughlight {
namespace {

template <class Unsigned>
void put_little_endian(std::string& bytes, Unsigned bits) {
  for (std::size_t i = 0; i < sizeof(Unsigned); ++i)
    bytes.push_back(static_cast<char>(bits >> (8 * i) & 0xFF));
}

}  // namespace

std::string base64(std::string_view bytes) {
  constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t bits = 0;
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
    for (std::size_t k = 0; k < 3; ++k)
      bits = bits << 8 | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k)
      text.push_back(k <= count ? kLetters[bits >> (18 - 6 * k) & 63] : '=');
  }
  return text;
}

std::string packed_floats(std::span<const float> values) {
  std::string bytes;
  bytes.reserve(4 * values.size());
  for (const float value : values) put_little_endian(bytes, std::bit_cast<std::uint32_t>(value));
  return base64(bytes);
}

nlohmann::ordered_json packed_halves(std::span<const float> values, std::string_view what) {
  // The greatest value goes near the top of the 16-bit floats' range, so that the least keep their digits.
  constexpr float kTop = 32768;
  float greatest = 0;
  for (const float value : values) {
    if (!(value >= 0) || !std::isfinite(value))
      throw std::runtime_error(
          fmt::format("'{}' came out as {}, which is no result: nothing was written", what, value));
    greatest = std::max(greatest, value);
  }
  const float scale = greatest > 0 ? greatest / kTop : 1;
  std::string bytes;
  bytes.reserve(2 * values.size());
  for (const float value : values)
    put_little_endian(bytes, Eigen::numext::bit_cast<std::uint16_t>(Eigen::half(value / scale)));
  return {{"scale", scale}, {"half", base64(bytes)}};
}

std::string packed_shares(std::span<const float> values, float low, float high) {
  constexpr float kSteps = 65535;
  std::string bytes;
  bytes.reserve(2 * values.size());
  for (const float value : values) {
    const float share = high > low ? std::clamp((value - low) / (high - low), 0.0f, 1.0f) : 0.0f;
    put_little_endian(bytes, static_cast<std::uint16_t>(std::lround(kSteps * share)));
  }
  return base64(bytes);
}

}  // namespace boughlight
