// What tests read out of texts that were written.
#pragma once

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

namespace boughlight {

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

// How often a part stands in a text.
inline std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size()) ++found;
  return found;
}

using Keys = std::vector<std::string>;

// In the order in which they stand.
inline Keys keys(const nlohmann::ordered_json& json) {
  Keys found;
  for (const auto& [key, value] : json.items()) found.push_back(key);
  return found;
}

inline std::string bytes_of_base64(const std::string& base64) {
  static const std::string kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  unsigned value = 0;
  int bits = 0;
  for (const char c : base64) {
    const std::size_t digit = kDigits.find(c);
    if (digit == std::string::npos) continue;
    value = value << 6 | static_cast<unsigned>(digit);
    bits += 6;
    if (bits >= 8) bytes += static_cast<char>(value >> (bits -= 8) & 0xFFU);
  }
  return bytes;
}

}  // namespace boughlight
