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

TEST(Watch, InterruptsThatAreIgnoredFromOutsideStayIgnored) {
  // As under nohup.
  const TemporaryFolder folder;
  const std::string scene = write_crate(folder.path());
  const auto handler = ::signal(SIGHUP, SIG_IGN);
  Watching watch(scene, {"--quiet"});
  ::signal(SIGHUP, handler);
  ASSERT_TRUE(watch.wait_until([&] { return fs::exists(folder.path() / "crate" / "watch.js"); }));
  watch.send(SIGHUP);
  ASSERT_TRUE(watch.wait_until([&] { return fs::exists(folder.path() / "crate" / "readings.json"); }));
  const Outcome ended = watch.end(SIGTERM);
  EXPECT_EQ(ended.code, 0);
  EXPECT_EQ(ended.out + ended.err, "");
}

}  // namespace
}  // namespace boughlight
