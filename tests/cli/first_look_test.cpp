// What a survey says of the wants on a terminal while it still works.
#include <gtest/gtest.h>

#include <algorithm>

#include "program.h"
#include "scenes.h"
#include "units/units.h"

namespace boughlight {
namespace {

// On a terminal of its own, by util-linux's script(1): both streams together, with a terminal's line ends.
Outcome on_terminal(const std::string& command) {
  Outcome outcome = run_file("/usr/bin/script", {"-q", "-e", "-c", command, "/dev/null"});
  std::erase(outcome.out, '\r');
  return outcome;
}

TEST(FirstLookSlow, TellsEveryWantBeforeTheResults) {
  const TemporaryFolder folder;
  const std::string command =
      std::string(BOUGHLIGHT_PROGRAM) + " survey '" + write_crate(folder.path()) + "'";
  const Outcome survey = on_terminal(command);
  EXPECT_EQ(survey.code, 0) << survey.out;
  const std::size_t look = survey.out.find("First look, still rough:\n");
  ASSERT_NE(look, std::string::npos) << survey.out;
  EXPECT_LT(look, survey.out.find("Report")) << survey.out;
  // The lamp is a point and the walls are black: even a pilot has the closed form's figure.
  const std::string said = survey.out.substr(look, survey.out.find("Report") - look);
  EXPECT_TRUE(contains(said, "lux " + print_number(kCrateLux, 2) + " lx (")) << said;
  EXPECT_EQ(on_terminal(command + " --quiet").out, "");
}

}  // namespace
}  // namespace boughlight
