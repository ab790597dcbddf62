#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>

#include "scene/yaml_tree.h"

namespace boughlight {

namespace {

[[noreturn]] void fail(const std::string& file, int line, int column, std::string text) {
  throw InputError({{{file, line, column}, "", std::move(text)}});
}

// Bytes of the UTF-8 character at the start of `text`, or 0 where there is none (overlong forms, surrogates
// and code points past U+10FFFF count as none).
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80) return 0;
  }
  const bool overlong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90);
  const bool surrogate = lead == 0xED && byte(1) >= 0xA0;
  const bool too_large = lead == 0xF4 && byte(1) >= 0x90;
  return overlong || surrogate || too_large ? 0 : length;
}

void check_characters(std::string_view text, const std::string& file) {
  int line = 1, column = 1;
  bool indentation = true;
  while (!text.empty()) {
    const char c = text[0];
    const std::size_t length = utf8_length(text);
    if (length == 0) {
      fail(file, line, column, "is not UTF-8 text: save the file as plain UTF-8 text");
    }
    if (c == '\t' && indentation) {
      fail(file, line, column, "a tab stands before the first word of the line: indent with blanks only");
    }
    if ((static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7F) {
      fail(file, line, column, "holds a control character: is this a text file?");
    }
    if (c == '\n') {
      ++line;
      column = 1;
      indentation = true;
    } else {
      ++column;
      indentation = indentation && (c == ' ' || c == '\t');
    }
    text.remove_prefix(length);
  }
}

}  // namespace

std::string read_bytes(const std::filesystem::path& file, std::size_t most) {
  namespace fs = std::filesystem;
  const std::string name = file.string();
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (status.type() == fs::file_type::not_found) fail(name, 0, 0, "there is no such file");
  if (error) fail(name, 0, 0, fmt::format("cannot be read: {}", error.message()));
  if (status.type() == fs::file_type::directory) fail(name, 0, 0, "is a folder, not a file");
  if (status.type() != fs::file_type::regular) fail(name, 0, 0, "is not a regular file");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) fail(name, 0, 0, fmt::format("cannot be read: {}", std::strerror(errno)));

  // In pieces: the size of a file need not be what the system says it is.
  constexpr std::size_t kLeast = std::size_t{1} << 14, kGreatest = std::size_t{1} << 20;
  std::string text;
  while (stream && text.size() <= most) {
    const std::size_t before = text.size();
    text.resize(before + std::min(std::clamp(before, kLeast, kGreatest), most + 1 - before));
    stream.read(text.data() + before, static_cast<std::streamsize>(text.size() - before));
    text.resize(before + static_cast<std::size_t>(stream.gcount()));
  }
  if (stream.bad()) fail(name, 0, 0, "cannot be read to its end");
  if (text.size() > most) {
    fail(name, 0, 0, fmt::format("is larger than {} MiB, the most that is read", most >> 20));
  }
  return text;
}

std::string read_text_file(const std::filesystem::path& file) {
  std::string text = read_bytes(file, kMostBytes);
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);  // byte order mark of some editors
  check_characters(text, file.string());
  return text;
}

}  // namespace boughlight
