#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/fit_report.h"
#include "report/summary_parts.h"
#include "report/text.h"

namespace boughlight {
namespace {

// Miss of readings that needs no explaining, root mean square in standard deviations.
constexpr double kSmallMiss = 1.5;

std::string meter_place_name(const MeterReading& reading, const LengthUnit& unit) {
  return reading.place.empty() ? place_text(unit, reading.at) : reading.place;
}

std::string by_percent(double factor) {
  const double percent = 100 * (factor - 1);
  if (std::abs(percent) < 0.5) return "as declared";
  return fmt::format("{} % {}", print_number(std::abs(percent), 2), percent > 0 ? "more" : "less");
}

std::string raised(const LengthUnit& unit, double shift) {
  return unit.text(std::abs(shift)) + (shift > 0 ? " higher" : " lower");
}

// After "would be": "'uv tube' gives 12 % less than declared".
std::string cause_text(const FitCause& cause, const LengthUnit& unit) {
  switch (cause.kind) {
    case FitKind::lamp:
      return fmt::format("{} gives {}", quoted(cause.name), by_percent(cause.shift));
    case FitKind::part:
      return fmt::format("the {} of {} is {}", cause.part, quoted(cause.name), by_percent(cause.shift));
    case FitKind::mesh:
      return fmt::format("a layer of {} lets through {}", quoted(cause.name), by_percent(cause.shift));
    case FitKind::reflected:
      return fmt::format("walls and leaves reflect {}", by_percent(cause.shift));
    case FitKind::room:
      return fmt::format("the room's light is {}", by_percent(cause.shift));
    case FitKind::lamp_height:
      return fmt::format("{} hangs {}", quoted(cause.name), raised(unit, cause.shift));
    case FitKind::height:
      return fmt::format("{} is {}", quoted(cause.name), raised(unit, cause.shift));
    case FitKind::meter:
      return fmt::format("the meter shows {} of {}", by_percent(cause.shift), cause.name);
  }
  return "";
}

std::string guess_text(const FitGuess& guess) {
  switch (guess.kind) {
    case FitGuess::Kind::place:
      return fmt::format("it would fit at {}", quoted(guess.name));
    case FitGuess::Kind::lamps:
      return guess.name.empty() ? "it would fit with all lamps lit"
                                : fmt::format("it would fit with only {} lit", quoted(guess.name));
    case FitGuess::Kind::screen:
      return "it would fit with the screen the other way, on or off";
    case FitGuess::Kind::upwards:
      return "it would fit a sensor that looks straight up";
    case FitGuess::Kind::scale:
      return std::abs(guess.factor - 1 / 10.764) < 1e-6 || std::abs(guess.factor - 10.764) < 1e-6
                 ? "it would fit if lux and foot-candles were mixed up"
                 : fmt::format("it would fit with the decimal point elsewhere (times {}), or another unit",
                               print_number(guess.factor));
    case FitGuess::Kind::low_alone:
      return "it is low: a wet, dirty or shaded sensor reads low";
    case FitGuess::Kind::low_together:
      return "all that was read at this place is low: the sensor was shaded, wet or turned away";
  }
  return "";
}

void put_readings(std::string& out, const Fit& fit, const LengthUnit& unit) {
  out += "\nReadings                          read  declared    fitted  off by\n";
  for (const FitReading& reading : fit.readings) {
    const MeterReading& read = reading.reading;
    const std::string name = left_aligned(meter_place_name(read, unit), 17);
    const std::string what = left_aligned(std::string(info(read.quantity).name), 10);
    const std::string mark = reading.at_odds   ? "  at odds"
                             : reading.used    ? ""
                             : reading.outlier ? "  left out"
                                               : "  cold: left out";
    out += fmt::format("  {} {}{:>8}{:>10}{:>10}{:>8.1f}{}\n", name, what, print_number(read.value),
                       print_number(reading.declared), print_number(reading.fitted), reading.miss, mark);
  }
  put_wrapped(out,
              "(Off by: from what all other readings and the declared doubts say, in standard deviations; "
              "the meter's "
              "own scale is taken out.)",
              "  ", "  ");
}

// The readings of which `told` is true, under a heading, each with what may be behind it.
void put_odd(std::string& out, const Fit& fit, const LengthUnit& unit, bool FitReading::*told,
             const char* heading) {
  if (std::none_of(fit.readings.begin(), fit.readings.end(),
                   [told](const FitReading& reading) { return reading.*told; }))
    return;
  out += heading;
  for (const FitReading& reading : fit.readings) {
    if (!(reading.*told)) continue;
    const MeterReading& read = reading.reading;
    std::string text =
        fmt::format("{}, {} {} (line {}): {} expected", shortened(meter_place_name(read, unit), kNameColumns),
                    info(read.quantity).name, print_number(read.value), read.mark.line,
                    unbroken(value_text(read.quantity, reading.expected)));
    for (const FitGuess& guess : reading.guesses) text += "; " + guess_text(guess);
    put_wrapped(out, text + ".", "  ", "    ");
  }
}

void put_causes(std::string& out, const Fit& fit, const LengthUnit& unit) {
  out += "\nWhat explains it best\n";
  if (fit.causes.empty()) return;
  const FitCause& best = fit.causes.front();
  if (best.nothing || fit.miss_before < kSmallMiss) {
    put_wrapped(out,
                "The readings agree with what was declared, within the meter's doubt: nothing stands out.",
                "  ", "  ");
    if (best.nothing) return;
  }
  constexpr double kNearlyAsGood = 0.25;  // of the best one's share
  for (std::size_t i = 0; i < std::min<std::size_t>(fit.causes.size(), 4); ++i) {
    const FitCause& cause = fit.causes[i];
    if (cause.nothing || cause.share < kNearlyAsGood * best.share) continue;
    put_wrapped(out,
                fmt::format("{}{} ({} of the single causes' probability).",
                            i == 0 ? "If one thing alone is off: " : "About as likely: ",
                            cause_text(cause, unit), unbroken(percent(std::round(100 * cause.share) / 100))),
                "  ", "    ");
  }
  if (best.miss > 2 * kSmallMiss)
    put_wrapped(out, "No single cause explains all readings: several things are off, or a reading is wrong.",
                "  ", "  ");
}

void put_factors(std::string& out, const Fit& fit, const LengthUnit& unit) {
  out += "\nFound (with what holds in 19 of 20 cases)\n";
  const auto put = [&](const FitFactor& factor, const std::string& verb) {
    const std::string part = factor.part.empty() ? "" : ", " + factor.part;
    const auto share = [](double sd) { return unbroken(percent(std::round(1000 * sd) / 1000)); };
    const std::string doubt =
        !factor.learned ? "the readings say next to nothing of it"
        : factor.sd_after < factor.sd_before
            ? fmt::format("known to {}, before to {}", share(factor.sd_after), share(factor.sd_before))
            : fmt::format("known to {}; the {} as declared did not hold", share(factor.sd_after),
                          share(factor.sd_before));
    put_wrapped(
        out,
        fmt::format("{}{} {} times {} ({} to {}); {}.", shortened(factor.name, kNameColumns), part, verb,
                    print_number(factor.factor), print_number(factor.low), print_number(factor.high), doubt),
        "  ", "    ");
  };
  for (const FitFactor& factor : fit.lamps) put(factor, "gives");
  for (const FitFactor& factor : fit.meshes) put(factor, "lets through");
  for (const FitHeight& height : fit.heights)
    if (height.learned)
      put_wrapped(out,
                  fmt::format("{} {} {} than declared; known to {}, before to {}.",
                              shortened(height.name, kNameColumns), height.of_lamp ? "hangs" : "is",
                              raised(unit, height.shift), unbroken(unit.text(height.sd_after)),
                              unbroken(unit.text(height.sd_before))),
                  "  ", "    ");
  for (const FitFactor& factor : fit.meters)
    put_wrapped(out,
                fmt::format("The meter's own scale of {} may be {} to {} of the truth.", factor.name,
                            unbroken(percent(std::round(100 * factor.low) / 100)),
                            unbroken(percent(std::round(100 * factor.high) / 100))),
                "  ", "    ");
}

void put_bands(std::string& out, const Fit& fit) {
  out += "\nWhat that makes of the figures asked for\n";
  for (const FitBand& band : fit.bands) {
    const auto figure = [&](double value, double low, double high) {
      return fmt::format("{} ({} to {})", unbroken(value_text(band.quantity, value)), print_number(low),
                         print_number(high));
    };
    const bool asked = band.limits.min || band.limits.max;
    put_wrapped(
        out,
        fmt::format(
            "{}, {}: {} as declared, {} now{}.", shortened(band.reading, kNameColumns),
            info(band.quantity).label, figure(band.before, band.before_low, band.before_high),
            figure(band.after, band.after_low, band.after_high),
            asked ? "; wanted " + limits_text(band.limits, 1, std::string(info(band.quantity).unit)) : ""),
        "  ", "    ");
  }
}

}  // namespace

std::string fit_summary(const Scene& scene, const Fit& fit) {
  const LengthUnit unit(scene.length_unit);
  const auto used =
      std::count_if(fit.readings.begin(), fit.readings.end(), [](const FitReading& r) { return r.used; });
  const auto cold = std::count_if(fit.readings.begin(), fit.readings.end(),
                                  [](const FitReading& r) { return !r.used && !r.outlier; });
  const auto outliers = std::ssize(fit.readings) - used - cold;
  const auto at_odds =
      std::count_if(fit.readings.begin(), fit.readings.end(), [](const FitReading& r) { return r.at_odds; });
  std::string out = shortened("Fit: " + (scene.title.empty() ? scene.file : scene.title), kColumns) + "\n\n";
  std::string head = fmt::format("{} of {} {} fit together", used - at_odds, fit.readings.size(),
                                 fit.readings.size() == 1 ? "reading" : "readings");
  if (at_odds > 0)
    head += fmt::format("; {} at odds with the rest, and too few were taken to tell which {} wrong", at_odds,
                        fit.readings.size() == 1 ? "is" : "are");
  if (outliers > 0)
    head += fmt::format("; {} left out as {}", outliers, outliers == 1 ? "an outlier" : "outliers");
  if (cold > 0) head += fmt::format("; {} left out: the lamps were cold", cold);
  if (fit.blank > 0)
    head += fmt::format("; {} {} without a reading", fit.blank, fit.blank == 1 ? "row" : "rows");
  put_wrapped(
      out,
      head +
          fmt::format(". They were off by {} standard deviations of the meter as declared, and are off by {} "
                      "now (root mean square; 1 or less is as good as a meter gets).",
                      print_number(fit.miss_before, 2), print_number(fit.miss_after, 2)),
      "", "");
  if (!fit.unread_columns.empty()) {
    std::string headers;
    for (const std::string& header : fit.unread_columns)
      headers += (headers.empty() ? "" : ", ") + quoted(header);
    put_wrapped(out,
                fmt::format("Nothing was read from {} {}.",
                            fit.unread_columns.size() == 1 ? "the column" : "the columns", headers),
                "", "");
  }
  put_readings(out, fit, unit);
  put_odd(out, fit, unit, &FitReading::outlier, "\nLeft out: these fit no other reading. Read them again\n");
  put_odd(out, fit, unit, &FitReading::at_odds,
          "\nAt odds with all else that is known. Read them again, and more besides\n");
  put_causes(out, fit, unit);
  put_factors(out, fit, unit);
  put_bands(out, fit);
  out += "\n";
  put_wrapped(out,
              "These are estimates from a meter that is itself in doubt. If a reading is above what the "
              "animal may get, "
              "switch that lamp off first.",
              "", "");
  return out;
}

}  // namespace boughlight
