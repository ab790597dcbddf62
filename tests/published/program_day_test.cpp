// The whole program on the day: ramps, infrared hours and hazard limits, from lamps whose output is anchored
// at the sensor.
#include <nlohmann/json.hpp>

#include "cli/program.h"
#include "published/program_scene.h"

namespace boughlight {
namespace {

TEST(ProgramDay, RampsTakeHalfOfEachEndOffTheDose) {
  formula("Dose of light that rises and falls along a line");
  ProgramScene scene;
  const std::string uv = "lines: [[302.15 nm, 1]]", green = "lines: [[550 nm, 1]]",
                    warm = "lines: [[1 um, 1]]";
  add_small_lamp(scene, "hundred", green, "ppfd: 100", "lit: \"07:00-19:00\", ramp: 1 h");
  add_small_lamp(scene, "night", green, "ppfd: 100", "lit: \"22:00-04:00\", ramp: 30 min");
  add_small_lamp(scene, "three", uv, "uvi: 3", "lit: \"08:00-09:00, 10:00-12:00\", ramp: 15 min");
  add_small_lamp(scene, "heat", warm, "irradiance: 200 W/m2", "lit: \"09:00-12:00\", ramp: 20 min");
  scene.add_point("s", {0.5, 0.5, 0.4});
  const ProgramReadings readings(scene);
  const char* area = "area of a trapezium: the span less one ramp; exact";
  const auto expect_dose = [&](const char* what, const char* lamp, const char* quantity, double expected) {
    expect_reading(what, area, expected, {readings.by_lamp("s", lamp, quantity), 0}, 1, 3e-5, kDigits);
  };
  expect_dose("DLI of 100 umol/(m2 s), 12 h with ramps of 1 h", "hundred", "dli", 100 * 11 * 3600e-6);
  expect_dose("DLI through midnight, 6 h with ramps of 30 min", "night", "dli", 100 * 5.5 * 3600e-6);
  expect_dose("UVI-hours, 1 h and 2 h with ramps of 15 min", "three", "uvi_hours", 3 * (0.75 + 1.75));
  expect_dose("SED of the same", "three", "sed", 3 * (0.75 + 1.75) * 0.9);
  expect_dose("infrared hours, kWh/m2", "heat", "infrared_hours", 0.2 * (3 - 1.0 / 3));
}

TEST(ProgramDay, HazardLimitsOfAKeeper) {
  formula("Exposure limits of ICNIRP 2004: 30 J/m2 actinic, 1e4 J/m2 of UVA");
  // 1 W/m2 of 270 nm is 1 W/m2 of actinic hazard: 30 J/m2 in 30 s. 10 W/m2 of 365 nm reach 1e4 J/m2 in 1000
  // s.
  struct Row {
    const char *what, *spectrum, *anchor, *key;
    double minutes;
  };
  from_the_whole_program();
  const char* icnirp = "ICNIRP 2004, Health Phys. 87:171-186";
  for (const Row& row : {Row{"minutes to 30 J/m2 at 270 nm", "lines: [[270 nm, 1]]", "irradiance: 1 W/m2",
                             "minutes_to_skin_limit", 0.5},
                         {"minutes to 30 J/m2 at 300 nm, weighted by 0.3", "lines: [[300 nm, 1]]",
                          "irradiance: 10 mW/m2", "minutes_to_skin_limit", 30 / 0.003 / 60},
                         {"minutes to 1e4 J/m2 of UVA", "lines: [[365 nm, 1]]", "irradiance: 10 W/m2",
                          "minutes_to_eye_limit", 1000.0 / 60}}) {
    ProgramScene scene;
    add_small_lamp(scene, "lamp", row.spectrum, row.anchor);
    scene.sections = "workplaces: [{name: w, at: [0.5, 0.5, 0.4], facing: up, daily: 1 min}]\n";
    const TemporaryFolder folder;
    for (const auto& [name, text] : scene.files) write_file(folder.path() / name, text);
    write_file(folder.path() / "scene.yaml", scene.text());
    const Outcome outcome = boughlight_run({"survey", folder / "scene.yaml", "--json"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const auto people = nlohmann::json::parse(outcome.out).at("people").at(0);
    expect_published({row.what, icnirp, row.minutes, people.at(row.key), 1e-4 * row.minutes, kDigits});
  }
}

}  // namespace
}  // namespace boughlight
