// Ctrl-C: the program ends at once, whatever it does, and what was there before stays.
#include <gtest/gtest.h>
#include <signal.h>

#include <thread>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// Half a second is what is asked for. Tests run beside others, which must not count: a program that goes on
// computing on one thread or more, whatever it is given of a processor, is seen by the time that it takes of
// that.
constexpr double kMostCpuSeconds = 0.25;
// One that only waits is seen by the clock, as far as a busy machine allows.
constexpr double kMostSeconds = 2;

struct Interrupted {
  Outcome outcome;
  double seconds = 0, cpu_seconds = 0;  // from the signal to the end

  bool at_once() const { return seconds < kMostSeconds && cpu_seconds < kMostCpuSeconds; }
};

Interrupted interrupt_after(double seconds, const std::vector<std::string>& arguments) {
  Running run(BOUGHLIGHT_PROGRAM, arguments, {});
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  const double cpu_before = run.cpu_seconds();
  const auto begin = std::chrono::steady_clock::now();
  run.send(SIGINT);
  Interrupted interrupted{run.wait(), 0, 0};
  interrupted.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  interrupted.cpu_seconds = interrupted.outcome.cpu_seconds - cpu_before;
  return interrupted;
}

// Results that are being put in place are put in place, a moment after the end.
std::map<std::string, std::string> settled_contents(const fs::path& folder) {
  std::this_thread::sleep_for(std::chrono::milliseconds(50));
  return folder_contents(folder);
}

TEST(InterruptSlow, ASurveyEndsAtAnyMomentAndLeavesTheOldResultsOrTheNewOnes) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto survey = [&](const std::string& seed, const std::string& to) {
    return std::vector<std::string>{"survey", scene, "--spacing", "3", "--seed", seed, "-o", folder / to};
  };
  ASSERT_EQ(boughlight_run(survey("1", "results")).code, 0);
  const Outcome whole = boughlight_run(survey("2", "other"));
  ASSERT_EQ(whole.code, 0);
  const auto before = folder_contents(folder / "results"), after = folder_contents(folder / "other");
  ASSERT_NE(before, after);

  constexpr int kMoments = 12;
  int stopped = 0;
  for (int moment = 0; moment < kMoments; ++moment) {
    const Interrupted interrupted =
        interrupt_after(whole.seconds * (moment + 0.5) / kMoments, survey("2", "results"));
    const Outcome& outcome = interrupted.outcome;
    if (outcome.code == 128 + SIGINT) {
      ++stopped;
      EXPECT_TRUE(interrupted.at_once())
          << interrupted.seconds << " s, " << interrupted.cpu_seconds << " s of the processor";
      EXPECT_EQ(outcome.out, "");
    } else {
      EXPECT_EQ(outcome.code, 0) << outcome.err;
    }
    const auto found = settled_contents(folder / "results");
    EXPECT_TRUE(found == before || found == after) << "moment " << moment;
    if (found == after) {
      ASSERT_EQ(boughlight_run(survey("1", "results")).code, 0);
    }
  }
  EXPECT_GE(stopped, kMoments / 2);
}

TEST(InterruptSlow, PlanningEndsAtAnyMomentAndLeavesNothing) {
  const TemporaryFolder folder;
  const std::string scene = folder / "cage.yaml";
  ASSERT_EQ(boughlight_run({"new", scene}).code, 0);
  write_file(folder / "readings.csv", "place,quantity,reading\nsun perch,uvi,3\nsun perch,lux,9000\n");
  const auto before = folder_contents(folder.path());
  const std::vector<std::vector<std::string>> calls = {
      {"survey", scene, "--tolerance", "0.1%"},
      {"place", scene, "uv tube", "--tolerance", "0.2%"},
      {"window", scene, "uv tube", "--tolerance", "0.2%"},
      {"tune", scene, "--further", "--tolerance", "0.2%"},
      {"fit", scene, folder / "readings.csv", "--tolerance", "0.2%"},
      {"outlook", scene, "-o", folder / "year", "--tolerance", "0.2%"},
      {"compare", scene, scene, "-o", folder / "same", "--tolerance", "0.2%"},
  };
  int stopped = 0;
  for (const auto& call : calls)
    for (const double moment : {0.02, 0.2, 0.7}) {
      const Interrupted interrupted = interrupt_after(moment, call);
      const Outcome& outcome = interrupted.outcome;
      if (outcome.code == 128 + SIGINT) {
        ++stopped;
        EXPECT_TRUE(interrupted.at_once())
            << call[0] << " after " << moment << " s took " << interrupted.seconds << " s, "
            << interrupted.cpu_seconds << " s of the processor";
        EXPECT_EQ(settled_contents(folder.path()), before) << call[0] << " after " << moment << " s";
      } else {
        // It was through before the signal came.
        EXPECT_LE(outcome.code, 1) << call[0] << outcome.err;
        for (const auto& [name, text] : settled_contents(folder.path()))
          if (!before.contains(name)) fs::remove(folder.path() / name);
      }
    }
  EXPECT_GE(stopped, 14);
}

TEST(Interrupt, OneThatIsIgnoredFromOutsideStaysIgnored) {
  // As under nohup.
  const TemporaryFolder folder;
  const auto handler = ::signal(SIGINT, SIG_IGN);
  Running run(BOUGHLIGHT_PROGRAM, {"survey", write_crate(folder.path())}, {});
  ::signal(SIGINT, handler);
  std::this_thread::sleep_for(std::chrono::milliseconds(30));
  run.send(SIGINT);
  EXPECT_EQ(run.wait().code, 0);
}

}  // namespace
}  // namespace boughlight
