// boughlight library and boughlight fixture.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

std::set<std::string> names_of(const json& list) {
  std::set<std::string> names;
  for (const json& entry : list) names.insert(entry["name"].get<std::string>());
  return names;
}

std::set<std::string> yaml_names_in(const std::string& folder) {
  std::set<std::string> names;
  for (const auto& entry :
       fs::recursive_directory_iterator(fs::path(BOUGHLIGHT_SOURCE_DIR) / "fixtures" / folder)) {
    if (entry.path().extension() == ".yaml") names.insert(entry.path().stem().string());
  }
  return names;
}

json library() {
  const Outcome outcome = boughlight_run({"library", "--json"});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  return json::parse(outcome.out);
}

TEST(Library, JsonHoldsEveryLampFile) {
  EXPECT_EQ(names_of(library()["lamps"]), yaml_names_in("lamps"));
}

TEST(Library, HoldsAtLeastWhatTheProjectPromises) {
  const json held = library();
  EXPECT_GE(held["lamps"].size(), 10u);
  std::map<std::string, int> kinds;
  for (const json& material : held["materials"]) {
    ++kinds[material["surface"]];
    EXPECT_NE(material["title"], "") << material["name"];
    EXPECT_NE(material["source"], "") << material["name"];
  }
  EXPECT_GE(kinds["mesh"], 8);
  EXPECT_GE(kinds["pane"], 3);
  EXPECT_GE(kinds["matte"], 14);
  EXPECT_GE(kinds["leaf"], 4);
}

TEST(Library, RangesCarryTheirLimitsSourcesAndDisagreements) {
  const json ranges = library()["ranges"];
  EXPECT_GE(ranges.size(), 8u);
  for (const json& range : ranges) {
    for (const char* key : {"title", "meaning", "status", "source"}) EXPECT_NE(range[key], "") << range;
    EXPECT_EQ(range["quantity"], "uvi");
    EXPECT_TRUE(range["limits"].contains("max"));
    EXPECT_TRUE(range["disagreements"].is_array());
  }
  const std::string text = boughlight_run({"library"}).out;
  EXPECT_TRUE(contains(text, "SOURCES DIFFER: 0.4 to 0.7")) << text;
  EXPECT_TRUE(contains(text, "Zoo Biology")) << text;
}

TEST(Library, TextNamesEverythingIn80Columns) {
  const Outcome outcome = boughlight_run({"library"});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  const json held = library();
  for (const char* list : {"lamps", "materials", "ranges"}) {
    for (const std::string& name : names_of(held[list]))
      EXPECT_TRUE(contains(outcome.out, "  " + name)) << name;
  }
  EXPECT_LE(longest_line(outcome.out), 80u) << outcome.out;
}

TEST(Library, EveryLampHasASheetIn80Columns) {
  for (const std::string& name : yaml_names_in("lamps")) {
    const Outcome sheet = boughlight_run({"fixture", name});
    EXPECT_EQ(sheet.code, 0) << sheet.err;
    EXPECT_LE(longest_line(sheet.out), 80u) << sheet.out;
  }
}

TEST(Library, NoLampGivesAFigureThatIsNegativeOrNotANumber) {
  for (const std::string& name : yaml_names_in("lamps")) {
    const json sheet = json::parse(boughlight_run({"fixture", name, "--json"}).out);
    EXPECT_FALSE(sheet["on_axis"].empty()) << name;
    for (const char* list : {"on_axis", "parts", "spectrum"}) {
      for (const json& row : sheet[list]) {
        for (const auto& [key, value] : row.items()) {
          if (value.is_string()) continue;
          // JSON has no NaN or infinity: such a figure would be null.
          ASSERT_TRUE(value.is_number()) << name << " " << list << " " << key;
          EXPECT_GE(value.get<double>(), 0) << name << " " << list << " " << key;
        }
      }
    }
  }
}

