#include "scene/yaml_tree.h"
#include "units/utf8.h"

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
    if (!continues_letter(text[i])) return 0;
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

std::string checked_text(std::string text, const std::string& file) {
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);  // byte order mark of some editors
  if (text.find('\r') != std::string::npos && text.find('\n') == std::string::npos)
    fail(file, 1, static_cast<int>(text.find('\r')) + 1,
         "its lines end in a carriage return alone, as on old Macs: save it with the line ends of today");
  check_characters(text, file);
  return text;
}

std::string read_text_file(const std::filesystem::path& file) {
  return checked_text(read_bytes(file, kMostBytes), file.string());
}

}  // namespace boughlight
