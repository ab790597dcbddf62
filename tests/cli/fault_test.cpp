// Whatever goes wrong with the disk or the program: the results that were there stay whole, nothing stray is
// left, and the program says what is the matter.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <random>
#include <thread>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// A crate with results in `results` beside it.
struct Surveyed {
  TemporaryFolder folder;
  std::string scene = write_crate(folder.path());
  fs::path results = folder.path() / "results";
  std::map<std::string, std::string> before;

  Surveyed() {
    EXPECT_EQ(survey("1").code, 0);
    before = folder_contents(folder.path());
  }
  Outcome survey(const std::string& seed, RunOptions options = {}) const {
    return boughlight_run({"survey", scene, "--seed", seed, "-o", results.string(), "--quiet"}, options);
  }
  void expect_as_before() const { EXPECT_EQ(folder_contents(folder.path()), before); }
};

TEST(Fault, AFolderThatIsMissingIsMadeWithItsParents) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const Outcome survey = boughlight_run({"survey", scene, "-o", folder / "try 1/of/many", "--quiet"});
  EXPECT_EQ(survey.code, 0) << survey.err;
  EXPECT_TRUE(fs::is_regular_file(folder / "try 1/of/many/maps/day.png") ||
              fs::is_regular_file(folder / "try 1/of/many/readings.json"));
}

TEST(FaultSlow, AFileInTheWayOfAFolderIsToldAndLeft) {
  const Surveyed crate;
  for (const char* folder : {"maps", "vtk"}) {
    fs::rename(crate.results / folder, crate.folder.path() / "aside");
    write_file(crate.results / folder, "the keeper's");
    const auto standing = folder_contents(crate.folder.path());
    const Outcome survey = crate.survey("2");
    EXPECT_EQ(survey.code, 3);
    EXPECT_EQ(survey.err, "boughlight: " + (crate.results / folder).string() +
                              ": is in the way: a folder is needed here\n");
    EXPECT_EQ(folder_contents(crate.folder.path()), standing);
    fs::remove(crate.results / folder);
    fs::rename(crate.folder.path() / "aside", crate.results / folder);
  }
}

TEST(FaultSlow, AFolderInTheWayOfAFileIsToldAndLeft) {
  const Surveyed crate;
  for (const char* name : {"readings.json", "report.html", "vtk/scene.vtp"}) {
    const std::string text = read_file(crate.results / name);
    fs::remove(crate.results / name);
    fs::create_directory(crate.results / name);
    const auto standing = folder_contents(crate.folder.path());
    const Outcome survey = crate.survey("2");
    EXPECT_EQ(survey.code, 3);
    EXPECT_EQ(survey.err, "boughlight: " + (crate.results / name).string() +
                              ": is a folder; a file is to be written here\n");
    EXPECT_EQ(folder_contents(crate.folder.path()), standing);
    fs::remove(crate.results / name);
    write_file(crate.results / name, text);
  }
}

TEST(Fault, AFolderThatTheSystemRefusesIsTold) {
  // Nobody, not even the superuser, can make a folder there.
  const TemporaryFolder folder;
  const Outcome survey = boughlight_run({"survey", write_crate(folder.path()), "-o", "/proc/nobody/results"});
  EXPECT_EQ(survey.code, 3);
  EXPECT_TRUE(contains(survey.err, "/proc/nobody: cannot make this folder: No such file or directory"))
      << survey.err;
  if (geteuid() == 0) return;
  ASSERT_EQ(chmod(folder.path().c_str(), 0500), 0);
  const Outcome refused = boughlight_run({"survey", folder / "crate.yaml"});
  chmod(folder.path().c_str(), 0700);
  EXPECT_EQ(refused.code, 3);
  EXPECT_TRUE(contains(refused.err, "you may not write in '" + folder.path().string() + "'")) << refused.err;
}

TEST(Fault, FilesThatMayNotGrowLeaveTheOldResults) {
  const Surveyed crate;
  RunOptions small;
  small.most_file = 3000;
  const Outcome survey = crate.survey("2", small);
  EXPECT_EQ(survey.code, 3);
  EXPECT_TRUE(contains(survey.err, "cannot write: File too large")) << survey.err;
  crate.expect_as_before();
}

// Runs a shell's commands with mounts of their own; 127 where this machine does not allow any.
Outcome run_with_mounts(const std::string& commands) {
  static const std::vector<std::string> own = [] {
    for (const auto& how : {std::vector<std::string>{"--mount"}, {"--mount", "--map-root-user"}}) {
      std::vector<std::string> call = how;
      call.insert(call.end(), {"sh", "-c", "mount -t tmpfs none /mnt"});
      if (run_file("/usr/bin/unshare", call).code == 0) return how;
    }
    return std::vector<std::string>();
  }();
  if (own.empty()) {
    Outcome none;
    none.code = 127;
    return none;
  }
  std::vector<std::string> call = own;
  call.insert(call.end(), {"sh", "-c", "set -e; PATH=/usr/bin:/bin:/usr/sbin:/sbin; " + commands});
  return run_file("/usr/bin/unshare", call);
}

