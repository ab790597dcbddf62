// Light of one field that was traced before.
#pragma once

#include <atomic>
#include <memory>

#include "transport/kept_bytes.h"
#include "transport/light_store.h"

namespace boughlight {

// Rays that a value took to trace, where it tells.
template <class Value>
std::uint64_t rays_told_by(const Value& value) {
  if constexpr (requires { value.rays.shadow; }) {
    return value.rays.shadow + value.rays.closest;
  } else if constexpr (requires { value.shadow; }) {
    return value.shadow + value.closest;
  } else {
    return 0;
  }
}

class FieldMemory {
 public:
  FieldMemory() = default;  // remembers nothing
  FieldMemory(std::shared_ptr<LightStore> store, const LightKey& field)
      : store_(std::move(store)), field_(field), recalled_(std::make_shared<std::atomic<std::uint64_t>>(0)) {}

  explicit operator bool() const { return store_ != nullptr; }
  LightStore* store() const { return store_.get(); }
  // The same store for another field.
  FieldMemory of(const LightKey& field) const {
    FieldMemory other = *this;
    other.field_ = field;
    return other;
  }
  // Rays that did not have to be traced again, of this field and of those with the same store.
  std::uint64_t recalled_rays() const { return recalled_ ? recalled_->load() : 0; }

  // `asked`: everything besides the field that the light follows from, the kind of answer first.
  LightKey key(const CanonicalBytes& asked) const;

  // Value is carried to bytes and back by a function carry(bytes, value); see kept_bytes.h.
  template <class Value>
  bool read(const LightKey& key, Value& value) const {
    if (!store_) return false;
    std::string bytes;
    const auto room = [&](std::size_t size) {
      bytes.resize(size);
      return bytes.data();
    };
    if (!store_->read(key, room)) return false;
    Unpacked from(bytes);
    carry(from, value);
    if (!from.whole()) return false;
    *recalled_ += rays_told_by(value);
    return true;
  }
  template <class Value>
  void write(const LightKey& key, const Value& value) const {
    if (!store_) return;
    Packed into;
    carry(into, value);
    const auto bytes = std::make_shared<const std::string>(std::move(into.bytes()));
    store_->write(key, bytes->data(), bytes->size(), bytes);
  }
  // What is kept, else what trace() returns, which is kept then.
  template <class Trace>
  auto recall(const CanonicalBytes& asked, Trace&& trace) const {
    if (!store_) return trace();
    const LightKey name = key(asked);
    decltype(trace()) value{};
    if (read(name, value)) return value;
    value = trace();
    write(name, value);
    return value;
  }

 private:
  std::shared_ptr<LightStore> store_;
  LightKey field_;
  std::shared_ptr<std::atomic<std::uint64_t>> recalled_;
};

}  // namespace boughlight
