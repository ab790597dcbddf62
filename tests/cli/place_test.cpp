// boughlight place, end to end on a small scene.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// The crate's lamp gives 90 lm/sr; its sensor lies 30 cm below the top.
double crate_lux(double x, double y, double gap) {
  const double dx = x - 0.2, dy = y - 0.2, dz = 0.3 + gap;
  return 90 * dz / std::pow(dx * dx + dy * dy + dz * dz, 1.5);
}

TEST(Place, WritesItsMapAndAgreesWithTheClosedForm) {
  const TemporaryFolder folder;
  const Outcome place = boughlight_run({"place", write_crate(folder.path()), "bulb"});
  EXPECT_EQ(place.code, 0) << place.err;
  EXPECT_EQ(place.err, "") << "progress belongs on a terminal only";
  EXPECT_LE(longest_line(place.out), 80u) << place.out;
  EXPECT_TRUE(contains(place.out, "every want holds")) << place.out;
  EXPECT_TRUE(contains(place.out, "middle: illuminance at least 500 lx")) << place.out;
  EXPECT_TRUE(contains(place.out, "the meter decides")) << place.out;
  EXPECT_EQ(read_file(folder.path() / "crate/place-bulb.png").substr(1, 3), "PNG");
  EXPECT_TRUE(contains(read_file(folder.path() / "crate/place-bulb.html"), "Where may") ||
              contains(read_file(folder.path() / "crate/place-bulb.html"), "where may"));

  const json map = json::parse(read_file(folder.path() / "crate/place-bulb.json"));
  EXPECT_EQ(map["verdict"], "met");
  EXPECT_EQ(map["lamp"], "bulb");
  const json &axes = map["map"], &lux = map["map"]["figures"][0];
  const std::size_t nx = axes["x"].size(), ny = axes["y"].size(), gaps = axes["gap"].size();
  EXPECT_GE(nx * ny, 1000u);
  EXPECT_EQ(gaps, 6u) << "5 to 30 cm; the present one is 10 cm";
  ASSERT_EQ(lux["values"].size(), nx * ny * gaps);
  EXPECT_EQ(lux["of"], "middle");
  EXPECT_EQ(lux["quantity"], "lux");
  EXPECT_EQ(lux["min"], 500);
  for (std::size_t place_number = 0; place_number < nx * ny * gaps; ++place_number) {
    const double x = axes["x"][place_number % nx], y = axes["y"][place_number / nx % ny],
                 gap = axes["gap"][place_number / (nx * ny)];
    const double expected = crate_lux(x, y, gap);
    // The walls stand 20 cm from the middle: beyond that the crate's rim is in the way of none, since every
    // place over the top is seen from below through it. Six digits are kept.
    ASSERT_NEAR(lux["values"][place_number].get<double>(), expected, 1e-4 * expected);
    if (std::abs(expected - 500) < 0.1) continue;
    ASSERT_EQ(axes["states"][place_number], expected > 500 ? 0 : 2);
  }
  const json& best = map["best"];
  EXPECT_NEAR(best["x"].get<double>(), 0.2, 0.01);
  EXPECT_NEAR(best["y"].get<double>(), 0.2, 0.01);
  EXPECT_EQ(best["slack"]["left"]["then_fails"]["quantity"], "lux");
  EXPECT_NEAR(map["now"]["figures"][0]["value"].get<double>(), kCrateLux, 1e-4 * kCrateLux);
}

TEST(Place, WhereNoPlaceServesItSaysWhyAndWhatWouldOpenIt) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path(), "{min: 900}");
  const Outcome place = boughlight_run({"place", scene, "bulb"});
  EXPECT_EQ(place.code, 1) << place.err;
  EXPECT_LE(longest_line(place.out), 80u) << place.out;
  // The nearest place is 5 cm above the top's middle: about 90 / 0.35^2 = 735 lx; its lattice has none right
  // in the middle.
  EXPECT_TRUE(contains(place.out, "No place gives middle: illuminance at least 900 lx")) << place.out;
  EXPECT_TRUE(contains(place.out, "The least that would open it")) << place.out;
  const json map = json::parse(read_file(folder.path() / "crate/place-bulb.json"));
  EXPECT_EQ(map["verdict"], "unmet");
  EXPECT_EQ(map["allowed"], 0);
  ASSERT_EQ(map["conflicts"].size(), 1u);
  const json& loosened = map["openings"][0]["loosened"][0];
  EXPECT_EQ(loosened["instead_of"], 900);
  EXPECT_NEAR(loosened["min"].get<double>(), 735, 0.01 * 735);
}

TEST(Place, JsonOnStandardOutputIsTheFileAndTheGapsAreThoseAskedFor) {
  const TemporaryFolder folder;
  const Outcome place = boughlight_run({"place", write_crate(folder.path()), "bulb", "--json", "--gaps",
                                        "10,200 mm", "--step", "5", "-o", folder / "out"});
  EXPECT_EQ(place.code, 0) << place.err;
  EXPECT_EQ(place.err, "");
  const json map = json::parse(place.out);
  EXPECT_EQ(place.out, read_file(folder.path() / "out/place-bulb.json"));
  EXPECT_EQ(map["map"]["gap"], json({0.1, 0.2}));
  EXPECT_EQ(map["map"]["x"].size(), 9u);
}

