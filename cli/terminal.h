// Printing to people: standard output in one place, text set to 80 columns, progress on a terminal.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <string_view>

#include "scene/model.h"

namespace boughlight::cli {

// To standard output. Throws OutputError (report/write.h) when it cannot be written.
void put(std::string_view text);
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

// A line on standard error that says how far the work is; drawn only when that is a terminal, and wiped at
// the end.
class Progress {
 public:
  explicit Progress(bool wanted);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  bool shown() const { return shown_; }
  void show(const std::string& stage, double share);
  void wipe();

 private:
  bool shown_;
  bool drawn_ = false;
  std::chrono::steady_clock::time_point last_{};
};

}  // namespace boughlight::cli
