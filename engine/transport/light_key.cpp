#include "transport/light_key.h"

#include <fmt/format.h>

#define XXH_INLINE_ALL
#include <xxhash.h>

namespace boughlight {

std::string LightKey::hex() const {
  return fmt::format("{:016x}{:016x}", high, low);
}

LightKey key_of(const void* bytes, std::size_t size) {
  const XXH128_hash_t hash = XXH3_128bits(bytes, size);
  return {hash.high64, hash.low64};
}

}  // namespace boughlight
