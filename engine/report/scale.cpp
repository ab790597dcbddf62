#include "report/scale.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "units/units.h"

namespace boughlight {
namespace {

// Any of `leading` times a power of ten, at or below (or above) the value.
double round_down(double value, std::span<const double> leading) {
  const double decade = std::pow(10, std::floor(std::log10(value) + 1e-9));
  double best = leading.front() * decade;
  for (const double digit : leading) {
    if (digit * decade <= value * (1 + 1e-9)) best = digit * decade;
  }
  return best;
}

double round_up(double value, std::span<const double> leading) {
  const double decade = std::pow(10, std::floor(std::log10(value) + 1e-9));
  for (const double digit : leading) {
    if (digit * decade >= value * (1 - 1e-9)) return digit * decade;
  }
  return 10 * decade;
}

constexpr std::array<double, 3> kOneTwoFive = {1, 2, 5};

std::vector<double> multiples(double step, double low, double high) {
  std::vector<double> ticks;
  const double slack = 1e-9 * (high - low);
  for (double n = std::ceil((low - slack) / step); n * step <= high + slack; ++n)
    ticks.push_back(n == 0 ? 0 : n * step);  // no negative zero
  return ticks;
}

}  // namespace

double ColourScale::share(double value) const {
  if (spacing != Spacing::logarithmic) return std::clamp((value - low) / (high - low), 0.0, 1.0);
  return value <= low ? 0.0 : std::min(1.0, std::log(value / low) / std::log(high / low));
}

std::vector<double> ColourScale::ticks() const {
  constexpr int kAtMost = 10;
  // Of changes one more, so that both ends have theirs.
  if (spacing != Spacing::logarithmic)
    return nice_ticks(low, high, spacing == Spacing::change ? kAtMost + 1 : kAtMost);
  const std::vector<std::vector<double>> leadings = {{1, 2, 5}, {1, 3}, {1}};
  std::vector<double> ticks;
  for (const std::vector<double>& leading : leadings) {
    ticks.clear();
    for (double decade = std::pow(10, std::floor(std::log10(low))); decade <= high; decade *= 10) {
      for (const double digit : leading) {
        const double tick = digit * decade;
        if (tick >= low * (1 - 1e-9) && tick <= high * (1 + 1e-9)) ticks.push_back(tick);
      }
    }
    if (ticks.size() <= kAtMost) break;
  }
  return ticks;
}

ColourScale scale_for(std::span<const double> values, std::span<const double> limits) {
  const double greatest = values.empty() ? 0 : *std::max_element(values.begin(), values.end());
  if (!(greatest > 0)) return {};
  std::vector<double> sorted(values.begin(), values.end());
  std::sort(sorted.begin(), sorted.end());
  if (sorted[sorted.size() / 2] >= greatest / 10) {
    const std::vector<double> ticks = nice_ticks(0, greatest, 8);
    const double step = ticks.size() > 1 ? ticks[1] - ticks[0] : greatest;
    return {Spacing::linear, 0, step * std::ceil(greatest / step * (1 - 1e-9))};
  }
  const double mean = std::accumulate(sorted.begin(), sorted.end(), 0.0) / static_cast<double>(sorted.size());
  double low = std::max(mean / 10, sorted.front());
  for (const double limit : limits) {
    // Two thirds of the limit, so that some of the ramp lies below it.
    if (limit > 0 && limit >= 1e-4 * greatest) low = std::min(low, limit / 1.5);
  }
  constexpr std::array<double, 6> kFine = {1, 1.5, 2, 3, 5, 7};
  return {Spacing::logarithmic, round_down(low, kOneTwoFive), round_up(greatest, kFine)};
}

ColourScale change_scale(std::span<const double> changes) {
  std::vector<double> sizes;
  for (const double change : changes) sizes.push_back(std::abs(change));
  std::sort(sizes.begin(), sizes.end());
  ColourScale scale{Spacing::change, -1, 1};
  if (sizes.empty() || !(sizes.back() > 0)) return scale;
  const double most = sizes[(sizes.size() - 1) * 19 / 20];
  scale.high = round_up(most > 0 ? most : sizes.back(), kOneTwoFive);
  scale.low = -scale.high;
  return scale;
}

std::vector<double> nice_ticks(double low, double high, int at_most) {
  double step = round_up((high - low) / at_most, kOneTwoFive);
  std::vector<double> ticks = multiples(step, low, high);
  while (static_cast<int>(ticks.size()) > at_most) {
    step = round_up(step * 1.01, kOneTwoFive);
    ticks = multiples(step, low, high);
  }
  return ticks;
}

std::string tick_text(double value) {
  return print_number(value, 4);
}

std::string signed_tick_text(double value) {
  return (value > 0 ? "+" : "") + tick_text(value);
}

std::string heading_name(Quantity quantity) {
  switch (quantity) {
    case Quantity::uvi:
      return "UV index";
    case Quantity::ppfd:
      return "Light for plants (PPFD)";
    case Quantity::irradiance:
      return "Irradiance, UV to heat";
    default:
      return std::string(info(quantity).label);
  }
}

std::string pretty_unit(Quantity quantity) {
  std::string unit(info(quantity).unit);
  for (std::size_t at; (at = unit.find("m2")) != std::string::npos;) unit.replace(at, 2, "m²");
  if (unit.rfind("umol", 0) == 0) unit.replace(0, 1, "µ");
  return unit;
}

double finest_step(Quantity quantity) {
  switch (quantity) {
    case Quantity::uvi:
    case Quantity::dli:
      return 0.01;
    case Quantity::irradiance:
    case Quantity::infrared:
    case Quantity::ppfd:
      return 0.1;
    case Quantity::lux:
      return 1;
    default:
      return 0;
  }
}

std::string value_text(Quantity quantity, double value) {
  const std::string_view unit = info(quantity).unit;
  return print_number(value) + (unit.empty() ? "" : " " + std::string(unit));
}

LengthUnit::LengthUnit(const std::string& name)
    : name_(name),
      size_m_(size_of_unit(name, Dimension::length)),
      decimals_(std::max(0, static_cast<int>(std::ceil(std::log10(size_m_ / 0.001) - 0.5)))) {}

std::string LengthUnit::number(double metres) const {
  std::string text = fmt::format("{:.{}f}", from_m(metres), decimals_);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::vector<double> LengthUnit::ticks_m(double low_m, double high_m, int at_most) const {
  const double low = from_m(low_m), high = from_m(high_m);
  std::vector<double> ticks;
  if (name_ == "in" || name_ == "inch") {
    for (const double step : {1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0}) {
      ticks = multiples(step, low, high);
      if (static_cast<int>(ticks.size()) <= at_most) break;
    }
  } else {
    ticks = nice_ticks(low, high, at_most);
  }
  for (double& tick : ticks) tick = to_m(tick);
  return ticks;
}

}  // namespace boughlight
