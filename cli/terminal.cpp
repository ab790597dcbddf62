#include "terminal.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>

#include "report/write.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

constexpr std::size_t kColumns = 80;
constexpr std::size_t kNameColumn = 20;

[[noreturn]] void output_failed() {
  throw OutputError(fmt::format("standard output could not be written: {}", std::strerror(errno)));
}

}  // namespace

void put(std::string_view text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) output_failed();
}

void flush_output() {
  if (std::fflush(stdout) != 0 || std::ferror(stdout)) output_failed();
}

std::string set_in_columns(std::string_view text, std::size_t start, std::size_t indent) {
  std::string set;
  std::size_t column = start;
  bool line_is_empty = true;
  while (!text.empty()) {
    std::size_t end = std::min(text.find(' '), text.size());
    if (text.substr(end).starts_with(" %")) end = std::min(text.find(' ', end + 1), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!line_is_empty && column + 1 + word.size() > kColumns) {
      set += '\n' + std::string(indent, ' ');
      column = indent;
      line_is_empty = true;
    }
    if (!line_is_empty) {
      set += ' ';
      ++column;
    }
    set += word;
    column += word.size();
    line_is_empty = false;
  }
  return set;
}

std::string item(std::string_view name, std::string_view text) {
  std::string line = "  " + std::string(name);
  if (text.empty()) return line + '\n';
  if (line.size() + 2 > kNameColumn) {
    line += '\n' + std::string(kNameColumn, ' ');
  } else {
    line.resize(kNameColumn, ' ');
  }
  return line + set_in_columns(text, kNameColumn, kNameColumn) + '\n';
}

std::string length_text(double metres, const std::string& unit) {
  return print_number(metres / size_of_unit(unit, Dimension::length), 4);
}

std::string place_text(const Vec3& metres, const std::string& unit) {
  return fmt::format("{}, {}, {}", length_text(metres.x(), unit), length_text(metres.y(), unit),
                     length_text(metres.z(), unit));
}

std::string limits_text(const Limits& limits) {
  if (limits.min && limits.max) return print_number(*limits.min) + " to " + print_number(*limits.max);
  if (limits.min) return "at least " + print_number(*limits.min);
  return limits.max ? "at most " + print_number(*limits.max) : "any";
}

std::string wants_text(const std::vector<Want>& wants) {
  std::string text;
  for (const Want& want : wants) {
    const QuantityInfo& quantity = info(want.quantity);
    if (!text.empty()) text += ", ";
    text += fmt::format("{} {}", quantity.name, limits_text(want.limits));
    if (!quantity.unit.empty()) text += fmt::format(" {}", quantity.unit);
    if (!want.range.empty()) text += fmt::format(" ({})", want.range);
  }
  return text;
}

Progress::Progress(bool wanted) : shown_(wanted && isatty(STDERR_FILENO)) {}

Progress::~Progress() {
  wipe();
}

void Progress::show(const std::string& stage, double share) {
  using namespace std::chrono_literals;
  const auto now = std::chrono::steady_clock::now();
  if (!shown_ || now - last_ < 100ms) return;
  last_ = now;
  drawn_ = true;
  const std::string line = fmt::format("{:3.0f} %  {}", 100 * std::clamp(share, 0.0, 1.0), stage);
  fmt::print(stderr, "\r{:<79.79}", line);
  std::fflush(stderr);
}

void Progress::wipe() {
  if (!drawn_) return;
  fmt::print(stderr, "\r{:79}\r", "");
  std::fflush(stderr);
  drawn_ = false;
}

}  // namespace boughlight::cli