TEST(Place, AWrongCallIsExitCode2AndWritesNothing) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto refused = [&](const std::vector<std::string>& further, const std::string& text) {
    std::vector<std::string> arguments = {"place", scene};
    arguments.insert(arguments.end(), further.begin(), further.end());
    const Outcome place = boughlight_run(arguments);
    EXPECT_EQ(place.code, 2) << place.out;
    EXPECT_EQ(place.out, "");
    EXPECT_TRUE(contains(place.err, text)) << place.err;
  };
  refused({"blub"}, "LAMP: the scene has no lamp 'blub' (did you mean 'bulb'?); it has bulb");
  refused({"bulb", "--gaps", "10,10"}, "--gaps: one gap is named twice");
  refused({"bulb", "--gaps", "4 m"}, "--gaps: '4 m' is not between 0 and 300 cm");
  refused({"bulb", "--gaps", "10 W"}, "--gaps: ");
  refused({"bulb", "--step", "0.05"}, "--step: '0.05' is not between 0.2 and 100 cm");
  refused({"bulb", "--step", "2 mm", "--gaps", "5,10,15,20,25,30"}, "take a wider step");
  refused({}, "LAMP");
  EXPECT_FALSE(fs::exists(folder.path() / "crate"));
}

TEST(Place, OverASolidTopThereIsNoPlaceToLookFor) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  std::string text = read_file(scene);
  text.replace(text.find("top: open"), 9, "top: black");
  write_file(scene, text);
  for (const char* command : {"place", "window"}) {
    const Outcome refused = boughlight_run({command, scene, "bulb"});
    EXPECT_EQ(refused.code, 2) << command;
    EXPECT_TRUE(contains(refused.err, "the top is of 'black', through which no light gets")) << refused.err;
  }
}

TEST(Place, WhatCannotBeWrittenIsExitCode3) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  write_file(folder.path() / "taken", "a file");
  const Outcome place = boughlight_run({"place", scene, "bulb", "-o", folder / "taken"});
  EXPECT_EQ(place.code, 3);
  EXPECT_TRUE(contains(place.err, "is not a folder")) << place.err;
}

TEST(ProgressSlow, TellsOnATerminalHowLongTheRestTakes) {
  const TemporaryFolder folder;
  const std::string line = std::string(BOUGHLIGHT_PROGRAM) + " place " + BOUGHLIGHT_SOURCE_DIR +
                           "/scenes/fern-tower.yaml 'uv tube' --gaps 10,20 -o " + (folder / "out");
  // script(1) gives it a terminal.
  const Outcome place = run_file("/usr/bin/script", {"-qec", line, "/dev/null"});
  EXPECT_TRUE(contains(place.out, " s left")) << place.out.substr(0, 400);
  EXPECT_TRUE(contains(place.out, "hanging the lamp in place after place, "))
      << "the longest part tells it too";
}

TEST(InterruptSlow, LeavesNothingHalfWritten) {
  // A scene that takes far longer than a second to map.
  const TemporaryFolder folder;
  const std::string scene = std::string(BOUGHLIGHT_SOURCE_DIR) + "/scenes/fern-tower.yaml";
  for (const char* signal : {"INT", "TERM"}) {
    const Outcome stopped = run_file("/usr/bin/timeout", {"--signal", signal, "1", BOUGHLIGHT_PROGRAM,
                                                          "place", scene, "uv tube", "-o", folder / "out"});
    EXPECT_EQ(stopped.code, 124) << "timeout's own code: it was still running, and ended when told to";
    EXPECT_EQ(stopped.out, "");
    EXPECT_TRUE(folder_contents(folder.path()).empty());
  }
}

TEST(Place, LampsWhoseNamesDifferInSignsAloneKeepTheirOwnFiles) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  std::string text = read_file(scene);
  const std::string lamp = "  - {name: bulb, fixture: bulb.yaml, at: [20, 20, 70]}\n";
  text.replace(text.find(lamp), lamp.size(),
               "  - {name: a 1, fixture: bulb.yaml, at: [20, 20, 70]}\n"
               "  - {name: a-1, fixture: bulb.yaml, at: [20, 20, 75]}\n");
  write_file(scene, text);
  for (const char* name : {"a 1", "a-1"})
    EXPECT_LE(boughlight_run({"place", scene, name, "--step", "20", "--gaps", "20"}).code, 1);
  EXPECT_EQ(json::parse(read_file(folder.path() / "crate/place-a-1.json"))["lamp"], "a 1");
  EXPECT_EQ(json::parse(read_file(folder.path() / "crate/place-a-1-2.json"))["lamp"], "a-1");
}

}  // namespace
}  // namespace boughlight
