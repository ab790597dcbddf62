// boughlight window, end to end on a small scene.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

using nlohmann::json;

// The crate with a perch 30 cm below its top that wants `wants`.
std::string write_perched_crate(const TemporaryFolder& folder, const std::string& wants) {
  const std::string scene = write_crate(folder.path(), "{min: 1}");
  std::string text = read_file(scene);
  text += "perches:\n  - {name: stick end, at: [20, 20, 30], facing: up, wants: {lux: " + wants + "}}\n";
  write_file(scene, text);
  return scene;
}

TEST(WindowCommand, TellsTheWeakestAndTheStrongestLampAsReadings) {
  const TemporaryFolder folder;
  const Outcome window =
      boughlight_run({"window", write_perched_crate(folder, "{min: 500, max: 800}"), "bulb"});
  EXPECT_EQ(window.code, 0) << window.err;
  EXPECT_EQ(window.err, "");
  EXPECT_LE(longest_line(window.out), 80u) << window.out;
  // 562.5 lx as it hangs, of a lamp that reads 1000 lx at 30 cm: 500 to 800 lx take 889 to 1422 lx.
  EXPECT_TRUE(contains(window.out, "illuminance 890 to 1400 lx at 30 cm")) << window.out;
  EXPECT_TRUE(contains(window.out, "89 % to 142 % of what this lamp is declared to give")) << window.out;
  EXPECT_EQ(read_file(folder.path() / "crate/window-bulb.png").substr(1, 3), "PNG");
  const json found = json::parse(read_file(folder.path() / "crate/window-bulb.json"));
  EXPECT_EQ(found["perch"], "stick end");
  EXPECT_EQ(found["verdict"], "met");
  EXPECT_NEAR(found["now"]["weakest"]["output"].get<double>(), 500 / kCrateLux, 1e-3);
  EXPECT_NEAR(found["now"]["strongest"]["output"].get<double>(), 800 / kCrateLux, 1e-3);
  EXPECT_EQ(found["now"]["strongest"]["then_fails"]["max"], 800);
  const json& reading = found["now"]["weakest"]["readings"][0];
  EXPECT_EQ(reading["quantity"], "lux");
  EXPECT_EQ(reading["at"], 0.3);
  EXPECT_NEAR(reading["value"].get<double>(), 1000 * 500 / kCrateLux, 1);
  const std::size_t size =
      found["chart"]["gap"].size() * found["chart"]["depth"].size() * found["chart"]["output"].size();
  EXPECT_EQ(found["chart"]["states"].size(), size);
}

TEST(WindowCommand, WhereNothingServesItSaysWhatExcludesWhat) {
  const TemporaryFolder folder;
  const Outcome window = boughlight_run({"window", write_perched_crate(folder, "{min: 50000}"), "bulb"});
  EXPECT_EQ(window.code, 1) << window.err;
  EXPECT_LE(longest_line(window.out), 80u) << window.out;
  EXPECT_TRUE(contains(window.out, "No set-up gives stick end: illuminance at least 50 000 lx"))
      << window.out;
  EXPECT_TRUE(contains(window.out, "The least that would open it")) << window.out;
}

TEST(WindowCommand, JsonOnStandardOutputIsTheFileAndLengthsAreThoseAskedFor) {
  const TemporaryFolder folder;
  const Outcome window =
      boughlight_run({"window", write_perched_crate(folder, "{min: 500}"), "bulb", "--json", "--gaps",
                      "10,20", "--depths", "25,30,40", "--perch", "stick end"});
  EXPECT_EQ(window.code, 0) << window.err;
  EXPECT_EQ(window.out, read_file(folder.path() / "crate/window-bulb.json"));
  const json found = json::parse(window.out);
  EXPECT_EQ(found["chart"]["gap"], json({0.1, 0.2}));
  EXPECT_EQ(found["chart"]["depth"], json({0.25, 0.3, 0.4}));
}

TEST(WindowCommand, AWrongCallIsExitCode2) {
  const TemporaryFolder folder;
  const std::string scene = write_perched_crate(folder, "{min: 500}");
  const auto refused = [&](const std::vector<std::string>& further, const std::string& text) {
    std::vector<std::string> arguments = {"window", scene, "bulb"};
    arguments.insert(arguments.end(), further.begin(), further.end());
    const Outcome window = boughlight_run(arguments);
    EXPECT_EQ(window.code, 2) << window.out;
    EXPECT_TRUE(contains(window.err, text)) << window.err;
  };
  refused({"--perch", "stick and"},
          "--perch: the scene has no perch 'stick and' (did you mean 'stick end'?); it has stick end");
  refused({"--gaps", "10"}, "--gaps: two lengths or more are needed for a chart");
  refused({"--depths", "10,100"}, "--depths: '100' is not between 0 and 60 cm");
  const Outcome bare = boughlight_run({"window", write_crate(folder.path()), "bulb"});
  EXPECT_EQ(bare.code, 2);
  EXPECT_TRUE(contains(bare.err, "the scene has no perch")) << bare.err;
}

}  // namespace
}  // namespace boughlight