TEST(Fixture, ReadsItsDeclaredOutputAtItsDistanceAndTheInverseSquareBeyond) {
  const TemporaryFolder folder;
  write_crate(folder.path());
  const Outcome outcome = boughlight_run({"fixture", folder / "bulb.yaml", "--json"});
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  const json sheet = json::parse(outcome.out);
  std::set<double> seen;
  for (const json& at : sheet["on_axis"]) {
    const double distance = at["distance_m"];
    seen.insert(distance);
    // Declared as 1000 lx at 30 cm; a point's light thins out by the square. Tolerance: rounding.
    EXPECT_NEAR(at["lux"].get<double>() * distance * distance / (1000 * 0.3 * 0.3), 1, 1e-9);
  }
  EXPECT_TRUE(seen.contains(0.1) && seen.contains(0.3) && seen.contains(1.0));
  const json& whole = sheet["whole"];
  double bands = 0;
  for (const char* band : {"uvc_w", "uvb_w", "uva_w", "visible_w", "infrared_w"})
    bands += whole[band].get<double>();
  // The bands cover 250 nm to 25 um without gap or overlap; 1e-6 is the promised error of each integral.
  EXPECT_NEAR(bands / whole["radiant_flux_w"].get<double>(), 1, 1e-5);
  double stretches = 0;
  for (const json& stretch : sheet["spectrum"]) stretches += stretch["power_w"].get<double>();
  EXPECT_NEAR(stretches / whole["radiant_flux_w"].get<double>(), 1, 1e-9);
  // An isotropic lamp gives 4 pi r^2 x its illuminance: 1130.97 lm.
  EXPECT_NEAR(whole["luminous_flux_lm"].get<double>(), 1130.973, 1e-2);
}

TEST(Fixture, TellsOfMoreLightAndHeatThanTheLampTakes) {
  const TemporaryFolder folder;
  write_crate(folder.path());
  const std::string bulb = read_file(folder / "bulb.yaml");
  const auto said = [&](const std::string& power) {
    write_file(folder / "bulb.yaml", bulb + power);
    const Outcome outcome = boughlight_run({"fixture", folder / "bulb.yaml"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    return outcome.out.find("more than the") != std::string::npos;
  };
  EXPECT_FALSE(said(""));
  EXPECT_FALSE(said("power: 500 W\n"));
  EXPECT_TRUE(said("power: 2 W\n"));
}

TEST(Fixture, FindsTheHalfAngleOfACosinePower) {
  const TemporaryFolder folder;
  write_file(folder / "flood.yaml", R"(fixture: 1
title: Flood
emitter: {shape: disc, diameter: 6 cm}
distribution: {form: cosine-power, half_angle: 17.5 deg}
emission:
  - part: visible
    spectrum: {blackbody: 2800 K}
    output: {luminous_flux: 600 lm}
power: 50 W
source: invented for the demo
)");
  const Outcome outcome = boughlight_run({"fixture", folder / "flood.yaml", "--json"});
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const json sheet = json::parse(outcome.out);
  // The half angle is what the form is declared by; seen from 300 radii, the disc blurs it by its angular
  // size squared (1e-5), well inside 0.05 deg.
  EXPECT_NEAR(sheet["half_angle_along_deg"].get<double>(), 17.5, 0.05);
  EXPECT_NEAR(sheet["half_angle_across_deg"].get<double>(), 17.5, 0.05);
  EXPECT_NEAR(sheet["whole"]["luminous_flux_lm"].get<double>(), 600, 1e-6);
  EXPECT_EQ(sheet["power_w"], 50);
}

TEST(Fixture, ABareTubeFallsToHalfAlongItsLengthAndNeverAcross) {
  const TemporaryFolder folder;
  write_file(folder / "tube.yaml", R"(fixture: 1
title: Tube
emitter: {shape: tube, length: 50 cm, diameter: 16 mm}
distribution: {form: lambert}
emission:
  - part: ultraviolet
    spectrum: {lines: [[302.2 nm, 1], [365 nm, 4]]}
    output: {uvi: 3, at: 30 cm}
source: invented for the demo
)");
  const Outcome outcome = boughlight_run({"fixture", folder / "tube.yaml", "--json"});
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const json sheet = json::parse(outcome.out);
  // A tube's intensity goes as the sine of the angle from its axis: half at 60 deg from the normal.
  EXPECT_NEAR(sheet["half_angle_along_deg"].get<double>(), 60, 0.1);
  EXPECT_TRUE(sheet["half_angle_across_deg"].is_null());
  EXPECT_EQ(sheet["shortest_ultraviolet_nm"], 300);
  for (const json& at : sheet["on_axis"]) {
    if (at["distance_m"] == 0.3) {
      EXPECT_NEAR(at["uvi"].get<double>(), 3, 1e-9);
    }
  }
  const Outcome text = boughlight_run({"fixture", folder / "tube.yaml"});
  EXPECT_TRUE(contains(text.out, "Eyes and skin")) << text.out;
  EXPECT_TRUE(contains(text.out, "30 J/m2 actinic")) << text.out;
}

TEST(Fixture, AnUnknownLampIsAWrongCall) {
  const Outcome outcome = boughlight_run({"fixture", "no-such-lamp"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "no-such-lamp")) << outcome.err;
}

}  // namespace
}  // namespace boughlight
