// boughlight new --ask: from answers to a surveyed scene.
#include <gtest/gtest.h>

#include "program.h"
#include "scene/load.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// Runs with one answer a line on standard input, the survey being a rough one.
Outcome asked(const TemporaryFolder& folder, const std::string& answers,
              const std::string& name = "first.yaml",
              const std::map<std::string, std::string>& variables = {}) {
  write_file(folder / "answers", answers);
  RunOptions there;
  there.folder = folder.path();
  there.variables = variables;
  return run_file("/bin/sh",
                  {"-c", std::string(BOUGHLIGHT_PROGRAM) + " new '" + name +
                             "' --ask --tolerance 20% --spacing 15 < answers"},
                  there);
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

// The spans of lamps seen from above along y: none may hang above another.
void expect_side_by_side(const Scene& scene) {
  for (std::size_t i = 0; i < scene.lamps.size(); ++i)
    for (std::size_t k = i + 1; k < scene.lamps.size(); ++k)
      EXPECT_GT(std::abs(scene.lamps[i].at.y() - scene.lamps[k].at.y()), 0.1);
}

TEST(NewAskSlow, EnterAllTheWayGivesASceneThatIsSurveyedAndSaysWhatIsInvented) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, std::string(30, '\n'));
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "first.yaml is written, and its lamps: first-uv.yaml.")) << outcome.out;
  EXPECT_TRUE(fs::is_regular_file(folder / "first/report.html"));
  const Scene scene = load_scene(folder / "first.yaml");
  EXPECT_EQ(scene.boxes.size(), 1u);
  ASSERT_EQ(scene.lamps.size(), 3u);
  EXPECT_EQ(scene.notes, std::vector<std::string>{});
  expect_side_by_side(scene);
  EXPECT_TRUE(contains(read_file(folder / "first.yaml"), "# A STAND-IN, invented: the UV index"))
      << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "Nobody has declared the spectrum of 'uv lamp'")) << outcome.out;
  EXPECT_EQ(scene.lamps[0].fixture->spread, 0.5);
  for (const LampPart& part : scene.lamps[0].fixture->parts) EXPECT_TRUE(part.guessed);
  EXPECT_TRUE(
      contains(read_file(folder / "first-uv.yaml"), "source: \"a stand-in: its UV index is not known;"));
  EXPECT_TRUE(
      read_file(folder / "first.yaml").starts_with("# yaml-language-server: $schema=scene.schema.json\n"));
  EXPECT_TRUE(read_file(folder / "first-uv.yaml")
                  .starts_with("# yaml-language-server: $schema=fixture.schema.json\n"));

  // As the guide and the README say.
  EXPECT_EQ(count(outcome.err, "]: ") + count(outcome.err, "(Enter: I do not know): "), 14u) << outcome.err;
  const std::string source = BOUGHLIGHT_SOURCE_DIR;
  EXPECT_TRUE(contains(read_file(source + "/cli/guides/first-enclosure.md"), "Answer fourteen questions"));
  EXPECT_TRUE(contains(read_file(source + "/README.md"), "fourteen plain questions"));
}

TEST(NewAskSlow, InchesADomeAMeshByReadingsAndALampByItsBox) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder,
                                "in\n24 18 40 8\nreadings\n8 6\ncork mesh\n1.5\n26 28 1\ntube\n3.5 12\n"
                                "\n4\n07:00-19:00\n2 4 6\n");
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
  EXPECT_TRUE(ultraviolet.guessed);
  EXPECT_FALSE(scene.lamps[0].fixture->spread);
  EXPECT_TRUE(contains(read_file(folder / "first-uv.yaml"),
                       "source: \"UV index from the box at 12 in; the rest as tube-uv-55, invented"));
  bool measured = false;
  for (const Material& material : scene.materials)
    measured = measured || (material.flat && *material.flat == 0.75);
  EXPECT_TRUE(measured);
  ASSERT_EQ(scene.perches.size(), 1u);
  EXPECT_EQ(scene.perches[0].wants[0].limits.min, 2);
  EXPECT_TRUE(contains(outcome.err, "Width, depth and height, in inches [24 18 40]: ")) << outcome.err;
  EXPECT_FALSE(contains(outcome.err, "in in [")) << outcome.err;
}

TEST(NewAskSlow, EveryLampByWhatIsOnItsBox) {
  const TemporaryFolder folder;
  const Outcome outcome =
      asked(folder, "\n60 45 100\n\n\n\n\nbar flood tube\n2 at 25\n60\n60W 38\n2400 lumens\n\n\n\n");
  EXPECT_LE(outcome.code, 1) << outcome.err;
  const Scene scene = load_scene(folder / "first.yaml");
  ASSERT_EQ(scene.lamps.size(), 3u);
  expect_side_by_side(scene);
  EXPECT_TRUE(contains(read_file(folder / "first-uv.yaml"), "{shape: tube, length: 58 cm, diameter: 16 mm}"));
  const std::string flood = read_file(folder / "first-flood.yaml");
  EXPECT_TRUE(flood.starts_with("# yaml-language-server: $schema=fixture.schema.json\n")) << flood;
  EXPECT_TRUE(contains(flood, "half_angle: 19 deg")) << flood;
  EXPECT_TRUE(contains(flood, "luminous_flux: 780 lm")) << flood;  // those of 50 W, by the watts
  EXPECT_TRUE(contains(flood, "power: 60 W")) << flood;
  const std::string bar = read_file(folder / "first-plants.yaml");
  EXPECT_TRUE(contains(bar, "output: {luminous_flux: 2400 lm}")) << bar;
  EXPECT_FALSE(contains(bar, "photon_flux")) << bar;
}

