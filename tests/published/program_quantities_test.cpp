// The whole program on quantities: what a sensor 50 cm under small lamps reads, in every unit. Each lamp is a
// point whose output is anchored there, so that no figure has a sampling error.
#include <cmath>
#include <fstream>

#include "published/program_scene.h"

namespace boughlight {
namespace {

void add_sensor(ProgramScene& scene) {
  scene.add_point("s", {0.5, 0.5, 0.4});
}

struct QuantityRow {
  const char* what;
  const char* source;
  const char* lamp;
  const char* quantity;
  double expected;
  double relative;
  const char* why;
};

void expect_rows(const ProgramReadings& readings, const std::vector<QuantityRow>& rows) {
  for (const QuantityRow& row : rows)
    expect_reading(row.what, row.source, row.expected, {readings.by_lamp("s", row.lamp, row.quantity), 0}, 1,
                   row.relative, row.why);
}

TEST(ProgramQuantities, UltravioletOfLinesOfOneWattPerSquareMetre) {
  formula("Erythemal weighting of ISO/CIE 17166 and the UV index");
  ProgramScene scene;
  for (const char* nm : {"254", "270", "296.73", "298", "300", "302.15", "313", "334.15", "365.02"})
    add_small_lamp(scene, std::string("l") + nm, std::string("lines: [[") + nm + " nm, 1]]",
                   "irradiance: 1 W/m2");
  add_sensor(scene);
  const ProgramReadings readings(scene);
  const char* iso = "ISO/CIE 17166, 40 m2/W x erythemal; computed from the formula";
  const char* icnirp = "ICNIRP 2004, Health Phys. 87:171-186, table";
  const char* cie = "CIE 174:2006, table";
  expect_rows(readings, {{"UVI of 296.73 nm", iso, "l296.73", "uvi", 40, 3e-5, kDigits},
                         {"UVI of 302.15 nm", iso, "l302.15", "uvi", 16.2915, 3e-5, kDigits},
                         {"UVI of 313 nm", iso, "l313", "uvi", 1.55618, 3e-5, kDigits},
                         {"UVI of 334.15 nm", iso, "l334.15", "uvi", 0.0489565, 3e-5, kDigits},
                         {"UVI of 365.02 nm", iso, "l365.02", "uvi", 0.0168562, 3e-5, kDigits}});
  formula("Actinic hazard table of ICNIRP 2004");
  expect_rows(readings, {{"actinic at 254 nm, W/m2", icnirp, "l254", "actinic", 0.50, 3e-5, kDigits},
                         {"actinic at 270 nm, W/m2", icnirp, "l270", "actinic", 1, 3e-5, kDigits},
                         {"actinic at 300 nm, W/m2", icnirp, "l300", "actinic", 0.30, 3e-5, kDigits},
                         {"actinic at 313 nm, W/m2", icnirp, "l313", "actinic", 0.0060, 3e-5, kDigits}});
  formula("Pre-vitamin D3 action spectrum of CIE 174");
  expect_rows(readings, {{"D3 at 298 nm, W/m2", cie, "l298", "d3", 1, 3e-5, kDigits},
                         {"D3 at 270 nm, W/m2", cie, "l270", "d3", 0.195, 3e-5, kDigits},
                         {"D3 at 313 nm, W/m2", cie, "l313", "d3", 0.083, 3e-5, kDigits}});
  // Each watt is in one band of UVC, UVB and UVA.
  for (const auto& [lamp, band] : {std::pair{"l254", "uvc"}, {"l300", "uvb"}, {"l334.15", "uva"}})
    for (const char* other : {"uvc", "uvb", "uva"})
      EXPECT_NEAR(readings.by_lamp("s", lamp, other), other == std::string(band) ? 1 : 0, 3e-5)
          << lamp << other;
}

TEST(ProgramQuantities, UvIndexOfAFlatSpectrum) {
  formula("UV index of a flat spectrum");
  // 1 mW/(m2 nm) over 280 to 400 nm.
  ProgramScene scene;
  add_small_lamp(scene, "flat", "table: [[280 nm, 1], [400 nm, 1]]", "irradiance: 0.12 W/m2");
  add_sensor(scene);
  expect_rows(ProgramReadings(scene),
              {{"UVI of a flat spectrum", "ISO/CIE 17166; integral of the formula", "flat", "uvi", 0.906134,
                2e-4, "2e-4: the integral is by steps of at most 1 nm"}});
}

TEST(ProgramQuantities, PhotonsAndLumensOfLines) {
  formula("Photons per joule");
  ProgramScene scene;
  for (const char* nm : {"450", "550", "555", "660"})
    add_small_lamp(scene, std::string("l") + nm, std::string("lines: [[") + nm + " nm, 1]]",
                   "irradiance: 100 W/m2");
  add_sensor(scene);
  const char* si = "photon energy h c / wavelength, CODATA 2018; computed from the formula";
  const char* cie = "CIE 1931 V, 683 lm/W (CIE e-ILV)";
  const ProgramReadings readings(scene);
  expect_rows(readings, {{"PPFD of 100 W/m2 at 450 nm", si, "l450", "ppfd", 376.171, 3e-5, kDigits},
                         {"PPFD of 100 W/m2 at 550 nm", si, "l550", "ppfd", 459.764, 3e-5, kDigits},
                         {"PPFD of 100 W/m2 at 660 nm", si, "l660", "ppfd", 551.717, 3e-5, kDigits}});
  formula("683 lm/W");
  expect_rows(readings, {{"lux of 100 W/m2 at 555 nm", cie, "l555", "lux", 68300, 3e-5,
                          "683.002 in air, and printed digits"},
                         {"lux of 100 W/m2 at 660 nm", cie, "l660", "lux", 68300 * 0.061, 3e-5, kDigits}});
}

TEST(ProgramQuantities, DayDoses) {
  formula("Daily light integral");
  // DLI = PPFD x 3600 x h / 1e6; UVI 1 for an hour is 90 J/m2 = 0.9 SED; at UVI 3 an SED takes 22.22 min.
  ProgramScene scene;
  const std::string uv = "lines: [[302.15 nm, 1]]", green = "lines: [[550 nm, 1]]";
  add_small_lamp(scene, "hundred", green, "ppfd: 100", "lit: \"07:00-19:00\"");
  add_small_lamp(scene, "five", green, "ppfd: 5", "lit: \"20:00-02:00, 01:00-08:00\"");
  add_small_lamp(scene, "hour", uv, "uvi: 1", "lit: \"12:00-13:00\"");
  add_small_lamp(scene, "three", uv, "uvi: 3", "lit: \"08:00-08:20, 10:00-10:20\"");
  add_sensor(scene);
  const ProgramReadings readings(scene);
  const char* dli = "DLI = PPFD x 3600 x hours / 1e6; exact";
  const char* sed = "1 SED = 100 J/m2 erythemal (ISO/CIE 17166); exact";
  expect_rows(readings, {{"DLI of 100 umol/(m2 s) for 12 h", dli, "hundred", "dli", 4.32, 3e-5, kDigits},
                         {"DLI of 5 umol/(m2 s) for 12 h", dli, "five", "dli", 0.216, 3e-5, kDigits}});
  formula("Standard erythemal dose");
  expect_rows(readings, {{"SED of UVI 1 for 1 h", sed, "hour", "sed", 0.9, 3e-5, kDigits},
                         {"UVI-hours of UVI 1 for 1 h", sed, "hour", "uvi_hours", 1, 3e-5, kDigits},
                         {"SED of UVI 3 for 40 min", sed, "three", "sed", 40 / 22.2222, 3e-5, kDigits},
                         {"UVI-hours of UVI 3 for 40 min", sed, "three", "uvi_hours", 2, 3e-5, kDigits}});
  expect_reading("SED of the day, all lamps", sed, 2.7, readings.value("s", "sed"), 1e-5);
  formula("Daily light integral");
  expect_reading("DLI of the day, all lamps", dli, 4.536, readings.value("s", "dli"), 1e-5);
}

// A spectrum of the package colord-data (CGATS text) as CSV, over 300 nm and up.
std::string illuminant_csv(const std::string& name) {
  const std::string path = "/usr/share/colord/illuminant/CIE-" + name + ".sp";
  std::ifstream in(path);
  EXPECT_TRUE(in) << "there is no " << path << ": install the Debian package colord-data";
  double start = 0, end = 0;
  std::vector<double> values;
  std::string word;
  while (in >> word && word != "BEGIN_DATA") {
    if (word == "SPECTRAL_START_NM") in >> start;
    if (word == "SPECTRAL_END_NM") in >> end;
  }
  while (in >> word && word != "END_DATA") values.push_back(std::stod(word));
  std::string csv;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double nm = start + (end - start) * static_cast<double>(i) / static_cast<double>(values.size() - 1);
    csv += std::to_string(nm) + "," + std::to_string(values[i]) + "\n";
  }
  return csv;
}

TEST(ProgramQuantities, LuxPerPpfdOfIlluminantsFromFiles) {
  formula("Lux per photon flux of CIE illuminants (tables of colord-data)");
  struct Source {
    const char* name;
    double computed, published;
    const char* of;
  };
  const std::vector<Source> sources = {
      {"A", 50.26, 50, "incandescent"}, {"D65", 55.50, 54, "sun and sky"}, {"F2", 76.46, 74, "cool white"}};
  ProgramScene scene;
  for (const Source& source : sources) {
    scene.files[std::string(source.name) + ".csv"] = illuminant_csv(source.name);
    add_small_lamp(scene, std::string("lamp ") + source.name, std::string("file: ") + source.name + ".csv",
                   "ppfd: 100");
  }
  add_small_lamp(scene, "planck", "blackbody: 2856 K", "ppfd: 100");
  add_sensor(scene);
  const ProgramReadings readings(scene);
  const auto lux = [&](const std::string& lamp) { return Printed{readings.by_lamp("s", lamp, "lux"), 0}; };
  for (const Source& source : sources) {
    const std::string lamp = std::string("lamp ") + source.name;
    formula("Lux per photon flux of CIE illuminants (tables of colord-data)");
    expect_reading(lamp + ", lux of 100 umol/(m2 s)", "integral of colord-data's table at 1 nm",
                   100 * source.computed, lux(lamp), 1, 3e-3, "3e-3: 1 nm or 5 nm, and where the tables end");
    formula("Lux per photon flux of Thimijan and Heins 1983");
    expect_reading(lamp + ", lux of 100 umol/(m2 s), as printed",
                   std::string("Thimijan & Heins 1983, HortScience "
                               "18:818-822, ") +
                       source.of,
                   100 * source.published, lux(lamp), 1, 0.05, "5 %: not the same lamp or sky");
  }
  expect_reading("2856 K, lux of 100 umol/(m2 s)", "Planck's law and V; computed", 5026, lux("planck"), 1,
                 3e-3, "3e-3: digits given and the step of integration");
}

TEST(ProgramQuantities, BandsOfABlackBody) {
  formula("Shares of a black body's radiation in bands");
  // Shares of Planck's law at 2856 K: 1.2477e-3 in 315 to 400 nm, 7.023e-5 in 280 to 315 nm, 0.93339 beyond
  // 700 nm. Of the light up to 25 um, beyond which 3.97e-4 lies (sum of the series at 71,400 um K).
  ProgramScene scene;
  add_small_lamp(scene, "body", "blackbody: 2856 K", "irradiance: 1000 W/m2");
  add_sensor(scene);
  const double z = 0.01438776877e6 / 71400;
  double inside = 0;  // the share below 25 um
  for (int n = 1; n < 400; ++n)
    inside += std::exp(-n * z) *
              (z * z * z / n + 3 * z * z / (n * n) + 6 * z / std::pow(n, 3) + 6 / std::pow(n, 4));
  inside *= 15 / std::pow(M_PI, 4);
  const char* planck = "Planck's law; sum of the series";
  const char* why = "2e-4: digits given and the step of integration";
  expect_rows(ProgramReadings(scene),
              {{"UVA of 1000 W/m2, 2856 K", planck, "body", "uva", 1000 * 1.2477e-3 / inside, 5e-4, why},
               {"UVB of 1000 W/m2, 2856 K", planck, "body", "uvb", 1000 * 7.023e-5 / inside, 5e-4, why},
               {"infrared of 1000 W/m2, 2856 K", planck, "body", "infrared",
                1000 * (0.93339 - 1 + inside) / inside, 2e-4, why}});
}

TEST(ProgramQuantities, AnAnchoredLampReadsItsDataSheetWhereItSays) {
  formula("A lamp reads its data sheet where the data sheet says");
  // Near lamps of every shape, at full and dimmed: the anchor is what a meter would read there.
  ProgramScene scene;
  const std::string uv = "bands: [{at: 320 nm, width: 30 nm, from: 292 nm, weight: 1}]";
  const std::vector<std::array<const char*, 3>> lamps = {
      {"tube", "shape: tube, length: 53 cm, diameter: 16 mm", "form: trough, cutoff: 70 deg"},
      {"bare", "shape: tube, length: 53 cm, diameter: 26 mm", ""},
      {"disc", "shape: disc, diameter: 20 cm", "form: cosine-power, half_angle: 20 deg"},
      {"panel", "shape: rectangle, length: 50 cm, width: 30 cm", ""},
      {"ball", "shape: sphere, diameter: 10 cm", ""}};
  double x = 0.5;
  for (const auto& [name, emitter, form] : lamps) {
    scene.add_lamp(name, emitter, form, "uvi: 4, at: 30 cm", {x, 0.5, 0.9}, "dim: 50 %", uv);
    scene.add_point(std::string("at ") + name, {x, 0.5, 0.6});
    x += 20;
  }
  const ProgramReadings readings(scene);
  for (const auto& [name, emitter, form] : lamps)
    expect_reading(std::string(name) + ", UVI at 30 cm, dimmed to a half", "its own declaration; exact", 2,
                   {readings.by_lamp(std::string("at ") + name, name, "uvi"),
                    readings.value(std::string("at ") + name, "uvi").se},
                   4e-3);
}

}  // namespace
}  // namespace boughlight
