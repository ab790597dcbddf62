// Scenes with models and bodies of lamps, end to end.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

using nlohmann::json;

// A box of 10 cm about the file's origin, without its top where `open`.
std::string box_obj(bool open = false) {
  std::string text = "# invented for the tests\n";
  for (const char* corner :
       {"-5 -5 -5", "5 -5 -5", "5 5 -5", "-5 5 -5", "-5 -5 5", "5 -5 5", "5 5 5", "-5 5 5"})
    text += std::string("v ") + corner + "\n";
  text += "f 4 3 2 1\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";
  return open ? text : text + "f 5 6 7 8\n";
}

// The crate with more in it.
std::string with(const std::string& crate, const std::string& more) {
  write_file(crate, read_file(crate) + more);
  return crate;
}
const std::string kBlock = "models: [{name: block, file: block.obj, at: [20, 20, 45], material: cork}]\n";

TEST(ModelScene, IsListedByCheck) {
  const TemporaryFolder folder;
  write_file(folder / "block.obj", box_obj(true));
  const std::string scene = with(write_crate(folder.path()), kBlock);
  const Outcome check = boughlight_run({"check", scene});
  EXPECT_EQ(check.code, 0) << check.err;
  for (const char* part : {"Models", "block             10 triangles of block.obj, 10 x 10 x 10",
                           "open, cork", "model 'block' is not closed: 4 edges of its surface are open"}) {
    EXPECT_TRUE(contains(check.out, part)) << part << " in\n" << check.out;
  }
  EXPECT_LE(longest_line(check.out), 80u) << check.out;
  const json models = json::parse(boughlight_run({"check", scene, "--json"}).out)["models"];
  ASSERT_EQ(models.size(), 1u);
  EXPECT_EQ(models[0]["name"], "block");
  EXPECT_EQ(models[0]["triangles"], 10);
  EXPECT_EQ(models[0]["open_edges"], 4);
  EXPECT_NEAR(models[0]["low"][2].get<double>(), 0.40, 1e-7);
}

TEST(ModelScene, ShadesTheSensorBelowIt) {
  // The crate's walls are black and its one lamp is a point above the block, which is wider: no light is
  // left.
  const TemporaryFolder folder;
  write_file(folder / "block.obj", box_obj());
  const std::string scene = with(write_crate(folder.path(), "{max: 1}"), kBlock);
  const Outcome survey = boughlight_run({"survey", scene});
  EXPECT_EQ(survey.code, 0) << survey.err;
  EXPECT_EQ(survey.err, "");
  const json readings = json::parse(read_file(folder.path() / "crate/readings.json"));
  EXPECT_EQ(readings["readings"][0]["values"]["lux"]["value"].get<double>(), 0);
}

TEST(ModelScene, ACautionSaysThatAModelIsOpen) {
  const TemporaryFolder folder;
  write_file(folder / "block.obj", box_obj(true));
  const std::string scene = with(write_crate(folder.path(), "{max: 1000}"), kBlock);
  EXPECT_EQ(boughlight_run({"survey", scene, "--quiet"}).code, 0);
  const json readings = json::parse(read_file(folder.path() / "crate/readings.json"));
  bool told = false;
  for (const json& caution : readings["cautions"])
    told = told || contains(caution["text"].get<std::string>(), "model 'block' is not closed");
  EXPECT_TRUE(told) << readings["cautions"];
}

TEST(ModelScene, MistakesInTheObjFileHaveItsLine) {
  const TemporaryFolder folder;
  write_file(folder / "block.obj", box_obj() + "f 1 2 99\n");
  const Outcome check = boughlight_run({"check", with(write_crate(folder.path()), kBlock)});
  EXPECT_EQ(check.code, 2);
  EXPECT_EQ(check.out, "");
  EXPECT_TRUE(contains(check.err, (folder / "block.obj") + ":16: names vertex 99, but the file has only 8"))
      << check.err;
}

TEST(LampBodyScene, IsListedAndShadesOtherLamps) {
  const TemporaryFolder folder;
  const std::string crate = write_crate(folder.path(), "{max: 1}");
  // A dark second lamp whose body covers the crate's open top.
  write_file(folder / "lid.yaml",
             "fixture: 1\nemitter: {shape: point}\nbody: {length: 60 cm, width: 60 cm, height: 2 cm, "
             "reflectance: 0}\n"
             "emission: [{part: light, spectrum: {blackbody: 2900 K}, output: {lux: 1, at: 50 cm}}]\n");
  std::string text = read_file(crate);
  const std::size_t lamps = text.find("lamps:");
  ASSERT_NE(lamps, std::string::npos);
  const Outcome sheet = boughlight_run({"fixture", folder / "lid.yaml"});
  EXPECT_EQ(sheet.code, 0) << sheet.err;
  EXPECT_TRUE(contains(sheet.out, "60 x 60 x 2 cm (length, width, height) behind the emitter")) << sheet.out;
  text.insert(text.find('\n', lamps) + 1, "  - {name: lid, fixture: lid.yaml, at: [20, 20, 62], dim: 0}\n");
  write_file(crate, text);
  const Outcome check = boughlight_run({"check", crate});
  EXPECT_EQ(check.code, 0) << check.err;
  EXPECT_TRUE(contains(check.out, "its body stops light")) << check.out;
  EXPECT_EQ(boughlight_run({"survey", crate}).code, 0);
  const json readings = json::parse(read_file(folder.path() / "crate/readings.json"));
  EXPECT_EQ(readings["readings"][0]["values"]["lux"]["value"].get<double>(), 0);
}

}  // namespace
}  // namespace boughlight
