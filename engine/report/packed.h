// Numbers packed for a page: as little text as they can be, and quick to unpack.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json_fwd.hpp>

namespace boughlight {

// RFC 4648, padded.
std::string base64(std::string_view bytes);

// 32-bit floats, little-endian.
std::string packed_floats(std::span<const float> values);

// Values (>= 0) as 16-bit floats (IEEE 754 binary16, little-endian) of value / scale: 11 significant bits, so
// within 0.05 % down to a hundred-millionth of the greatest, and 0 below. {"scale": ..., "half": base64}.
// Throws std::runtime_error, naming `what`, where a value is NaN, infinite or negative.
nlohmann::ordered_json packed_halves(std::span<const float> values, std::string_view what);

// Places as 16-bit integers along the ray from `low` to `high` (little-endian): within a 131070th of that
// way.
std::string packed_shares(std::span<const float> values, float low, float high);

}  // namespace boughlight
