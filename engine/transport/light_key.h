// Names of traced light: the same things asked of the same surfaces and lamps have the same key.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <string>

#include "units/canonical.h"

namespace boughlight {

struct LightKey {
  std::uint64_t high = 0, low = 0;

  auto operator<=>(const LightKey&) const = default;
  std::string hex() const;  // 32 digits
};

// A hash of 128 bits (XXH3).
LightKey key_of(const void* bytes, std::size_t size);
inline LightKey key_of(const CanonicalBytes& bytes) {
  return key_of(bytes.bytes().data(), bytes.bytes().size());
}

}  // namespace boughlight
