// boughlight fixture NAME-or-FILE

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include "assess/exposure.h"
#include "assess/facts.h"
#include "assess/lamp_sheet.h"
#include "commands.h"
#include "report/inventory.h"
#include "scene/load.h"
#include "terminal.h"

namespace boughlight::cli {
namespace {

constexpr double kInch = 0.0254;
constexpr double kCautionDistance = 0.3;

std::vector<double> shown_distances() {
  return {0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0};
}

double reading(const AxisReading& at, Quantity quantity) {
  return at.reading[static_cast<std::size_t>(quantity)];
}

std::string duration_text(double seconds) {
  if (seconds < 60) return print_number(seconds, 2) + " s";
  if (seconds < 3600) return print_number(seconds / 60, 2) + " min";
  return print_number(seconds / 3600, 2) + " h";
}

std::string half_angle_text(const LampSheet& sheet) {
  const auto angle_text = [](const std::optional<double>& angle) {
    return angle ? fmt::format("{:.0f} deg", *angle * 180 / std::numbers::pi) : "never";
  };
  const std::string along = angle_text(sheet.half_angle_along), across = angle_text(sheet.half_angle_across);
  if (along != across) return fmt::format("{} from the axis along the emitter, {} across it", along, across);
  return sheet.half_angle_along ? along + " from the axis" : "never falls to half of that on the axis";
}

std::string heading_text(const Fixture& fixture, const LampSheet& sheet) {
  std::string text = set_in_columns(fixture.title, 0, 0) + "\n\n";
  text += item("name", fixture.name);
  text += item("emitter", fixture.emitter->describe());
  text += item("distribution", fixture.distribution);
  if (const auto& body = fixture.body) {
    text +=
        item("body", fmt::format("{} x {} x {} cm (length, width, height) behind the emitter, stops light",
                                 print_number(100 * body->length), print_number(100 * body->width),
                                 print_number(100 * body->height)));
  }
  text += item("half intensity", half_angle_text(sheet));
  if (fixture.power_w) text += item("takes", print_number(*fixture.power_w) + " W");
  return text + item("source", fixture.source);
}

// What is less than a millionth of `whole` is as good as nothing, and its digits say nothing.
std::string amount(double value, double whole) {
  return value < 1e-6 * whole ? "0" : print_number(value);
}

std::string parts_text(const LampSheet& sheet) {
  std::string text =
      fmt::format("\nRadiates, new and at 100 %\n  {:<14}{:>9}{:>9}{:>9}{:>9}{:>9}{:>10}{:>9}\n", "part",
                  "total W", "UVB mW", "UVA mW", "vis. W", "infr. W", "lm", "umol/s");
  std::vector<PartSheet> rows = sheet.parts;
  if (rows.size() > 1) rows.push_back(sheet.whole);
  const PartSheet& whole = sheet.whole;
  const double watts = whole.radiant_flux_w;
  for (const PartSheet& part : rows) {
    text += fmt::format("  {:<14.14}{:>9}{:>9}{:>9}{:>9}{:>9}{:>10}{:>9}\n", part.name,
                        print_number(part.radiant_flux_w), amount(1e3 * part.uvb_w, watts),
                        amount(1e3 * part.uva_w, watts), amount(part.visible_w, watts),
                        amount(part.infrared_w, watts), amount(part.luminous_flux_lm, whole.luminous_flux_lm),
                        amount(part.photon_flux_umol_s, whole.photon_flux_umol_s));
  }
  return text;
}

std::string excess_text(const Fixture& fixture) {
  if (!fixture.radiates_too_much()) return "";
  return "\n" +
         set_in_columns(fmt::format("That is more than the {} W that it takes: its 'output' or its "
                                    "'power' is wrong, and so may be all that follows.",
                                    print_number(*fixture.power_w)),
                        2, 2) +
         "\n";
}

std::string distances_text(const LampSheet& sheet) {
  std::string text = fmt::format(
      "\nOn the axis in free air, no screen, the sensor facing the lamp, from its centre\n"
      "  {:>4}{:>7}{:>9}{:>11}{:>10}{:>10}{:>11}{:>14}\n",
      "cm", "inch", "UVI", "lux", "PPFD", "W/m2", "UVB", "limit for");
  text += fmt::format("  {:>4}{:>7}{:>9}{:>11}{:>10}{:>10}{:>11}{:>14}\n", "", "", "", "", "umol/m2/s", "",
                      "uW/cm2", "eyes and skin");
  for (const AxisReading& at : sheet.on_axis) {
    const auto limit = actinic_limit_seconds(reading(at, Quantity::actinic));
    text += fmt::format(
        "  {:>4.0f}{:>7.1f}{:>9}{:>11}{:>10}{:>10}{:>11}{:>14}\n", 100 * at.distance_m, at.distance_m / kInch,
        amount(reading(at, Quantity::uvi), 1), amount(reading(at, Quantity::lux), 1),
        amount(reading(at, Quantity::ppfd), 1), amount(reading(at, Quantity::irradiance), 1),
        amount(100 * reading(at, Quantity::uvb), 1), limit ? duration_text(*limit) : "over 8 h");
  }
  return text;
}

// One section of the chart, its bars scaled to its own greatest power per nm; nothing where the lamp has less
// than a millionth of its power.
std::string spectrum_section(const LampSheet& sheet, const char* title, double from_nm, double to_nm,
                             const char* share_name, double SpectrumStretch::*share) {
  constexpr double kBarColumns = 36;
  std::vector<SpectrumStretch> rows;
  double power_w = 0, greatest = 0;
  for (const SpectrumStretch& row : sheet.spectrum) {
    if (row.from_nm < from_nm || row.to_nm > to_nm) continue;
    rows.push_back(row);
    power_w += row.power_w;
    greatest = std::max(greatest, row.power_w / (row.to_nm - row.from_nm));
  }
  if (!(power_w > 1e-6 * sheet.whole.radiant_flux_w)) return "";
  const auto dark = [&](const SpectrumStretch& row) {
    const bool counts = share != nullptr && row.*share >= 0.0005;
    return !counts && row.power_w <= 1e-3 * greatest * (row.to_nm - row.from_nm);
  };
  rows.erase(rows.begin(), std::find_if_not(rows.begin(), rows.end(), dark));
  rows.erase(std::find_if_not(rows.rbegin(), rows.rend(), dark).base(), rows.end());

  std::string text = fmt::format("  {:<52}{:>10}", title, "mW/nm");
  text += share != nullptr ? fmt::format("{:>15}\n", share_name) : "\n";
  for (const SpectrumStretch& row : rows) {
    const double density = row.power_w / (row.to_nm - row.from_nm);
    const auto columns = static_cast<std::size_t>(std::lround(kBarColumns * density / greatest));
    const std::string range = fmt::format("{:.0f}-{:.0f}", row.from_nm, row.to_nm);
    text += fmt::format("  {:>11} nm  {:<36}{:>10}", range, std::string(columns, '#'),
                        print_number(1e3 * density));
    if (share != nullptr) text += fmt::format("{:>13.1f} %", 100 * row.*share);
    text += '\n';
  }
  return text;
}

std::string spectrum_text(const LampSheet& sheet) {
  std::string text = "\nSpectrum, lines included; the bars of each range have a scale of their own\n";
  text += spectrum_section(sheet, "ultraviolet", 250, 400, "of its UVI", &SpectrumStretch::uvi_share);
  text += spectrum_section(sheet, "visible", 400, 700, "of its lux", &SpectrumStretch::lux_share);
  return text + spectrum_section(sheet, "infrared", 700, 25000, "", nullptr);
}

std::vector<std::string> cautions(const LampSheet& sheet) {
  std::vector<std::string> list;
  const auto near = std::find_if(sheet.on_axis.begin(), sheet.on_axis.end(), [](const AxisReading& at) {
    return at.distance_m >= kCautionDistance - 1e-9;
  });
  if (near != sheet.on_axis.end()) {
    if (const auto limit = actinic_limit_seconds(reading(*near, Quantity::actinic))) {
      list.push_back(
          fmt::format("Eyes and skin: at {:.0f} cm the limit for people (30 J/m2 actinic in 8 h, ICNIRP "
                      "2004) is used up in {}. "
                      "Wear goggles that block ultraviolet, never look into the lamp, and switch it off to "
                      "work in the enclosure.",
                      100 * near->distance_m, duration_text(*limit)));
    }
  }
  if (sheet.whole.uvb_w + sheet.whole.uvc_w > 0) {
    list.push_back(
        "The declared spectrum and output are taken on trust: lamps of one type differ by 15 to 20 %, and a "
        "UV index "
        "says nothing of the spectrum behind it. Measure yours before an animal goes in.");
  }
  if (sheet.shortest_ultraviolet_nm && *sheet.shortest_ultraviolet_nm < 290) {
    list.push_back(
        fmt::format("It radiates down to about {:.0f} nm, shorter than sunlight at the ground (about 290 "
                    "nm): such light can "
                    "harm eyes and skin at an innocent UV index.",
                    *sheet.shortest_ultraviolet_nm));
  }
  const auto cooler = std::find_if(sheet.on_axis.begin(), sheet.on_axis.end(), [](const AxisReading& at) {
    return reading(at, Quantity::irradiance) <= kFullSun_w_m2;
  });
  if (cooler != sheet.on_axis.begin() && !sheet.on_axis.empty()) {
    list.push_back(
        cooler == sheet.on_axis.end()
            ? "Heat: at every distance shown its radiation is stronger than full sun (1000 W/m2)."
            : fmt::format("Heat: nearer than about {:.0f} cm its radiation is stronger than full sun "
                          "(1000 W/m2).",
                          100 * cooler->distance_m));
  }
  return list;
}

int run_fixture(const std::string& name_or_file, const CommonOptions& options) {
  const auto fixture = load_fixture(name_or_file, std::filesystem::path());
  const LampSheet sheet = lamp_sheet(*fixture, shown_distances());
  if (options.json) {
    put(lamp_sheet_json(*fixture, sheet) + "\n");
    return kAllMet;
  }
  if (options.quiet) return kAllMet;
  put(heading_text(*fixture, sheet) + parts_text(sheet) + excess_text(*fixture) + distances_text(sheet) +
      spectrum_text(sheet));
  const std::vector<std::string> notes = cautions(sheet);
  if (!notes.empty()) put("\nCautions\n");
  for (const std::string& note : notes) put("  " + set_in_columns(note, 2, 2) + "\n");
  return kAllMet;
}

}  // namespace

Run declare_fixture(CLI::App& app) {
  auto name = std::make_shared<std::string>();
  app.add_option("LAMP", *name, "A name of the library, or a fixture file")->required()->type_name("FIXTURE");
  app.footer(
      "Examples:\n"
      "  boughlight fixture tube-uv-55            one that 'library' lists\n"
      "  boughlight fixture lamps/my-tube.yaml    a file of your own\n"
      "  boughlight fixture tube-uv-55 --json\n"
      "\n"
      "Readings are on the lamp's axis in free air with no screen, the sensor facing\n"
      "the lamp, as a data sheet or a meter on a stand gives them.");
  return [name](const CommonOptions& options) { return run_fixture(*name, options); };
}

}  // namespace boughlight::cli
