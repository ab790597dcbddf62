// Printing to people: standard output in one place, text set to 80 columns, progress on a terminal.
#pragma once

#include <fmt/format.h>

#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <string>
#include <string_view>
#include <thread>

#include "scene/model.h"

namespace boughlight::cli {

// To standard output. Throws OutputError (report/write.h) when it cannot be written.
void put(std::string_view text);
// To standard error. What cannot be written there is lost: nobody is left to tell.
void put_remark(std::string_view text);
template <class... Args>
void remark(fmt::format_string<Args...> text, Args&&... args) {
  put_remark(fmt::format(text, std::forward<Args>(args)...));
}
// Flushes standard output; throws OutputError when something did not get through.
void flush_output();

// `text` broken between words (but not before a '%') so that no line passes 80 columns; lines after the first
// start with `indent` blanks. The first starts at column `start`, which is already on the line.
std::string set_in_columns(std::string_view text, std::size_t start, std::size_t indent);

// "  name             text", the text set to 80 columns beside the name, or below it when the name is long.
std::string item(std::string_view name, std::string_view text);

// "45, 24, 176" and "45" in a length unit, without the unit.
std::string place_text(const Vec3& metres, const std::string& unit);
std::string length_text(double metres, const std::string& unit);
// "2.5 to 4.5", "at least 2", "at most 5"
std::string limits_text(const Limits& limits);
// "uvi 2.5 to 4.5", "lux at most 2000 lx", joined by ", ".
std::string wants_text(const std::vector<Want>& wants);

// "less than 5 s", "about 40 s", "about 3 min": how long the rest takes where `share` (0..1) of the work took
// `seconds`; nothing in the first 2 s, and while too little is done to say.
std::string remaining_text(double seconds, double share);

// A line on standard error that says how far the work is and, from 2 s on, how long the rest may take; drawn
// only when that is a terminal, and wiped at the end. It counts on while nothing is told.
class Progress {
 public:
  explicit Progress(bool wanted);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  bool shown() const { return shown_; }
  // Shares should grow with time as evenly as can be.
  void show(const std::string& stage, double share);
  // To be given to work that tells of its progress, which is so much of the whole; empty where nothing is
  // shown.
  std::function<void(const std::string& stage, double share)> teller(double of_the_whole = 1);
  // A block of lines that stays, above the line of progress; only where that is drawn.
  void say(const std::string& lines);
  void wipe();

 private:
  using Clock = std::chrono::steady_clock;
  void draw();  // with the lock held
  void tick(const std::stop_token& stop);

  const bool shown_;
  const Clock::time_point begin_ = Clock::now();
  std::mutex lock_;
  std::condition_variable_any wake_;
  bool drawn_ = false, wiped_ = false;
  std::string stage_;
  double share_ = 0;
  Clock::time_point told_ = begin_, last_{};
  std::jthread ticker_;  // last: it uses all of the above
};

}  // namespace boughlight::cli
