// boughlight watch ends at any moment, whatever ends it, and leaves nothing half done.
#include <gtest/gtest.h>
#include <signal.h>

#include <chrono>
#include <thread>

#include "program.h"
#include "scenes.h"
#include "watching.h"

namespace boughlight {
namespace {

namespace fs = std::filesystem;

TEST(WatchSlow, EndsAtAnyMomentWithNothingHalfLeft) {
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto whole = surveyed(scene);
  double longest = 0;
  for (int moment = 0; moment < 24; ++moment) {
    const std::string results = folder / "results";
    Watching watch(scene, {"-o", results});
    std::this_thread::sleep_for(std::chrono::milliseconds(10 + 20 * moment));
    const auto begin = std::chrono::steady_clock::now();
    const Outcome ended = watch.end(moment % 2 == 0 ? SIGINT : SIGTERM);
    longest =
        std::max(longest, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
    // Results that are being put in place are put in place, a moment after the end.
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    if (ended.code == 0) {
      EXPECT_EQ(ended.err, "");
    } else {
      // Before it began to watch it ends as any command.
      EXPECT_TRUE(ended.code > 128 && ended.out.empty()) << ended.code << ended.out << ended.err;
    }
    EXPECT_EQ(processes_with(results), 0u);
    if (!fs::exists(results)) continue;
    const auto found = folder_contents(results);
    EXPECT_TRUE(found.empty() || found == whole) << "moment " << moment;
    fs::remove_all(results);
  }
  EXPECT_LT(longest, 2);
  RecordProperty("longest_seconds", std::to_string(longest));
}

TEST(WatchSlow, ItsSurveyEndsWithItWhateverEndsIt) {
  const TemporaryFolder folder;
  const std::string scene = folder / "cage.yaml";
  ASSERT_EQ(boughlight_run({"new", scene}).code, 0);
  write_file(scene, changed(read_file(scene), "tolerance: 2 %", "tolerance: 0.05 %"));
  Watching watch(scene);
  ASSERT_TRUE(watch.hears(kLook)) << watch.out() << watch.err();
  EXPECT_EQ(watch.end(SIGKILL).code, 128 + SIGKILL);
  EXPECT_TRUE(within_reason([&] { return processes_with(scene) == 0; }));
  // What it left is no hindrance to the next one.
  write_file(scene, changed(read_file(scene), "tolerance: 0.05 %", "tolerance: 20 %"));
  Watching next(scene);
  ASSERT_TRUE(next.hears("Page")) << next.out() << next.err();
  EXPECT_EQ(next.end(SIGINT).code, 0);
  EXPECT_EQ(folder_contents(folder.path() / "cage"), surveyed(scene));
}

TEST(WatchSlow, OnATerminalItWipesItsProgress) {
  const TemporaryFolder folder;
  const std::string scene = folder / "cage.yaml";
  ASSERT_EQ(boughlight_run({"new", scene}).code, 0);
  // On a terminal of its own, by util-linux's script(1).
  const std::string process = folder / "process", said = folder / "said";
  const std::string command = "echo $$ > '" + process + "'; exec " + std::string(BOUGHLIGHT_PROGRAM) +
                              " watch '" + scene + "' --tolerance 0.05%";
  Running terminal("/usr/bin/script", {"-q", "-f", "-e", "-c", command, said}, {});
  const auto shows = [&](const std::string& text) {
    return within_reason([&] { return fs::exists(said) && contains(read_file(said), text); });
  };
  ASSERT_TRUE(shows("First look, still rough:\r\n"));
  ASSERT_TRUE(shows(" %  "));
  ASSERT_EQ(::kill(std::stoi(read_file(process)), SIGINT), 0);
  EXPECT_EQ(terminal.wait().code, 0);
  const std::string wiped = "\r" + std::string(79, ' ') + "\r";
  const std::string all = read_file(said);
  EXPECT_NE(all.find(wiped, all.rfind(" %  ")), std::string::npos) << all;
}

TEST(Watch, InterruptsThatAreIgnoredFromOutsideStayIgnored) {
  // As under nohup.
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto handler = ::signal(SIGHUP, SIG_IGN);
  Watching watch(scene, {"--quiet"});
  ::signal(SIGHUP, handler);
  ASSERT_TRUE(within_reason([&] { return fs::exists(folder.path() / "crate" / "watch.js"); }));
  watch.send(SIGHUP);
  ASSERT_TRUE(within_reason([&] { return fs::exists(folder.path() / "crate" / "readings.json"); }));
  const Outcome ended = watch.end(SIGTERM);
  EXPECT_EQ(ended.code, 0);
  EXPECT_EQ(ended.out + ended.err, "");
}

}  // namespace
}  // namespace boughlight
