// Ctrl-C: the program ends at once, whatever it does, and what was there before stays.
#include <gtest/gtest.h>
#include <signal.h>

#include <thread>

#include "program.h"
#include "scenes.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

// Half a second is what is asked for on a quiet machine; tests run beside others.
constexpr double kMostSeconds = 2;

struct Interrupted {
  Outcome outcome;
  double seconds = 0;  // from the signal to the end
};

Interrupted interrupt_after(double seconds, const std::vector<std::string>& arguments) {
  Running run(BOUGHLIGHT_PROGRAM, arguments, {});
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  const auto begin = std::chrono::steady_clock::now();
  run.send(SIGINT);
  Interrupted interrupted{run.wait(), 0};
  interrupted.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
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
  double longest = 0;
  for (int moment = 0; moment < kMoments; ++moment) {
    const auto [outcome, seconds] =
        interrupt_after(whole.seconds * (moment + 0.5) / kMoments, survey("2", "results"));
    longest = std::max(longest, seconds);
    if (outcome.code == 128 + SIGINT) {
      ++stopped;
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
  EXPECT_LT(longest, kMostSeconds);
  RecordProperty("longest_seconds", std::to_string(longest));
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
  double longest = 0;
  int stopped = 0;
  for (const auto& call : calls)
    for (const double moment : {0.02, 0.2, 0.7}) {
      const auto [outcome, seconds] = interrupt_after(moment, call);
      longest = std::max(longest, seconds);
      EXPECT_LT(seconds, kMostSeconds) << call[0] << " after " << moment << " s";
      if (outcome.code == 128 + SIGINT) {
        ++stopped;
        EXPECT_EQ(settled_contents(folder.path()), before) << call[0] << " after " << moment << " s";
      } else {
        // It was through before the signal came.
        EXPECT_LE(outcome.code, 1) << call[0] << outcome.err;
        for (const auto& [name, text] : settled_contents(folder.path()))
          if (!before.contains(name)) fs::remove(folder.path() / name);
      }
    }
  EXPECT_GE(stopped, 14);
  RecordProperty("longest_seconds", std::to_string(longest));
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
