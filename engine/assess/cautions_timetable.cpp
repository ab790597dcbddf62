// Cautions about the hours and the colour of the light.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assess/caution_parts.h"

namespace boughlight {
namespace {

// Days of 10 to 14 hours are kept over the seasons (common practice, no source).
constexpr double kLeastDark_h = 10;
// White light of any kind has 50 to 76 lx for each umol/(m2 s) (Thimijan and Heins 1983); red and blue some
// 10 to 25.
constexpr double kLeastLuxPerPpfd = 35;

void add_short_night(const Survey& survey, Cautions& cautions) {
  const auto& dark = survey.day.clock.longest_dark;
  if (!dark) return;
  const double hours = dark->to_h - dark->from_h;
  if (hours > kLeastDark_h - 0.5 * kClockStepH) return;
  const std::string text = hours > 0
                               ? fmt::format("The longest dark is {} h, from {} to {}.", print_number(hours),
                                             print_clock_time(dark->from_h), print_clock_time(dark->to_h))
                               : "It is never dark.";
  cautions.push_back(
      {"night", text,
       "Light at night keeps the animal from rest: 10 h of unbroken dark or more are common practice "
       "(no source)."});
}

// The lamp that gives the perches most light over the day; its position.
std::optional<std::size_t> main_light(const Survey& survey) {
  std::optional<std::size_t> main;
  double most = 0;
  for (std::size_t i = 0; i < survey.scene.lamps.size(); ++i) {
    const Lamp& lamp = survey.scene.lamps[i];
    const double hours = lamp.lit ? total_hours(*lamp.lit) - lamp.ramp_h : 1;
    double light = 0;
    for (const Reading& reading : survey.readings)
      if (reading.kind == ReadingKind::perch)
        light += hours * reading.by_lamp.at(lamp.name).at(Quantity::lux);
    if (light > most) most = light, main = i;
  }
  return main;
}

// First and last moments, counted from the end of the longest dark, at which a source is on.
std::optional<std::pair<std::size_t, std::size_t>> on_and_off(const std::vector<double>& shares,
                                                              std::size_t morning) {
  std::optional<std::pair<std::size_t, std::size_t>> found;
  for (std::size_t i = 0; i < kClockMoments; ++i) {
    if (!(shares[(morning + i) % kClockMoments] > 0)) continue;
    if (!found) found = {i, i};
    found->second = i;
  }
  return found;
}

void add_order(const Survey& survey, std::size_t main, Cautions& cautions) {
  const ClockFindings& clock = survey.day.clock;
  if (!clock.longest_dark || clock.longest_dark->to_h <= clock.longest_dark->from_h) return;
  constexpr double kUvi = 0.1, kHeat_w_m2 = 50;  // less than that leads nobody anywhere
  const auto morning =
      static_cast<std::size_t>(std::lround(clock.longest_dark->to_h / kClockStepH)) % kClockMoments;
  const auto clock_text = [&](std::size_t moment) {
    return print_clock_time(static_cast<double>(morning + moment) * kClockStepH);
  };
  const std::vector<Lamp>& lamps = survey.scene.lamps;
  const auto lead = on_and_off(clock.sources[main], morning);
  for (std::size_t i = 0; i < lamps.size() && lead; ++i) {
    if (i == main || (most_at_perches(survey, lamps[i].name, Quantity::uvi) < kUvi &&
                      most_at_perches(survey, lamps[i].name, Quantity::infrared) < kHeat_w_m2))
      continue;
    const auto other = on_and_off(clock.sources[i], morning);
    if (!other) continue;
    std::string text;
    if (other->first < lead->first)
      text = fmt::format("'{}' comes on at {}, before the main light, '{}', at {}.", lamps[i].name,
                         clock_text(other->first), lamps[main].name, clock_text(lead->first));
    else if (other->second > lead->second)
      text = fmt::format("'{}' stays on until {}, when the main light, '{}', is off from {}.", lamps[i].name,
                         clock_text(other->second + 1), lamps[main].name, clock_text(lead->second + 1));
    else
      continue;
    cautions.push_back(
        {"lamp-order", text,
         "Bright light should lead to ultraviolet and heat and outlast them: first on, last off (common "
         "practice, no source)."});
  }
}

void add_colour(const Survey& survey, std::size_t main, Cautions& cautions) {
  const std::string& name = survey.scene.lamps[main].name;
  const double lux = most_at_perches(survey, name, Quantity::lux);
  const double ppfd = most_at_perches(survey, name, Quantity::ppfd);
  if (!(ppfd > 0) || lux >= kLeastLuxPerPpfd * ppfd) return;
  cautions.push_back(
      {"colour",
       fmt::format("The main light, '{}', is coloured: {} lx for each umol/(m2 s).", name,
                   print_number(lux / ppfd, 2)),
       "White light has 50 to 76 (Thimijan and Heins 1983). In red and blue alone nobody sees colours, "
       "food or illness as they are."});
}

}  // namespace

void add_timetable(const Survey& survey, Cautions& cautions) {
  const auto& room = survey.scene.room;
  if (room && room->lux > 0 && !room->lit && survey.has_day)
    cautions.push_back({"room-hours", "The room's light has no 'lit' hours.",
                        "So the day's light, dose and dark are those of the lamps alone."});
  add_short_night(survey, cautions);
  const auto main = main_light(survey);
  if (!main) return;
  add_order(survey, *main, cautions);
  add_colour(survey, *main, cautions);
}

}  // namespace boughlight
