// Letters of UTF-8, some of which are several bytes.
#pragma once

#include <algorithm>
#include <string_view>

namespace boughlight {

// Whether a byte goes on a letter that began before it.
constexpr bool continues_letter(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

// The letters that lie wholly within the first `bytes`.
constexpr std::string_view letters_within(std::string_view text, std::size_t bytes) {
  std::size_t end = std::min(bytes, text.size());
  while (end > 0 && end < text.size() && continues_letter(text[end])) --end;
  return text.substr(0, end);
}

}  // namespace boughlight
