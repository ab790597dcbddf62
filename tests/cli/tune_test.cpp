// boughlight tune: the changes with which every want is met.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

using Json = nlohmann::json;

TEST(TuneCommand, WritesANewSceneInWhichTheWantIsMet) {
  const TemporaryFolder folder;
  std::string scene = write_crate(folder.path(), "{min: 250, max: 300}");
  std::string text = read_file(scene);
  text.replace(text.find("at: [20, 20, 70]"), 16, "at: [20, 20, 70], dim: 100 %");
  write_file(scene, text);
  const Outcome tune = boughlight_run({"tune", scene, "--json"});
  EXPECT_EQ(tune.code, 0) << tune.err;
  const Json json = Json::parse(tune.out);
  EXPECT_EQ(json["verdict_before"], "unmet");
  EXPECT_EQ(json["verdict"], "met");
  EXPECT_EQ(json["written"], "crate-tuned.yaml");
  EXPECT_TRUE(contains(read_file(folder / "crate-tuned.html"), "<!doctype html>"));
  ASSERT_EQ(json["changes"].size(), 1U);
  EXPECT_EQ(json["changes"][0]["what"], "dim");
  EXPECT_EQ(read_file(scene), text) << "the scene itself stays";
  EXPECT_EQ(boughlight_run({"survey", folder / "crate-tuned.yaml", "--quiet"}).code, 0);
}

TEST(TuneCommand, WritesNothingWhereNothingChanges) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const Outcome tune = boughlight_run({"tune", scene});
  EXPECT_EQ(tune.code, 0) << tune.err;
  EXPECT_TRUE(contains(tune.out, "nothing needs to be changed")) << tune.out;
  EXPECT_EQ(tune.err, "");
  EXPECT_LE(longest_line(tune.out), 80U) << tune.out;
  EXPECT_FALSE(contains(tune.out, "New scene"));
  const Outcome named = boughlight_run({"tune", scene, "-o", folder / "new.yaml"});
  EXPECT_TRUE(contains(named.out, "new.yaml' was not written")) << named.out;
  EXPECT_EQ(folder_contents(folder.path()).size(), 2U);
}

TEST(TuneCommand, SaysSoWhereAWantCannotBeMet) {
  const TemporaryFolder folder;
  const Outcome tune = boughlight_run({"tune", write_crate(folder.path(), "{min: 2000}"), "--only", "dim"});
  EXPECT_EQ(tune.code, 1) << tune.err;
  EXPECT_TRUE(contains(tune.out, "Not met")) << tune.out;
  EXPECT_LE(longest_line(tune.out), 80U) << tune.out;
}

TEST(TuneCommand, WrongCallsAreTold) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  EXPECT_EQ(boughlight_run({"tune"}).code, 2);
  EXPECT_EQ(boughlight_run({"tune", folder / "none.yaml"}).code, 2);
  const Outcome only = boughlight_run({"tune", scene, "--only", "dims"});
  EXPECT_EQ(only.code, 2);
  EXPECT_TRUE(contains(only.err, "--only: 'dims' is not known (did you mean 'dim'?)")) << only.err;
  const Outcome keep = boughlight_run({"tune", scene, "--keep", "bulp"});
  EXPECT_EQ(keep.code, 2);
  EXPECT_TRUE(contains(keep.err, "--keep: the scene has no lamp 'bulp' (did you mean 'bulb'?); it has bulb"))
      << keep.err;
}

}  // namespace
}  // namespace boughlight
