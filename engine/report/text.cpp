#include "report/text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace boughlight {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size()) {
    text.replace(at, from.size(), to);
  }
}

struct PointRange {
  char32_t first, last;
};

// Combining marks, joiners and variation selectors in common use (Unicode blocks).
constexpr std::array<PointRange, 8> kNoWidth = {{{0x0300, 0x036F},
                                                 {0x0483, 0x0489},
                                                 {0x0591, 0x05BD},
                                                 {0x064B, 0x065F},
                                                 {0x1AB0, 0x1AFF},
                                                 {0x200B, 0x200F},
                                                 {0x20D0, 0x20FF},
                                                 {0xFE00, 0xFE0F}}};

// Blocks that terminals draw two columns wide (Unicode Standard Annex 11, coarse).
constexpr std::array<PointRange, 10> kDoubleWidth = {{{0x1100, 0x115F},
                                                      {0x2600, 0x27BF},
                                                      {0x2B1B, 0x2B55},
                                                      {0x2E80, 0x303E},
                                                      {0x3041, 0xA4CF},
                                                      {0xAC00, 0xD7A3},
                                                      {0xF900, 0xFAFF},
                                                      {0xFF00, 0xFF60},
                                                      {0x1F300, 0x1FAFF},
                                                      {0x20000, 0x3FFFD}}};

template <std::size_t N>
bool in_ranges(char32_t point, const std::array<PointRange, N>& ranges) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [point](const PointRange& r) { return point >= r.first && point <= r.last; });
}

int width_of(char32_t point) {
  if (in_ranges(point, kNoWidth)) return 0;
  return in_ranges(point, kDoubleWidth) ? 2 : 1;
}

bool is_control(char32_t point) {
  // C0, DEL, C1, line and paragraph separators, and the marks that turn the direction of writing.
  return point < 0x20 || (point >= 0x7F && point < 0xA0) || point == 0x2028 || point == 0x2029 ||
         (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
}

void append_utf8(std::string& out, char32_t point) {
  const auto byte = [&out](char32_t bits) { out.push_back(static_cast<char>(bits)); };
  if (point < 0x80) {
    byte(point);
  } else if (point < 0x800) {
    byte(0xC0 | (point >> 6));
    byte(0x80 | (point & 0x3F));
  } else if (point < 0x10000) {
    byte(0xE0 | (point >> 12));
    byte(0x80 | ((point >> 6) & 0x3F));
    byte(0x80 | (point & 0x3F));
  } else {
    byte(0xF0 | (point >> 18));
    byte(0x80 | ((point >> 12) & 0x3F));
    byte(0x80 | ((point >> 6) & 0x3F));
    byte(0x80 | (point & 0x3F));
  }
}

}  // namespace

std::vector<char32_t> code_points(std::string_view utf8) {
  std::vector<char32_t> points;
  points.reserve(utf8.size());
  for (std::size_t i = 0; i < utf8.size();) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    const int following = lead < 0x80         ? 0
                          : lead >> 5 == 0x6  ? 1
                          : lead >> 4 == 0xE  ? 2
                          : lead >> 3 == 0x1E ? 3
                                              : -1;
    char32_t point = following < 1 ? lead : lead & (0x3Fu >> following);
    bool good = following >= 0 && i + static_cast<std::size_t>(std::max(following, 0)) < utf8.size();
    for (int k = 1; good && k <= following; ++k) {
      const auto next = static_cast<unsigned char>(utf8[i + static_cast<std::size_t>(k)]);
      good = next >> 6 == 0x2;
      point = (point << 6) | (next & 0x3Fu);
    }
    // Longer forms than needed, surrogates and points past the end of Unicode are not UTF-8.
    constexpr std::array<char32_t, 4> kLeast = {0, 0x80, 0x800, 0x10000};
    if (good) {
      good = point >= kLeast[static_cast<std::size_t>(following)] && point <= 0x10FFFF &&
             (point < 0xD800 || point > 0xDFFF);
    }
    points.push_back(good ? point : kReplacement);
    i += good ? static_cast<std::size_t>(following) + 1 : 1;
  }
  return points;
}

std::string printable(std::string_view utf8) {
  std::string out;
  for (const char32_t point : code_points(utf8)) append_utf8(out, is_control(point) ? U' ' : point);
  return out;
}

int display_width(std::string_view utf8) {
  int width = 0;
  for (const char32_t point : code_points(utf8)) width += width_of(point);
  return width;
}

std::string shortened(std::string_view utf8, int columns) {
  const std::string text = printable(utf8);
  if (display_width(text) <= columns) return text;
  std::string out;
  int width = 0;
  for (const char32_t point : code_points(text)) {
    width += width_of(point);
    if (width > columns - 3) break;
    append_utf8(out, point);
  }
  return out + "...";
}

std::string left_aligned(std::string_view utf8, int columns) {
  std::string out = shortened(utf8, columns);
  return out.append(static_cast<std::size_t>(std::max(0, columns - display_width(out))), ' ');
}

std::string right_aligned(std::string_view utf8, int columns) {
  std::string out = shortened(utf8, columns);
  return out.insert(0, static_cast<std::size_t>(std::max(0, columns - display_width(out))), ' ');
}

std::vector<std::string> wrapped(std::string_view utf8, int columns, std::string_view first,
                                 std::string_view rest) {
  std::vector<std::string> lines;
  std::string line(first);
  bool empty = true;  // nothing but the indent so far
  const auto finish = [&] {
    lines.push_back(line);
    line = rest;
    empty = true;
  };
  std::string word;
  const auto add_word = [&] {
    if (word.empty()) return;
    if (!empty && display_width(line) + 1 + display_width(word) > columns) finish();
    if (!empty) line += ' ';
    for (const char32_t point : code_points(word)) {
      if (display_width(line) + width_of(point) > columns && !empty) finish();
      append_utf8(line, point);
      empty = false;
    }
    word.clear();
  };
  for (const char letter : printable(utf8)) {
    if (letter == ' ') {
      add_word();
    } else {
      word.push_back(letter);
    }
  }
  add_word();
  if (!empty || lines.empty()) lines.push_back(line);
  for (std::string& done : lines) replace_all(done, kNoBreakSpace, " ");
  return lines;
}

std::string unbroken(std::string text) {
  replace_all(text, " ", kNoBreakSpace);
  return text;
}

std::string six_digit_text(double value, std::string_view what) {
  if (!std::isfinite(value)) {
    throw std::runtime_error(
        fmt::format("'{}' came out as {}, which is no result: nothing was written", what, value));
  }
  // The digits of "{:.6g}" in half the time.
  std::array<char, 32> text;
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value == 0 ? 0.0 : value,  // no "-0"
                                 std::chars_format::general, 6);
  return {text.data(), end.ptr};
}

double six_digits(double value, std::string_view what) {
  const std::string text = six_digit_text(value, what);
  double rounded = 0;
  std::from_chars(text.data(), text.data() + text.size(), rounded);  // whatever the locale
  return rounded;
}

std::string csv_field(std::string_view text) {
  // A line that begins with '#' is a remark.
  if (text.find_first_of(",\"\r\n") == std::string_view::npos && !text.starts_with('#'))
    return std::string(text);
  std::string out = "\"";
  for (const char letter : text) {
    if (letter == '"') out.push_back('"');
    out.push_back(letter);
  }
  return out + '"';
}

}  // namespace boughlight