TEST(Fault, AFullDiskLeavesTheOldResults) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path()), program = BOUGHLIGHT_PROGRAM;
  const std::string survey = program + " survey " + scene + " --quiet -o /mnt/results --seed ";
  const Outcome outcome = run_with_mounts(
      "mount -t tmpfs -o size=8m none /mnt; " + survey + "1; cp -r /mnt/results " + folder / "before" +
      "; dd if=/dev/zero of=/mnt/rest bs=4096 2>/dev/null || true; code=0; " + survey +
      "2 || code=$?; cp -r /mnt/results " + folder / "after" + "; rm /mnt/rest; ls -A /mnt; exit $code");
  if (outcome.code == 127) GTEST_SKIP() << "no mounts here: FilesThatMayNotGrow stands in for a full disk";
  EXPECT_EQ(outcome.code, 3) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "cannot write: No space left on device")) << outcome.err;
  EXPECT_EQ(outcome.out, "results\n");
  EXPECT_EQ(folder_contents(folder / "after"), folder_contents(folder / "before"));
}

TEST(Fault, ADiskThatIsReadOnlyIsTold) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path()), program = BOUGHLIGHT_PROGRAM;
  const Outcome outcome = run_with_mounts("mount -t tmpfs -o ro none /mnt; exec " + program + " survey " +
                                          scene + " --quiet -o /mnt/results");
  if (outcome.code == 127) GTEST_SKIP() << "no mounts here: /proc stands in for a read-only disk";
  EXPECT_EQ(outcome.code, 3);
  EXPECT_EQ(
      outcome.err,
      "boughlight: results cannot go to '/mnt/results': you may not write in '/mnt'; name another folder "
      "with -o\n");
}

TEST(FaultSlow, AFileThatCannotBeReplacedLeavesAllOthersAsTheyWere) {
  // The system lets nothing take the place of a file that another is mounted on.
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path()), program = BOUGHLIGHT_PROGRAM;
  const std::string survey = program + " survey " + scene + " --quiet -o /mnt/results --seed ";
  write_file(folder / "other", "mounted");
  const Outcome outcome =
      run_with_mounts("mount -t tmpfs none /mnt; " + survey + "1; cp -r /mnt/results " + folder / "before" +
                      "; mount --bind " + folder / "other" + " /mnt/results/readings.csv; code=0; " + survey +
                      "2 || code=$?; umount /mnt/results/readings.csv; cp -r /mnt/results " +
                      folder / "after" + "; exit $code");
  if (outcome.code == 127) GTEST_SKIP() << "no mounts here: the tests of Staging have a failure on the way";
  EXPECT_EQ(outcome.code, 3) << outcome.err;
  EXPECT_EQ(outcome.err, "boughlight: /mnt/results/readings.csv: cannot write: Device or resource busy\n");
  EXPECT_EQ(folder_contents(folder / "after"), folder_contents(folder / "before"));
}

TEST(KillSlow, AHundredKillsAtRandomMomentsLeaveTheOldResultsOrTheNewOnes) {
  Surveyed crate;
  const Outcome whole = crate.survey("2");
  ASSERT_EQ(whole.code, 0);
  const std::array states = {crate.before, folder_contents(crate.folder.path())};
  ASSERT_NE(states[0], states[1]);
  std::size_t now = 1;
  std::mt19937 random(7);
  std::uniform_real_distribution<double> moment(0, 1.1 * whole.seconds);
  int killed = 0;
  for (int i = 0; i < 100; ++i) {
    const std::string other = now == 0 ? "2" : "1";
    Running run(BOUGHLIGHT_PROGRAM, {"survey", crate.scene, "--seed", other, "-o", crate.results.string()},
                {});
    std::this_thread::sleep_for(std::chrono::duration<double>(moment(random)));
    run.send(SIGKILL);
    killed += run.wait().code == 128 + SIGKILL;
    // What had begun to be put in place is carried through, a moment after the end.
    std::map<std::string, std::string> found;
    for (int wait = 0; wait < 100; ++wait) {
      found = folder_contents(crate.folder.path());
      if (found == states[0] || found == states[1]) break;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    ASSERT_TRUE(found == states[0] || found == states[1]) << "kill " << i;
    now = found == states[0] ? 0 : 1;
  }
  EXPECT_GT(killed, 50);
}

TEST(KillSlow, AFittedSceneAndItsPageAreOfTheSameRun) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto fit = [&](const std::string& lux) {
    write_file(folder.path() / "readings.csv", "place,quantity,reading\nmiddle,lux," + lux + "\n");
    return std::vector<std::string>{
        "fit", scene, folder / "readings.csv", "--overwrite", "-o", folder / "fitted.yaml", "--quiet"};
  };
  const auto results = [&] {
    auto found = folder_contents(folder.path());
    found.erase("readings.csv");
    return found;
  };
  std::array<std::map<std::string, std::string>, 2> states;
  const std::array<std::string, 2> readings = {"450", "500"};
  double seconds = 0;
  for (const std::size_t i : {1u, 0u}) {
    const Outcome whole = boughlight_run(fit(readings[i]));
    ASSERT_EQ(whole.code, 0) << whole.err;
    states[i] = results();
    seconds = whole.seconds;
  }
  ASSERT_NE(states[0], states[1]);
  std::size_t now = 0;
  std::mt19937 random(7);
  std::uniform_real_distribution<double> moment(0, 1.1 * seconds);
  for (int i = 0; i < 20; ++i) {
    Running run(BOUGHLIGHT_PROGRAM, fit(readings[1 - now]), {});
    std::this_thread::sleep_for(std::chrono::duration<double>(moment(random)));
    run.send(SIGKILL);
    run.wait();
    std::map<std::string, std::string> found;
    for (int wait = 0; wait < 100; ++wait) {
      found = results();
      if (found == states[0] || found == states[1]) break;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    ASSERT_TRUE(found == states[0] || found == states[1]) << "kill " << i;
    now = found == states[0] ? 0 : 1;
  }
}

}  // namespace
}  // namespace boughlight
