#include "terminal.h"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdio>
#include <cstring>

#include "interrupt.h"
#include "report/staging.h"
#include "units/units.h"

namespace boughlight::cli {
namespace {

constexpr std::size_t kColumns = 80;
constexpr std::size_t kNameColumn = 20;

// Of a line that is written over and over: one less than the terminal has, where most go on to the next line.
std::size_t progress_columns() {
  static const std::size_t columns = [] {
    winsize size{};
    const bool told = ::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 1;
    return std::min<std::size_t>(told ? size.ws_col : kColumns, kColumns) - 1;
  }();
  return columns;
}

// Over a progress line.
const char* wipe_text() {
  static const std::string text = "\r" + std::string(progress_columns(), ' ') + "\r";
  return text.c_str();
}

[[noreturn]] void output_failed() {
  throw OutputError(fmt::format("standard output could not be written: {}", std::strerror(errno)));
}

}  // namespace

void put(std::string_view text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) output_failed();
}

void put_remark(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stderr);
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

std::string remaining_text(double seconds, double share) {
  constexpr double kQuiet = 2, kLeastShare = 0.05;
  if (seconds < kQuiet || share < kLeastShare || share >= 1) return "";
  const double left = seconds * (1 - share) / share;
  if (left < 5) return "less than 5 s";
  if (left < 57.5) return fmt::format("about {:.0f} s", 5 * std::round(left / 5));
  if (left < 570) return fmt::format("about {} min", print_number(0.5 * std::round(left / 30)));
  return fmt::format("about {:.0f} min", std::round(left / 60));
}

Progress::Progress(bool wanted) : shown_(wanted && isatty(STDERR_FILENO)) {
  if (shown_) ticker_ = std::jthread([this](const std::stop_token& stop) { tick(stop); });
}

Progress::~Progress() {
  wipe();
}

void Progress::tick(const std::stop_token& stop) {
  using namespace std::chrono_literals;
  std::unique_lock hold(lock_);
  while (!stop.stop_requested()) {
    wake_.wait_for(hold, stop, 500ms, [] { return false; });
    if (!stop.stop_requested() && !stage_.empty() && !wiped_) draw();
  }
}

void Progress::draw() {
  const auto seconds = [](Clock::duration time) { return std::chrono::duration<double>(time).count(); };
  last_ = Clock::now();
  drawn_ = true;
  wipe_on_interrupt(wipe_text());
  // While nothing is told work goes on as it did before, but no more than half of the rest is taken for done.
  const double told = seconds(told_ - begin_), now = seconds(last_ - begin_);
  const double share = told > 0 ? std::min(share_ * now / told, (1 + share_) / 2) : share_;
  const std::string left = remaining_text(now, share);
  const std::string line = fmt::format("{:3.0f} %  {}{}", 100 * std::clamp(share_, 0.0, 1.0), stage_,
                                       left.empty() ? "" : ", " + left + " left");
  remark("\r{:<{}.{}}", line, progress_columns(), progress_columns());
  std::fflush(stderr);
}

void Progress::show(const std::string& stage, double share) {
  using namespace std::chrono_literals;
  if (!shown_) return;
  const std::lock_guard hold(lock_);
  wiped_ = false;
  stage_ = stage;
  share_ = share;
  told_ = Clock::now();
  if (told_ - last_ >= 100ms) draw();
}

std::function<void(const std::string& stage, double share)> Progress::teller(double of_the_whole) {
  if (!shown_) return nullptr;
  return [this, of_the_whole](const std::string& stage, double share) { show(stage, of_the_whole * share); };
}

void Progress::say(const std::string& lines) {
  if (!shown_) return;
  const std::lock_guard hold(lock_);
  remark("{}{}", drawn_ ? wipe_text() : "", lines);
  std::fflush(stderr);
  if (drawn_) draw();
}

void Progress::wipe() {
  const std::lock_guard hold(lock_);
  wiped_ = true;
  if (!drawn_) return;
  remark("{}", wipe_text());
  std::fflush(stderr);
  drawn_ = false;
  wipe_on_interrupt(nullptr);
}

}  // namespace boughlight::cli
