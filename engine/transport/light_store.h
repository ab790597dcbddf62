// Where traced light may be kept for another time. What is kept is a pure function of its key, so a store may
// forget whatever it likes, whenever it likes: results have the same bits with it and without.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "transport/light_key.h"

namespace boughlight {

// Of one enclosure and its lamps. Any thread may call, at any time.
class LightStore {
 public:
  virtual ~LightStore() = default;

  // Copies what is kept under the key to where `room` says for its size; false where nothing is, or where
  // `room` gives nullptr. After false the bytes there mean nothing.
  virtual bool read(const LightKey& key, const std::function<void*(std::size_t size)>& room) = 0;
  // May come back before it is done: `owner` keeps the bytes alive.
  virtual void write(const LightKey& key, const void* bytes, std::size_t size,
                     std::shared_ptr<const void> owner) = 0;
};

class LightCache {
 public:
  virtual ~LightCache() = default;
  // Null where nothing can be kept.
  virtual std::shared_ptr<LightStore> open(const LightKey& field) = 0;
};

}  // namespace boughlight
