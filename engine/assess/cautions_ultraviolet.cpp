// Cautions about ultraviolet that a good UV index hides.
#include <fmt/format.h>

#include <algorithm>

#include "assess/caution_parts.h"

namespace boughlight {
namespace {

// What sunlight brings of visible light with each unit of UV index is 10 000 lx and more (100 000 lx at a UV
// index of 8 to 10). A tenth of that counts as bright enough: common practice, no source.
constexpr double kBrightLuxPerUvi = 1000;
// Below this index shade is meant: no caution.
constexpr double kUviThatMatters = 0.5;

struct Ultraviolet {
  double all = 0, below_290 = 0, uvc = 0;  // W
  double uvi = 0, lux = 0;                 // as weighted watts
};

Ultraviolet ultraviolet_of(const Lamp& lamp) {
  Ultraviolet sum;
  for (const LampPart& part : lamp.fixture->parts) {
    for (std::size_t bin = 0; bin < kBins && kBinEdgesNm[bin] < 400; ++bin) {
      const double watts = part.radiant_flux_w * part.per_watt.power[static_cast<int>(bin)];
      sum.all += watts;
      if (kBinEdgesNm[bin + 1] <= 290) sum.below_290 += watts;
      if (kBinEdgesNm[bin + 1] <= 280) sum.uvc += watts;
    }
    sum.uvi += part.radiant_flux_w * part.per_watt.total(Quantity::uvi);
    sum.lux += part.radiant_flux_w * part.per_watt.total(Quantity::lux);
  }
  return sum;
}

// Perches whose UV index is as wanted, and of which this lamp gives a tenth or more.
std::vector<std::string> perches_with_good_index(const Survey& survey, const Lamp& lamp) {
  std::vector<std::string> names;
  for (const Reading& reading : survey.readings)
    for (const WantResult& want : reading.wants)
      if (reading.kind == ReadingKind::perch && want.want.quantity == Quantity::uvi &&
          want.verdict == Verdict::met &&
          reading.by_lamp.at(lamp.name).at(Quantity::uvi) > 0.1 * reading.values.at(Quantity::uvi).value)
        names.push_back(reading.name);
  return names;
}

void add_hidden(const Survey& survey, Cautions& cautions) {
  constexpr double kTrace = 1e-3, kUnseenLuxPerUvi = 50;
  for (const Lamp& lamp : survey.scene.lamps) {
    if (!gives_ultraviolet(lamp)) continue;
    const Ultraviolet found = ultraviolet_of(lamp);
    if (found.below_290 > kTrace * found.all) {
      const std::vector<std::string> good = perches_with_good_index(survey, lamp);
      cautions.push_back(
          {"short-wave",
           fmt::format(
               "'{}' sends {} % of its ultraviolet below 290 nm{}: a good UV index{} does not make it safe.",
               lamp.name, print_number(100 * found.below_290 / found.all, 2),
               found.uvc > kTrace * found.all
                   ? fmt::format(" ({} % below 280 nm, UVC)", print_number(100 * found.uvc / found.all, 2))
                   : "",
               good.empty() ? "" : " at " + names_of(good)),
           "Sunlight at the ground holds next to nothing of it; lamps that did hurt the eyes and skin of "
           "reptiles "
           "(Gardiner et al. 2009)."});
    }
    const bool guessed = std::any_of(lamp.fixture->parts.begin(), lamp.fixture->parts.end(),
                                     [](const LampPart& part) { return part.guessed; });
    if (guessed) {
      const std::vector<std::string> good = perches_with_good_index(survey, lamp);
      cautions.push_back(
          {"no-spectrum",
           fmt::format(
               "Nobody has declared the spectrum of '{}': a guess stands in for it. A good UV index{} does "
               "not show that the lamp is safe.",
               lamp.name, good.empty() ? "" : " at " + names_of(good)),
           "The same index can hide light below 290 nm that harms; do not use a lamp of unknown spectrum."});
    }
    if (found.lux < kUnseenLuxPerUvi * found.uvi)
      cautions.push_back(
          {"unseen",
           fmt::format("'{}' sends ultraviolet and hardly any visible light: nobody sees that it is on.",
                       lamp.name),
           "Neither the animal nor you will turn away from it in time."});
  }
}

struct Dim {
  bool found = false;
  double from_h = 0, to_h = 0;
  double uvi = 0, lux = 0;  // where the light is poorest for its ultraviolet

  void look(double at_uvi, double at_lux, double at_h) {
    if (at_uvi < kUviThatMatters || at_lux >= kBrightLuxPerUvi * at_uvi) return;
    if (!found) from_h = at_h;
    to_h = at_h + kClockStepH;
    if (!found || at_lux * uvi < lux * at_uvi) uvi = at_uvi, lux = at_lux;
    found = true;
  }
};

void add_without_light(const Survey& survey, Cautions& cautions) {
  const std::vector<ClockReadings>& clock = survey.day.clock.readings;
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    if (reading.kind != ReadingKind::perch) continue;
    Dim dim;
    for (std::size_t k = 0; k < kClockMoments && !clock.empty(); ++k)
      dim.look(clock[i][0][k], clock[i][3][k], static_cast<double>(k) * kClockStepH);
    if (clock.empty())
      dim.look(reading.values.at(Quantity::uvi).value, reading.values.at(Quantity::lux).value, 0);
    if (!dim.found) continue;
    const std::string when = clock.empty()
                                 ? ""
                                 : fmt::format(" at times between {} and {}", print_clock_time(dim.from_h),
                                               print_clock_time(dim.to_h));
    cautions.push_back(
        {"uv-without-light",
         fmt::format("'{}' gets ultraviolet without bright light{}: {} lx at a UV index of {}.", reading.name,
                     when, print_number(dim.lux), print_number(dim.uvi)),
         "Sunlight brings 10 000 lx or more with each unit of the index; with less than a tenth of that "
         "pupils stay "
         "wide and nothing tells the animal that it is exposed (the limit: common practice, no source)."});
  }
}

}  // namespace

void add_ultraviolet(const Survey& survey, Cautions& cautions) {
  static_assert(kClockQuantities[0] == Quantity::uvi && kClockQuantities[3] == Quantity::lux);
  add_hidden(survey, cautions);
  add_without_light(survey, cautions);
}

}  // namespace boughlight
