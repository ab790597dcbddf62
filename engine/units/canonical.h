// Values as bytes in one agreed order: two things are the same where their bytes are.
#pragma once

#include <Eigen/Core>
#include <bit>
#include <concepts>
#include <cstdint>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace boughlight {

class CanonicalBytes {
 public:
  // Numbers keep their every bit: 0 and -0 are not the same.
  template <class Number>
  requires std::is_arithmetic_v<Number> || std::is_enum_v<Number>
  void add(Number value) {
    if constexpr (std::floating_point<Number>) {
      word(std::bit_cast<std::uint64_t>(static_cast<double>(value)));
    } else {
      word(static_cast<std::uint64_t>(value));
    }
  }
  void add(std::string_view text) {
    word(text.size());
    bytes_.append(text);
  }
  void add(const char* text) { add(std::string_view(text)); }
  template <class Derived>
  void add(const Eigen::DenseBase<Derived>& values) {
    word(static_cast<std::uint64_t>(values.size()));
    for (Eigen::Index column = 0; column < values.cols(); ++column)
      for (Eigen::Index row = 0; row < values.rows(); ++row) add(values.derived().coeff(row, column));
  }
  template <class Value>
  void add(const std::vector<Value>& values) {
    word(values.size());
    for (const Value& value : values) add(value);
  }
  template <class First, class Second, class... More>
  void add(const First& first, const Second& second, const More&... more) {
    add(first);
    add(second);
    (add(more), ...);
  }

  const std::string& bytes() const { return bytes_; }

 private:
  void word(std::uint64_t value) {
    for (int shift = 0; shift < 64; shift += 8) bytes_ += static_cast<char>(value >> shift & 0xff);
  }
  std::string bytes_;
};

}  // namespace boughlight
