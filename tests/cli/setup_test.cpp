// cli/setup, with stand-ins for the system's own programs so that nothing is ever installed.
#include <gtest/gtest.h>

#include "program.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

class Setup : public ::testing::Test {
 protected:
  // A program of that name that goes before the system's.
  void stand_in(const std::string& name, const std::string& body) {
    const fs::path file = folder_.path() / name;
    write_file(file, "#!/bin/bash\n" + body + "\n");
    fs::permissions(file, fs::perms::owner_all);
  }
  void installed(const std::string& verdict) { stand_in("dpkg-query", verdict); }
  void user_is(int id) { stand_in("id", "echo " + std::to_string(id)); }

  Outcome run() {
    RunOptions options;
    options.variables["PATH"] = folder_.path().string() + ":/usr/bin:/bin";
    return run_file("/bin/bash", {std::string(BOUGHLIGHT_SOURCE_DIR) + "/cli/setup"}, options);
  }
  std::string log() { return fs::exists(folder_ / "log") ? read_file(folder_ / "log") : ""; }
  void log_apt(int code = 0) {
    stand_in("apt-get", "echo apt-get \"$@\" >> '" + (folder_ / "log") + "'; exit " + std::to_string(code));
  }

  TemporaryFolder folder_;
};

TEST_F(Setup, WithEverythingThereInstallsNothingAndSaysNothing) {
  installed("echo installed");
  log_apt();
  user_is(0);
  const Outcome setup = run();
  EXPECT_EQ(setup.code, 0) << setup.err;
  EXPECT_EQ(log(), "");
  EXPECT_EQ(setup.out + setup.err, "");
}

TEST_F(Setup, RootInstallsJustWhatIsMissing) {
  installed("case $4 in libcli11-dev|libfmt-dev) exit 1;; *) echo installed;; esac");
  log_apt();
  user_is(0);
  const Outcome setup = run();
  EXPECT_EQ(setup.code, 0) << setup.err;
  EXPECT_EQ(log(),
            "apt-get -q -y update\napt-get -q -y install --no-install-recommends libcli11-dev libfmt-dev\n");
}

TEST_F(Setup, APackageThatWasRemovedCountsAsMissing) {
  installed("if [[ $4 == libfmt-dev ]]; then echo config-files; else echo installed; fi");
  log_apt();
  user_is(0);
  EXPECT_EQ(run().code, 0);
  EXPECT_TRUE(contains(log(), "install --no-install-recommends libfmt-dev\n")) << log();
}

TEST_F(Setup, SudoIsUsedWhereItAsksNothing) {
  installed("[[ $4 == libfmt-dev ]] || echo installed");
  log_apt();
  user_is(1000);
  stand_in("sudo", "shift; echo sudo >> '" + (folder_ / "log") + "'; \"$@\"");
  EXPECT_EQ(run().code, 0);
  EXPECT_TRUE(contains(log(), "sudo\napt-get -q -y install --no-install-recommends libfmt-dev\n")) << log();
}

TEST_F(Setup, WithoutRightsItNamesThePackagesAndStopsCleanly) {
  installed("[[ $4 == libfmt-dev || $4 == cmake ]] || echo installed");
  log_apt();
  user_is(1000);
  stand_in("sudo", "exit 1");
  const Outcome setup = run();
  EXPECT_EQ(setup.code, 2);
  EXPECT_EQ(setup.out, "");
  EXPECT_TRUE(
      contains(setup.err, "apt-get update && apt-get install --no-install-recommends cmake libfmt-dev"))
      << setup.err;
  EXPECT_EQ(log(), "");
}

TEST_F(Setup, AFailedInstallationIsToldAndStops) {
  installed("[[ $4 == libfmt-dev ]] || echo installed");
  log_apt(100);
  user_is(0);
  const Outcome setup = run();
  EXPECT_EQ(setup.code, 2);
  EXPECT_TRUE(contains(setup.err, "could not be installed")) << setup.err;
}

}  // namespace
}  // namespace boughlight
