#include "transport/field_memory.h"

namespace boughlight {

LightKey FieldMemory::key(const CanonicalBytes& asked) const {
  CanonicalBytes whole;
  whole.add(field_.high, field_.low, asked.bytes());
  return key_of(whole);
}

}  // namespace boughlight
