// boughlight new --ask: from answers to a surveyed scene.
#include <gtest/gtest.h>

#include "program.h"
#include "scene/load.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// Runs with one answer a line on standard input, the survey being a rough one.
Outcome asked(const TemporaryFolder& folder, const std::string& answers) {
  write_file(folder / "answers", answers);
  RunOptions there;
  there.folder = folder.path();
  return run_file("/bin/sh",
                  {"-c", std::string(BOUGHLIGHT_PROGRAM) +
                             " new first.yaml --ask --tolerance 20% --spacing 15 < answers"},
                  there);
}

TEST(NewAskSlow, EnterAllTheWayGivesASceneThatIsSurveyed) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, std::string(30, '\n'));
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "first.yaml is written.")) << outcome.out;
  EXPECT_TRUE(fs::is_regular_file(folder / "first/report.html"));
  EXPECT_FALSE(fs::exists(folder / "first-uv.yaml"));
  const Scene scene = load_scene(folder / "first.yaml");
  EXPECT_EQ(scene.boxes.size(), 1u);
  EXPECT_EQ(scene.lamps.size(), 3u);
  EXPECT_EQ(scene.notes, std::vector<std::string>{});
}

TEST(NewAsk, InchesADomeAMeshByReadingsAndALampByItsBox) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder,
                                "in\n24 18 40\ndome\n8\nreadings\n8 6\ncork\nmesh\n26 28\n1\n1.5\n"
                                "tube\n3.5\n12\n4\nnone\nnone\n07:00-19:00\n2 4\n6\n");
  EXPECT_LE(outcome.code, 1) << outcome.err;
  const Scene scene = load_scene(folder / "first.yaml");
  EXPECT_EQ(scene.length_unit, "in");
  ASSERT_EQ(scene.boxes.size(), 2u);
  EXPECT_NEAR(scene.boxes[1].size.z(), 8 * 0.0254, 1e-9);
  ASSERT_EQ(scene.lamps.size(), 1u);
  // Over the dome: 48 inches of boxes, 4 of gap, half of the tube's 16 mm.
  EXPECT_NEAR(scene.lamps[0].at.z(), 52 * 0.0254 + 0.008, 1e-9);
  const LampPart& ultraviolet = scene.lamps[0].fixture->parts[0];
  ASSERT_TRUE(ultraviolet.anchor_m);
  EXPECT_NEAR(*ultraviolet.anchor_m, 12 * 0.0254, 1e-9);
  EXPECT_NEAR(ultraviolet.radiant_flux_w * ultraviolet.per_watt.total(Quantity::uvi) *
                  scene.lamps[0].fixture->emitter->on_axis(12 * 0.0254),
              3.5, 1e-6);
  bool measured = false;
  for (const Material& material : scene.materials)
    measured = measured || (material.flat && *material.flat == 0.75);
  EXPECT_TRUE(measured);
  ASSERT_EQ(scene.perches.size(), 1u);
  EXPECT_EQ(scene.perches[0].wants[0].limits.min, 2);
}

TEST(NewAskSlow, WhatIsNotUnderstoodIsAskedAgain) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, "metres\ncm\n60 45\n60 45 9000\n60 45 100\n" + std::string(30, '\n'));
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "'metres' is none of them. Again, please.")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "3 numbers are needed. Again, please.")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "'9000' is too large. Again, please.")) << outcome.err;
}

TEST(NewAsk, AnswersThatEndTooSoonLeaveNothing) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, "cm\n");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err,
                       "the answers ended at 'Width, depth and height inside, in cm'; nothing was written"))
      << outcome.err;
  EXPECT_FALSE(fs::exists(folder / "first.yaml"));
}

}  // namespace
}  // namespace boughlight