TEST(NewAskSlow, LengthsAreTakenAsPeopleTypeThem) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(
      folder, "Inches\n18\" x 18 x 36\nhole-and-wire\n1/16 1/32\nglass MESH\n2 1/2\n50CM 20 1-1/4\nnone\n\n");
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_EQ(count(outcome.err, "Again, please."), 0u) << outcome.err;
  EXPECT_FALSE(contains(outcome.err, "Hours")) << outcome.err;  // there is nothing to light
  const Scene scene = load_scene(folder / "first.yaml");
  EXPECT_NEAR(scene.boxes[0].size.z(), 36 * 0.0254, 1e-9);
  EXPECT_NEAR(scene.animal->back, 2.5 * 0.0254, 1e-9);
  EXPECT_NEAR(scene.branches[0].path[0].z(), 0.5, 1e-4);
  EXPECT_NEAR(scene.branches[0].diameter, 1.25 * 0.0254, 1e-9);
  EXPECT_TRUE(contains(read_file(folder / "first.yaml"), "wire: 0.79375 mm, pitch: 2.3812 mm"));
  EXPECT_TRUE(scene.lamps.empty());
}

TEST(NewAsk, WhatCannotBeIsAskedAgainWithTheReason) {
  const TemporaryFolder folder;
  const Outcome outcome =
      asked(folder,
            "metres\nCM\n60 45\n60 45 9000\n-1/2 45 100\n60 45 100\nreadings\n6 10\n10 6\nwood\n"
            "wood glass\n90\n4\n99 99 2.5\n1 50 4\n60 70 2.5\ntube compact\ntube flood panel\n"
            "4\n4 at 30\n90\n55\n50\n2400\n\n10 20 5\n10 20 30\n8\n\n4 1 7\n1 4 3\n");
  EXPECT_EQ(outcome.code, 2);
  for (const char* reason :
       {"'metres' is none of cm or in", "3 or 4 numbers are needed, not 2",
        "'9000' is too large: at most 500 cm is allowed", "'-1/2' is no number",
        "10 with the mesh is more than 6 without it", "two words are needed",
        "'90' is too large: at most 50 cm is allowed",
        "the animal's back on it would be at 104.25, and the top is at 100 cm: give lower ends",
        "its lower end would be in the floor", "one of each sort is enough", "2 numbers are needed, not 1",
        "a tube of 90 cm is longer than the enclosure is wide, 60 cm", "of what: 2400 lm, or 2400 umol/s",
        "a panel is so wide that", "'8' is not a range of clock times", "the least, 4, is above the most, 1",
        "3 anywhere is below the 4 that is wanted on the branch"})
    EXPECT_TRUE(contains(outcome.err, reason)) << reason << "\n" << outcome.err;
  EXPECT_EQ(count(outcome.err, "Again, please."), 17u) << outcome.err;
  EXPECT_FALSE(fs::exists(folder / "first.yaml"));
}

TEST(NewAskSlow, ASmallTankHasRoomForTheBackAndForWhatStandsInOverIt) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, "\n30 20 15\n" + std::string(30, '\n'));
  EXPECT_LE(outcome.code, 1) << outcome.err;
  const Scene scene = load_scene(folder / "first.yaml");
  EXPECT_EQ(scene.notes, std::vector<std::string>{});
  for (const char* file : {"first-uv.yaml", "first-plants.yaml"}) {
    const std::string text = read_file(folder / file);
    EXPECT_TRUE(contains(text, "length: 28 cm") || contains(text, "length: 30 cm")) << text;
  }
}

TEST(NewAskSlow, ANameWithACommaIsQuoted) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, std::string(30, '\n'), "a, b.yaml");
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_EQ(load_scene(folder / "a, b.yaml").lamps.size(), 3u);
}

// A library without bark is one way to it.
TEST(NewAsk, ASceneThatCouldNotBeReadIsNotWritten) {
  const TemporaryFolder folder;
  fs::copy(std::string(BOUGHLIGHT_SOURCE_DIR) + "/fixtures", folder / "library", fs::copy_options::recursive);
  fs::remove(folder / "library/materials/bark.yaml");
  const Outcome outcome =
      asked(folder, std::string(30, '\n'), "first.yaml", {{"BOUGHLIGHT_FIXTURES", folder / "library"}});
  EXPECT_EQ(outcome.code, 2) << outcome.out;
  EXPECT_TRUE(contains(outcome.err, "the answers make no scene that can be read, so nothing was written:"))
      << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "branches[0].material: there is no material 'bark'")) << outcome.err;
  EXPECT_FALSE(fs::exists(folder / "first.yaml"));
  EXPECT_FALSE(fs::exists(folder / "first-uv.yaml"));
}

TEST(NewAsk, AFileThatIsThereIsToldBeforeAnythingIsAsked) {
  const TemporaryFolder folder;
  write_file(folder / "first-uv.yaml", "mine");
  const Outcome outcome = asked(folder, std::string(30, '\n'));
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "'first-uv.yaml' exists already and is left as it is")) << outcome.err;
  EXPECT_FALSE(contains(outcome.err, "Centimetres")) << outcome.err;
  EXPECT_EQ(read_file(folder / "first-uv.yaml"), "mine");
}

TEST(NewAsk, AnswersThatEndTooSoonLeaveNothing) {
  const TemporaryFolder folder;
  const Outcome outcome = asked(folder, "cm\n");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(
      contains(outcome.err, "the answers ended at 'Width, depth and height, in cm'; nothing was written"))
      << outcome.err;
  EXPECT_FALSE(fs::exists(folder / "first.yaml"));
}

}  // namespace
}  // namespace boughlight
