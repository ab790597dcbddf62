// boughlight outlook, end to end on a crate with a closed-form answer.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// The crate, its bulb lit ten hours a day and down to half in 4000 h.
std::string write_ageing(const fs::path& folder, const std::string& want = "{min: 500}",
                         const std::string& more = "") {
  const std::string scene = write_crate(folder, want);
  std::string bulb = read_file(folder / "bulb.yaml");
  const std::string output = "output: {lux: 1000, at: 30 cm}\n";
  bulb.replace(bulb.find(output), output.size(), output + "    ageing: [[0 h, 1], [4000 h, 0.5]]\n");
  write_file(folder / "bulb.yaml", bulb);
  std::string text = read_file(scene);
  const std::string place = "at: [20, 20, 70]";
  text.replace(text.find(place), place.size(), place + ", lit: \"08:00-18:00\"");
  write_file(scene, text + more);
  return scene;
}

const json& lux_of(const json& result) {
  for (const json& figure : result["figures"])
    if (figure.value("reading", "") == "middle" && figure["quantity"] == "lux") return figure;
  throw std::runtime_error("no such figure");
}

TEST(OutlookCommand, TellsWhenAWantFailsByTheClosedForm) {
  const TemporaryFolder folder;
  const std::string scene = write_ageing(folder.path());
  const Outcome outlook = boughlight_run({"outlook", scene, "-o", folder / "year"});
  EXPECT_EQ(outlook.code, 1) << outlook.err;
  EXPECT_EQ(outlook.err, "");
  EXPECT_LE(longest_line(outlook.out), 80u) << outlook.out;
  const json result = json::parse(read_file(folder.path() / "year/outlook.json"));
  const json& lux = lux_of(result);
  // 562.5 (1 - h / 8000) = 500 at h = 888.9, which is 2.920 months of 304.4 h. (Rays are single precision.)
  EXPECT_NEAR(lux["fails"]["month"].get<double>(), 8000 * (1 - 500 / kCrateLux) / 304.375, 1e-3);
  EXPECT_EQ(lux["fails"]["remedies"][0]["kind"], "new-lamp");
  EXPECT_EQ(lux["fails"]["remedies"][0]["verdict"], "met");
  EXPECT_EQ(result["verdict"], "unmet");
  EXPECT_TRUE(contains(outlook.out, "middle: illuminance falls below 500 after 2.9 months")) << outlook.out;
  EXPECT_TRUE(contains(outlook.out, "by month 2.9: replace 'bulb'")) << outlook.out;
  for (const char* file : {"outlook.csv", "outlook.txt", "outlook.png", "outlook.html"})
    EXPECT_TRUE(fs::is_regular_file(folder.path() / "year" / file)) << file;
  EXPECT_TRUE(contains(outlook.out, read_file(folder.path() / "year/outlook.txt")));
  // One row a month and figure: the point's lux, UVI and irradiance.
  const std::string csv = read_file(folder.path() / "year/outlook.csv");
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 3 * 13);
}

TEST(OutlookCommand, AFortnightIsOneStep) {
  const TemporaryFolder folder;
  const Outcome outlook =
      boughlight_run({"outlook", write_ageing(folder.path()), "--months", "0.5", "--json"});
  ASSERT_EQ(outlook.code, 0) << outlook.err;
  EXPECT_EQ(json::parse(outlook.out)["months"], json({0, 0.5}));
}

TEST(OutlookCommand, IsExitCode0WhereEveryWantHolds) {
  const TemporaryFolder folder;
  const Outcome outlook = boughlight_run({"outlook", write_ageing(folder.path(), "{min: 200}")});
  EXPECT_EQ(outlook.code, 0) << outlook.err;
  EXPECT_TRUE(contains(outlook.out, "None of 1 wanted figures fails within 12 months")) << outlook.out;
}

TEST(OutlookCommand, OptionsGoBeforeTheScene) {
  const TemporaryFolder folder;
  const std::string scene = write_ageing(folder.path(), "{min: 500}", "outlook: {months: 6, step: 3}\n");
  EXPECT_EQ(json::parse(boughlight_run({"outlook", scene, "--json"}).out)["months"], json({0, 3, 6}));
  const Outcome given = boughlight_run({"outlook", scene, "--json", "--months", "2", "--step", "0.5"});
  EXPECT_EQ(json::parse(given.out)["months"], json({0, 0.5, 1, 1.5, 2}));
  EXPECT_EQ(given.code, 0) << "before it fails";
}

TEST(OutlookCommand, AnyNumberOfThreadsGivesTheSameFile) {
  const TemporaryFolder folder;
  const std::string scene =
      write_ageing(folder.path(), "{min: 500}",
                   "plants: [{name: bush, crown: {at: [20, 14, 45], radii: [6, 5, 5], leaf_area: 0.02 m2}, "
                   "leaf: {length: 2, "
                   "width: 1, material: broad-leaf}}]\n"
                   "outlook: {months: 4, step: 2, growing: {bush: {rate: 30 %, largest: 2}}}\n");
  const Outcome one = boughlight_run({"outlook", scene, "--json", "--threads", "1"});
  EXPECT_EQ(boughlight_run({"outlook", scene, "--json", "--threads", "3"}).out, one.out);
  const json result = json::parse(one.out);
  EXPECT_EQ(result["plants"][0]["name"], "bush");
  EXPECT_LT(lux_of(result)["values"][2], lux_of(result)["values"][0]);
}

TEST(OutlookCommand, WrongCallsAndScenesAreExitCode2) {
  const TemporaryFolder folder;
  const std::string scene = write_ageing(folder.path());
  const auto complaint = [&](const std::vector<std::string>& more) {
    std::vector<std::string> arguments = {"outlook", scene};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Outcome wrong = boughlight_run(arguments);
    EXPECT_EQ(wrong.code, 2);
    EXPECT_EQ(wrong.out, "");
    return wrong.err;
  };
  EXPECT_TRUE(contains(complaint({"--months", "0"}), "--months: '0' is not more than 0 and at most 120"));
  EXPECT_TRUE(contains(complaint({"--months", "soon"}), "--months: 'soon' is not a number"));
  EXPECT_TRUE(contains(complaint({"--step", "13"}), "a step of 13 months is longer than the 12 months"));
  EXPECT_TRUE(contains(complaint({"--step", "0.05"}), "at most 120 steps are allowed"));
  EXPECT_EQ(boughlight_run({"outlook"}).code, 2);
  const std::string wrong = write_ageing(folder.path(), "{min: 500}", "outlook: {years: 1}\n");
  EXPECT_TRUE(contains(boughlight_run({"outlook", wrong}).err, "outlook.years: is an unknown key"));
}

}  // namespace
}  // namespace boughlight
