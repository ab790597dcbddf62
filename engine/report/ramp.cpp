#include <algorithm>
#include <array>
#include <cmath>

#include "report/scale.h"

namespace boughlight {
namespace {

// Where the ramp passes in OKLab. Lightness goes up evenly; the middle is held grey enough to stay calm under
// outlines drawn over it.
constexpr std::array<OkLab, 5> kStations = {{{0.23, 0.012, -0.118},
                                             {0.41, -0.042, -0.085},
                                             {0.60, -0.058, -0.010},
                                             {0.79, -0.030, 0.062},
                                             {0.955, -0.008, 0.070}}};

// The same for changes.
constexpr std::array<OkLab, 5> kChangeStations = {{{0.43, -0.030, -0.125},
                                                   {0.72, -0.035, -0.075},
                                                   {0.965, -0.002, 0.004},
                                                   {0.74, 0.055, 0.110},
                                                   {0.47, 0.095, 0.090}}};

double distance(const OkLab& p, const OkLab& q) {
  return std::hypot(p.lightness - q.lightness, p.a - q.a, p.b - q.b);
}

// Catmull-Rom through p1 and p2.
double spline(double p0, double p1, double p2, double p3, double t) {
  return p1 + 0.5 * t * ((p2 - p0) + t * ((2 * p0 - 5 * p1 + 4 * p2 - p3) + t * (3 * (p1 - p2) + p3 - p0)));
}

// Through the stations; position from 0 to the number of spans.
OkLab path(const std::array<OkLab, 5>& stations, double position) {
  const int last = static_cast<int>(stations.size()) - 1;
  const int span = std::clamp(static_cast<int>(position), 0, last - 1);
  const double t = position - span;
  const auto station = [&](int i) { return stations[static_cast<std::size_t>(std::clamp(i, 0, last))]; };
  const OkLab p0 = station(span - 1), p1 = station(span), p2 = station(span + 1), p3 = station(span + 2);
  return {spline(p0.lightness, p1.lightness, p2.lightness, p3.lightness, t),
          spline(p0.a, p1.a, p2.a, p3.a, t), spline(p0.b, p1.b, p2.b, p3.b, t)};
}

Ramp make_ramp(const std::array<OkLab, 5>& stations) {
  // Equal steps along the curve's length, so that equal steps of the value look equal.
  constexpr int kFine = 32 * kRampSteps;
  std::array<double, kFine + 1> length{};
  const auto position = [&](double i) { return i / kFine * (static_cast<double>(stations.size()) - 1); };
  for (int i = 1; i <= kFine; ++i) {
    length[i] = length[i - 1] + distance(path(stations, position(i - 1)), path(stations, position(i)));
  }
  Ramp ramp{};
  int at = 0;
  for (int step = 0; step < kRampSteps; ++step) {
    const double goal = length[kFine] * step / (kRampSteps - 1);
    while (at < kFine - 1 && length[at + 1] < goal) ++at;
    const double between = (goal - length[at]) / (length[at + 1] - length[at]);
    ramp[step] = to_rgb(path(stations, position(at + between)));
  }
  return ramp;
}

double linear_from_srgb(std::uint8_t channel) {
  const double c = channel / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

std::uint8_t srgb_from_linear(double c) {
  const double cut = std::clamp(c, 0.0, 1.0);
  const double encoded = cut <= 0.0031308 ? 12.92 * cut : 1.055 * std::pow(cut, 1 / 2.4) - 0.055;
  return static_cast<std::uint8_t>(std::lround(255 * encoded));
}

}  // namespace

// Both matrices as published by Ottosson (2020), from memory; the tests hold them to each other and to white.
OkLab to_oklab(Rgb colour) {
  const double r = linear_from_srgb(colour.r), g = linear_from_srgb(colour.g), b = linear_from_srgb(colour.b);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Rgb to_rgb(const OkLab& colour) {
  const auto cube = [](double x) { return x * x * x; };
  const double l = cube(colour.lightness + 0.3963377774 * colour.a + 0.2158037573 * colour.b);
  const double m = cube(colour.lightness - 0.1055613458 * colour.a - 0.0638541728 * colour.b);
  const double s = cube(colour.lightness - 0.0894841775 * colour.a - 1.2914855480 * colour.b);
  return {srgb_from_linear(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          srgb_from_linear(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          srgb_from_linear(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

namespace {

Rgb colour_of(const Ramp& ramp, double share) {
  return ramp[static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * (kRampSteps - 1)))];
}

}  // namespace

const Ramp& colour_ramp() {
  static const Ramp ramp = make_ramp(kStations);
  return ramp;
}

const Ramp& change_ramp() {
  static const Ramp ramp = make_ramp(kChangeStations);
  return ramp;
}

Rgb ramp_colour(double share) {
  return colour_of(colour_ramp(), share);
}

Rgb change_colour(double share) {
  return colour_of(change_ramp(), share);
}

}  // namespace boughlight
