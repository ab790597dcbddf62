#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/ascii.h"
#include "units/units.h"

namespace boughlight {

namespace {

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

// Minutes from midnight of "8:00", "08:00" or "24:00"; -1 for anything else.
int minutes(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return -1;
  const std::string_view hour = text.substr(0, colon), minute = text.substr(colon + 1);
  if (!all_digits(hour) || !all_digits(minute) || hour.size() > 2 || minute.size() != 2) return -1;
  const int h = std::stoi(std::string(hour)), m = std::stoi(std::string(minute));
  if (m > 59 || h * 60 + m > 24 * 60) return -1;
  return h * 60 + m;
}

struct Minutes {
  int from, to;
};

}  // namespace

std::optional<std::vector<ClockSpan>> parse_clock_spans(std::string_view text, std::string& why) {
  constexpr int kDay = 24 * 60;
  constexpr std::string_view kForm = "write times of day as in \"08:00-12:00, 14:00-17:00\"";
  if (trimmed(text).empty()) {
    why = fmt::format("there are no times here: {}", kForm);
    return std::nullopt;
  }
  std::vector<Minutes> spans;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find(',', start), text.size());
    const std::string_view span = trimmed(text.substr(start, end - start));
    start = end + 1;
    const std::size_t dash = span.find('-');
    const int from = minutes(trimmed(span.substr(0, std::min(dash, span.size()))));
    const int to = dash == std::string_view::npos ? -1 : minutes(trimmed(span.substr(dash + 1)));
    if (from < 0 || to < 0) {
      why = fmt::format("'{}' is not a range of clock times: {}", span.substr(0, 40), kForm);
      return std::nullopt;
    }
    if (from == kDay) {
      why = fmt::format("'{}' starts at 24:00: write 00:00 for the start of a day", span);
      return std::nullopt;
    }
    if (from == to) {
      why = fmt::format("'{}' is empty: for the whole day write 00:00-24:00", span);
      return std::nullopt;
    }
    if (from < to) {
      spans.push_back({from, to});
    } else {
      spans.push_back({from, kDay});
      if (to > 0) spans.push_back({0, to});
    }
  }
  std::sort(spans.begin(), spans.end(), [](const Minutes& a, const Minutes& b) { return a.from < b.from; });
  std::vector<Minutes> merged;
  for (const Minutes& span : spans) {
    if (!merged.empty() && span.from <= merged.back().to) {
      merged.back().to = std::max(merged.back().to, span.to);
    } else {
      merged.push_back(span);
    }
  }
  std::vector<ClockSpan> hours;
  for (const Minutes& span : merged) hours.push_back({span.from / 60.0, span.to / 60.0});
  return hours;
}

std::optional<double> parse_clock_time(std::string_view text, std::string& why) {
  const int found = minutes(trimmed(text));
  if (found >= 0 && found < 24 * 60) return found / 60.0;
  why = fmt::format("'{}' is not a time of day: write it as in \"09:30\"", trimmed(text).substr(0, 40));
  return std::nullopt;
}

std::string print_clock_time(double hours) {
  constexpr int kDay = 24 * 60;
  int minute = static_cast<int>(std::lround(hours * 60));
  if (minute != kDay) minute = (minute % kDay + kDay) % kDay;
  return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
}

std::vector<ClockSpan> joined_over_midnight(std::vector<ClockSpan> spans) {
  if (spans.size() < 2 || spans.front().from_h > 0 || spans.back().to_h < 24) return spans;
  spans.back().to_h += spans.front().to_h;
  spans.erase(spans.begin());
  return spans;
}

double total_hours(const std::vector<ClockSpan>& spans) {
  double hours = 0;
  for (const ClockSpan& span : spans) hours += span.to_h - span.from_h;
  return hours;
}

}  // namespace boughlight
