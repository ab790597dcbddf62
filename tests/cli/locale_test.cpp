// Wherever it runs: commas in numbers, odd paths, no home, no network, from any folder, built or installed.
#include <gtest/gtest.h>
#include <unistd.h>

#include <nlohmann/json.hpp>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

TEST(LocaleSlow, CommasInNumbersChangeNothing) {
  const TemporaryFolder folder;
  // Without the category of numbers every locale is the plain one, so a locale of that category alone will
  // do.
  write_file(
      folder.path() / "comma.src",
      "comment_char %\nescape_char /\nLC_NUMERIC\ndecimal_point \",\"\nthousands_sep \".\"\ngrouping 3;3\n"
      "END LC_NUMERIC\n");
  run_file("/usr/bin/localedef",
           {"-c", "-i", folder / "comma.src", "-f", "ANSI_X3.4-1968", folder / "comma"});  // 1: has warnings
  RunOptions commas;
  commas.variables = {{"LOCPATH", folder.path().string()}, {"LC_ALL", "comma"}, {"LANG", "comma"}};
  ASSERT_EQ(run_file("/usr/bin/printf", {"%.1f", "1,5"}, commas).out, "1,5")
      << "the locale itself does not work";

  const std::string scene = write_crate(folder.path());
  for (const std::vector<std::string>& call : {std::vector<std::string>{"check", scene},
                                               {"survey", scene},
                                               {"survey", scene, "--json", "--tolerance", "0.03"},
                                               {"fixture", folder / "bulb.yaml"},
                                               {"place", scene, "bulb", "--json", "--step", "10"},
                                               {"library"}}) {
    const Outcome plain = boughlight_run(call);
    std::map<std::string, std::string> files;
    if (call[0] != "check") files = folder_contents(folder.path());
    const Outcome with_commas = boughlight_run(call, commas);
    EXPECT_EQ(with_commas.code, plain.code) << call[0] << with_commas.err;
    EXPECT_EQ(with_commas.out, plain.out) << call[0];
    EXPECT_EQ(with_commas.err, plain.err) << call[0];
    if (call[0] != "check") {
      EXPECT_EQ(folder_contents(folder.path()), files) << call[0];
    }
  }
}

TEST(PathsSlow, BlanksQuotesAndLettersOfAnyAlphabetAreFine) {
  const TemporaryFolder top;
  for (const char* name : {"two words", "K\u00e4fig \u6a39 \U0001f98e", "it's \"100%\" {} $HOME `x` #1; -o",
                           "\xe4\xff not UTF-8"}) {
    const fs::path folder = top.path() / name;
    fs::create_directory(folder);
    const std::string scene = write_crate(folder, "{min: 500}", std::string(name) + ".yaml");
    const Outcome check = boughlight_run({"check", scene});
    EXPECT_EQ(check.code, 0) << check.err;
    const Outcome survey = boughlight_run({"survey", scene});
    EXPECT_EQ(survey.code, 0) << survey.err;
    const json readings = json::parse(read_file(folder / name / "readings.json"));
    EXPECT_EQ(readings["verdict"], "met");
    EXPECT_TRUE(fs::exists(folder / name / "report.html"));
    const fs::path other = folder / (std::string("results of ") + name);
    EXPECT_LE(boughlight_run({"place", scene, "bulb", "--step", "20", "-o", other.string()}).code, 1);
    EXPECT_TRUE(fs::exists(other / "place-bulb.json"));
    const Outcome fresh = boughlight_run({"new", (folder / "new.yaml").string(), "--json"});
    EXPECT_EQ(fresh.code, 0) << fresh.err;
    EXPECT_TRUE(json::accept(fresh.out));
  }
}

TEST(PathsSlow, TheProgramRunsFromAnyFolderEvenFromNone) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  RunOptions options;
  options.folder = "/";
  EXPECT_EQ(boughlight_run({"survey", scene, "--quiet"}, options).code, 0);
  fs::create_directories(folder.path() / "deep/er");
  options.folder = folder.path() / "deep/er";
  EXPECT_EQ(boughlight_run({"survey", "../../crate.yaml", "-o", "../out", "--quiet"}, options).code, 0);
  EXPECT_TRUE(fs::exists(folder.path() / "deep/out/readings.json"));
  // A folder that is removed while a shell is in it.
  const Outcome outcome = run_file(
      "/bin/sh",
      {"-c", "mkdir \"$1/gone\" && cd \"$1/gone\" && rmdir ../gone && exec \"$0\" survey \"$2\" --quiet",
       BOUGHLIGHT_PROGRAM, folder.path().string(), scene});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
}

TEST(HomeSlow, IsNeitherReadNorWritten) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  RunOptions options;
  // Nobody can write there.
  for (const char* name : {"HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "TMPDIR"})
    options.variables[name] = "/proc";
  const Outcome survey = boughlight_run({"survey", scene, "--quiet"}, options);
  EXPECT_EQ(survey.code, 0) << survey.err;
  const Outcome bare = run_file("/usr/bin/env", {"-i", BOUGHLIGHT_PROGRAM, "survey", scene, "--quiet"});
  EXPECT_EQ(bare.code, 0) << bare.err;
}

TEST(Network, IsNotNeeded) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  for (const auto& how : {std::vector<std::string>{"--net"}, {"--net", "--map-root-user"}}) {
    std::vector<std::string> call = how;
    call.insert(call.end(), {BOUGHLIGHT_PROGRAM, "survey", scene, "--quiet"});
    const Outcome survey = run_file("/usr/bin/unshare", call);
    if (contains(survey.err, "unshare")) continue;
    EXPECT_EQ(survey.code, 0) << survey.err;
    return;
  }
  GTEST_SKIP() << "this machine does not allow to take the network away";
}

TEST(Installed, TheLibraryBesideTheProgramIsTheOneThatIsRead) {
  // As `cmake --install` lays it out, under a path with a blank in it.
  const TemporaryFolder folder;
  const fs::path prefix = folder.path() / "my programs";
  fs::create_directories(prefix / "bin");
  fs::create_directories(prefix / "share/boughlight");
  fs::copy_file(BOUGHLIGHT_PROGRAM, prefix / "bin/boughlight");
  fs::copy(fs::path(BOUGHLIGHT_SOURCE_DIR) / "fixtures", prefix / "share/boughlight/fixtures",
           fs::copy_options::recursive);
  fs::copy_file(prefix / "share/boughlight/fixtures/lamps/tube-uv-55.yaml",
                prefix / "share/boughlight/fixtures/lamps/tube-of-my-own.yaml");
  RunOptions options;
  options.folder = "/";
  const Outcome library = run_file((prefix / "bin/boughlight").string(), {"library"}, options);
  EXPECT_EQ(library.code, 0) << library.err;
  EXPECT_TRUE(contains(library.out, "tube-of-my-own")) << library.out;
  // By a link in another folder as well.
  fs::create_symlink(prefix / "bin/boughlight", folder.path() / "light");
  EXPECT_EQ(run_file(folder / "light", {"library"}, options).out, library.out);
  const std::string scene = write_crate(folder.path());
  EXPECT_EQ(run_file((prefix / "bin/boughlight").string(), {"survey", scene, "--quiet"}, options).code, 0);
}

}  // namespace
}  // namespace boughlight
