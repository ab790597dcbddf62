// boughlight compare, end to end on crates with closed-form answers.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// The crate with its bulb 10 cm higher: 1000 lx x (30/50)^2.
constexpr double kRaisedLux = 360;
std::string write_raised(const fs::path& folder) {
  const std::string scene = write_crate(folder, "{min: 500}", "raised.yaml");
  std::string text = read_file(scene);
  const std::string place = "at: [20, 20, 70]";
  text.replace(text.find(place), place.size(), "at: [20, 20, 80]");
  write_file(scene, text);
  return scene;
}

const json& lux_change(const json& result) {
  for (const json& change : result["changes"])
    if (change.value("reading", "") == "middle" && change["quantity"] == "lux") return change;
  throw std::runtime_error("no such change");
}

TEST(CompareCommandSlow, TellsAVerdictThatChangedByTheClosedForm) {
  const TemporaryFolder folder;
  const std::string crate = write_crate(folder.path()), raised = write_raised(folder.path());
  const Outcome worse = boughlight_run({"compare", crate, raised, "-o", folder / "out"});
  EXPECT_EQ(worse.code, 1) << worse.err;
  EXPECT_EQ(worse.err, "");
  EXPECT_LE(longest_line(worse.out), 80u) << worse.out;
  EXPECT_TRUE(contains(worse.out, "VERDICTS THAT CHANGED FOR THE WORSE\n  ! middle: ")) << worse.out;
  EXPECT_TRUE(contains(worse.out, "crate.yaml meets 1 of 1 wants; raised.yaml meets 0 of 1")) << worse.out;
  const json result = json::parse(read_file(folder.path() / "out/compare.json"));
  const json& change = lux_change(result);
  // Black walls and a point lamp: single precision is all the error.
  EXPECT_NEAR(change["change"].get<double>(), kRaisedLux - kCrateLux, 1e-4 * kCrateLux);
  EXPECT_EQ(change["turn"], "worse");
  EXPECT_EQ(change["first"]["verdict"], "met");
  EXPECT_EQ(change["second"]["verdict"], "below");
  EXPECT_TRUE(fs::is_regular_file(folder.path() / "out/maps/change-uvi-front.png"));
  EXPECT_TRUE(contains(worse.out, read_file(folder.path() / "out/compare.txt")));

  const Outcome better = boughlight_run({"compare", raised, crate, "--json"});
  EXPECT_EQ(better.code, 0) << "the exit code goes by the second scene";
  EXPECT_EQ(lux_change(json::parse(better.out))["turn"], "better");
}

TEST(CompareCommand, ASceneAgainstItselfHasNotChanged) {
  const TemporaryFolder folder;
  const std::string crate = write_crate(folder.path());
  const Outcome same = boughlight_run({"compare", crate, crate});
  EXPECT_EQ(same.code, 0) << same.err;
  EXPECT_TRUE(contains(same.out, "No clear change")) << same.out;
  EXPECT_FALSE(contains(same.out, "How the layouts differ")) << same.out;
}

TEST(CompareCommand, WrongCallsAreExitCode2) {
  const TemporaryFolder folder;
  const std::string crate = write_crate(folder.path());
  EXPECT_EQ(boughlight_run({"compare", crate}).code, 2);
  const Outcome missing = boughlight_run({"compare", crate, folder / "no.yaml"});
  EXPECT_EQ(missing.code, 2);
  EXPECT_TRUE(contains(missing.err, "no.yaml")) << missing.err;
  // The mistakes of both scenes are told in one go.
  write_file(folder / "a.yaml", "boughlight: 1\nwrong: 1\n");
  write_file(folder / "b.yaml", "boughlight: 1\nsilly: 1\n");
  const Outcome both = boughlight_run({"compare", folder / "a.yaml", folder / "b.yaml"});
  EXPECT_EQ(both.code, 2);
  EXPECT_TRUE(contains(both.err, "wrong")) << both.err;
  EXPECT_TRUE(contains(both.err, "silly")) << both.err;
}

TEST(CompareCommand, AnyNumberOfThreadsGivesTheSameFile) {
  const TemporaryFolder folder;
  const std::string crate = write_crate(folder.path()), raised = write_raised(folder.path());
  const std::string one = boughlight_run({"compare", crate, raised, "--json", "--threads", "1"}).out;
  EXPECT_EQ(boughlight_run({"compare", crate, raised, "--json", "--threads", "3"}).out, one);
}

}  // namespace
}  // namespace boughlight
