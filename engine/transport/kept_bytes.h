// Traced light as bytes, and back with every bit as it was. One function carry(bytes, value) does both for a
// type: with Packed it appends the value, with Unpacked it fills it in.
#pragma once

#include <cstddef>
#include <cstring>
#include <map>
#include <string>
#include <type_traits>
#include <vector>

#include "spectrum/bins.h"
#include "transport/response.h"

namespace boughlight {

class Packed {
 public:
  void raw(const void* from, std::size_t size) { bytes_.append(static_cast<const char*>(from), size); }
  std::string& bytes() { return bytes_; }

 private:
  std::string bytes_;
};

class Unpacked {
 public:
  explicit Unpacked(const std::string& bytes) : at_(bytes.data()), left_(bytes.size()) {}

  void raw(void* into, std::size_t size) {
    if (size > left_) {
      failed_ = true;
      std::memset(into, 0, size);
      return;
    }
    std::memcpy(into, at_, size);
    at_ += size, left_ -= size;
  }
  // Whether as many items may follow, each of at least a byte.
  bool may_hold(std::size_t items) {
    if (items > left_) failed_ = true;
    return !failed_;
  }
  // Everything was there, and nothing is left over.
  bool whole() const { return !failed_ && left_ == 0; }

 private:
  const char* at_;
  std::size_t left_;
  bool failed_ = false;
};

// For one carry() of a type that serves both ways: the value is const where it is packed.
template <class Value, class Type>
concept SameAs = std::is_same_v<std::remove_const_t<Value>, Type>;

// Plain numbers and structs of them without gaps; what lies apart in memory has some.
template <class Value>
concept KeptAsItIs = std::is_trivially_copyable_v<Value> && !std::is_pointer_v<Value> &&
                     alignof(Value) <= alignof(std::max_align_t);

template <KeptAsItIs Value>
void carry(Packed& bytes, const Value& value) {
  bytes.raw(&value, sizeof value);
}
template <KeptAsItIs Value>
void carry(Unpacked& bytes, Value& value) {
  bytes.raw(&value, sizeof value);
}

inline void carry(Packed& bytes, const RayCount& rays) {
  carry(bytes, rays.shadow);
  carry(bytes, rays.closest);
}
inline void carry(Unpacked& bytes, RayCount& rays) {
  carry(bytes, rays.shadow);
  carry(bytes, rays.closest);
}

// Light that came through no pane is the same in every bin, and most of it is.
void carry(Packed& bytes, const Spectral& spectrum);
void carry(Unpacked& bytes, Spectral& spectrum);
// Of higher precision.
void carry(Packed& bytes, const SpectralD& spectrum);
void carry(Unpacked& bytes, SpectralD& spectrum);

// Other arrays of fixed size.
template <int Rows>
requires(Rows > 0 && Rows != kBins) void carry(Packed& bytes, const Eigen::Array<float, Rows, 1>& values) {
  bytes.raw(values.data(), sizeof(float) * Rows);
}
template <int Rows>
requires(Rows > 0 && Rows != kBins) void carry(Unpacked& bytes, Eigen::Array<float, Rows, 1>& values) {
  bytes.raw(values.data(), sizeof(float) * Rows);
}

template <class Value>
void carry(Packed& bytes, const std::vector<Value>& values) {
  carry(bytes, values.size());
  for (const Value& value : values) carry(bytes, value);
}
template <class Value>
void carry(Unpacked& bytes, std::vector<Value>& values) {
  std::size_t size = 0;
  carry(bytes, size);
  values.clear();
  if (!bytes.may_hold(size)) return;
  values.resize(size);
  for (Value& value : values) carry(bytes, value);
}

template <class Key, class Value>
void carry(Packed& bytes, const std::map<Key, Value>& values) {
  carry(bytes, values.size());
  for (const auto& [key, value] : values) {
    carry(bytes, key);
    carry(bytes, value);
  }
}
template <class Key, class Value>
void carry(Unpacked& bytes, std::map<Key, Value>& values) {
  std::size_t size = 0;
  carry(bytes, size);
  values.clear();
  if (!bytes.may_hold(size)) return;
  for (std::size_t i = 0; i < size; ++i) {
    Key key{};
    carry(bytes, key);
    carry(bytes, values[key]);
  }
}

// Arrays whose size is known at run time.
template <class Array>
void carry_array(Packed& bytes, const Array& values) {
  carry(bytes, values.rows());
  carry(bytes, values.cols());
  bytes.raw(values.data(), sizeof *values.data() * static_cast<std::size_t>(values.size()));
}
template <class Array>
void carry_array(Unpacked& bytes, Array& values) {
  Eigen::Index rows = 0, columns = 0;
  carry(bytes, rows);
  carry(bytes, columns);
  if (!bytes.may_hold(static_cast<std::size_t>(rows * columns))) return;
  values.resize(rows, columns);
  bytes.raw(values.data(), sizeof *values.data() * static_cast<std::size_t>(values.size()));
}

}  // namespace boughlight
