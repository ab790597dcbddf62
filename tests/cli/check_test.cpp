// boughlight check and boughlight new.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

TEST(Check, ListsWhatTheSceneHoldsIn80Columns) {
  const TemporaryFolder folder;
  const Outcome check = boughlight_run({"check", write_crate(folder.path())});
  EXPECT_EQ(check.code, 0) << check.err;
  EXPECT_EQ(check.err, "");
  for (const char* part : {"Crate", "40 x 40 x 60", "top open", "floor black", "bulb.yaml at 20, 20, 70",
                           "its lowest point 10 above", "middle", "lux at least 500 lx"}) {
    EXPECT_TRUE(contains(check.out, part)) << part << " in\n" << check.out;
  }
  EXPECT_LE(longest_line(check.out), 80u) << check.out;
}

TEST(Check, JsonIsAllThatGoesToStandardOutput) {
  const TemporaryFolder folder;
  const Outcome check = boughlight_run({"check", write_crate(folder.path()), "--json"});
  EXPECT_EQ(check.code, 0);
  EXPECT_EQ(check.err, "");
  const auto json = nlohmann::json::parse(check.out);
  EXPECT_EQ(json["title"], "Crate");
  ASSERT_EQ(json["lamps"].size(), 1u);
  EXPECT_DOUBLE_EQ(json["lamps"][0]["at"][2].get<double>(), 0.7);
  EXPECT_NEAR(json["lamps"][0]["gap_above_enclosure"].get<double>(), 0.1, 1e-12);
  EXPECT_TRUE(json["lamps"][0]["hours_a_day"].is_null());
  EXPECT_EQ(json["boxes"][0]["faces"]["top"], "open");
  EXPECT_EQ(json["points"][0]["wants"]["lux"]["min"], 500);
}

TEST(Check, QuietPrintsNothingOfASoundScene) {
  const TemporaryFolder folder;
  const Outcome check = boughlight_run({"check", write_crate(folder.path()), "--quiet"});
  EXPECT_EQ(check.code, 0);
  EXPECT_EQ(check.out + check.err, "");
}

TEST(Check, EveryMistakeIsToldWithItsPlace) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  std::string text = read_file(scene);
  text.replace(text.find("size: [40"), 9, "size: [-4");
  text.replace(text.find("seed: 3"), 7, "sead: 3");
  write_file(scene, text);
  const Outcome check = boughlight_run({"check", scene, "--json"});
  EXPECT_EQ(check.code, 2);
  EXPECT_EQ(check.out, "");
  EXPECT_TRUE(contains(check.err, scene + ":6:")) << check.err;   // the size's line
  EXPECT_TRUE(contains(check.err, scene + ":14:")) << check.err;  // the survey's line
  EXPECT_TRUE(contains(check.err, "sead")) << check.err;
  EXPECT_TRUE(contains(check.err, "2 mistakes in the input")) << check.err;
}

TEST(Check, AFileThatIsNotThereIsNamed) {
  const Outcome check = boughlight_run({"check", "no-such-scene.yaml"});
  EXPECT_EQ(check.code, 2);
  EXPECT_EQ(check.out, "");
  EXPECT_TRUE(contains(check.err, "no-such-scene.yaml")) << check.err;
}

TEST(Check, AFolderIsNoScene) {
  const TemporaryFolder folder;
  const Outcome check = boughlight_run({"check", folder.path().string()});
  EXPECT_EQ(check.code, 2) << check.err;
  EXPECT_TRUE(contains(check.err, folder.path().string())) << check.err;
}

TEST(Check, EverySceneOfTheProjectIsSound) {
  std::size_t count = 0;
  for (const auto& entry : fs::directory_iterator(fs::path(BOUGHLIGHT_SOURCE_DIR) / "scenes")) {
    if (entry.path().extension() != ".yaml") continue;
    ++count;
    const Outcome check = boughlight_run({"check", entry.path().string()});
    EXPECT_EQ(check.code, 0) << check.err;
    EXPECT_LE(longest_line(check.out), 80u) << check.out;
  }
  EXPECT_GE(count, 4u);
}

TEST(New, WritesASceneThatChecks) {
  const TemporaryFolder folder;
  const std::string scene = folder / "my cage.yaml";
  const Outcome made = boughlight_run({"new", scene});
  EXPECT_EQ(made.code, 0) << made.err;
  EXPECT_TRUE(contains(made.out, scene));
  EXPECT_EQ(folder_contents(folder.path()).size(), 1u) << "something was left beside the scene";
  const Outcome check = boughlight_run({"check", scene});
  EXPECT_EQ(check.code, 0) << check.err;
  EXPECT_LE(longest_line(check.out), 80u) << check.out;
}

TEST(New, TellsEditorsOfTheSchemaAndPeopleHowToMakeIt) {
  const TemporaryFolder folder;
  EXPECT_EQ(boughlight_run({"new", folder / "cage.yaml"}).code, 0);
  const std::string scene = read_file(folder / "cage.yaml");
  EXPECT_TRUE(scene.starts_with("# yaml-language-server: $schema=scene.schema.json\n")) << scene;
  EXPECT_TRUE(contains(scene, "#   boughlight schema scene > scene.schema.json\n")) << scene;
}

TEST(New, NeverOverwrites) {
  const TemporaryFolder folder;
  write_file(folder / "mine.yaml", "precious");
  const Outcome made = boughlight_run({"new", folder / "mine.yaml"});
  EXPECT_EQ(made.code, 2);
  EXPECT_EQ(made.out, "");
  EXPECT_TRUE(contains(made.err, "exists already")) << made.err;
  EXPECT_EQ(read_file(folder / "mine.yaml"), "precious");
}

TEST(New, DoesNotWriteThroughADanglingLink) {
  const TemporaryFolder folder;
  fs::create_symlink(folder / "elsewhere.yaml", folder / "mine.yaml");
  EXPECT_EQ(boughlight_run({"new", folder / "mine.yaml"}).code, 2);
  EXPECT_FALSE(fs::exists(folder / "elsewhere.yaml"));
}

TEST(New, IntoAFolderThatIsNotThereIsExitCode3) {
  const TemporaryFolder folder;
  const Outcome made = boughlight_run({"new", folder / "no-such-folder/mine.yaml"});
  EXPECT_EQ(made.code, 3);
  EXPECT_TRUE(contains(made.err, "could not be written")) << made.err;
  EXPECT_TRUE(folder_contents(folder.path()).empty());
}

}  // namespace
}  // namespace boughlight
