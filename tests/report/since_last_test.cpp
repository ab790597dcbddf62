// What is said of a survey after another one.
#include <gtest/gtest.h>

#include "report/since_last.h"
#include "report/watch_page.h"

namespace boughlight {
namespace {

IndexFigure uvi(const std::string& of, double value, const std::string& verdict) {
  return {.of = of, .quantity = "uvi", .value = value, .se = 0.01, .min = 2.5, .max = 4, .verdict = verdict};
}

IndexRow row(std::vector<IndexFigure> asked) {
  IndexRow row;
  row.asked = std::move(asked);
  return row;
}

const char* const kLast = " Estimates, not measurements: the meter decides.\n";

TEST(SinceLast, TellsNothingWhereNothingChanged) {
  const IndexRow same = row({uvi("bough", 3, "met"), uvi("ledge", 3.5, "met")});
  EXPECT_EQ(changes_since(same, same),
            std::string("Nothing that is asked for changed.\nAll wants met.") + kLast);
  EXPECT_EQ(changes_since({}, {}),
            std::string("Nothing that is asked for changed.\nNothing is asked for.") + kLast);
}

TEST(SinceLast, TellsTheWorseFirstAndWhatIsStillOff) {
  const IndexRow before = row({uvi("fork", 2, "below"), uvi("ledge", 5, "above"), uvi("bough", 3, "met"),
                               uvi("root", 1, "below"), uvi("twig", 3, "met"), uvi("leaf", 3, "met")});
  const IndexRow now = row({uvi("fork", 3, "met"), uvi("ledge", 5, "above"), uvi("bough", 4.1, "unsure"),
                            uvi("root", 6, "above"), uvi("twig", 3.2, "met"), uvi("leaf", 3.02, "met")});
  EXPECT_EQ(changes_since(before, now), std::string(R"(For the worse
  ? bough: UVI 3 -> 4.1: too close to call, wanted 2.5 to 4 (before: as wanted).
For the better
  - fork: UVI 2 -> 3: as wanted, wanted 2.5 to 4 (before: too low).
From one side to the other
  ! root: UVI 1 -> 6: too high, wanted 2.5 to 4 (before: too low).
Not as wanted still
  ! ledge: UVI 5: too high, wanted 2.5 to 4.
Moved, and as wanted still
  - twig: UVI 3 -> 3.2: as wanted, wanted 2.5 to 4.
2 of 6 not met, 1 unsure.)") + kLast);
}

TEST(SinceLast, TellsOfWantsThatComeGoAndChange) {
  IndexFigure loose = uvi("bough", 3, "met");
  loose.max = 5;
  const std::string said = changes_since(row({uvi("bough", 3, "met"), uvi("old perch", 3, "met")}),
                                         row({loose, uvi("new perch", 1, "below")}));
  EXPECT_NE(said.find("(before: wanted 2.5"), std::string::npos) << said;
  EXPECT_NE(said.find("Asked for now\n  ! new perch: UVI"), std::string::npos) << said;
  EXPECT_NE(said.find("No longer asked for: old perch: UVI"), std::string::npos) << said;
  EXPECT_EQ(said.find("Nothing"), std::string::npos) << said;
}

TEST(SinceLast, KeepsToItsColumnsWhateverTheNames) {
  const std::string name(300, 'x');
  const std::string said = changes_since(row({uvi(name, 3, "met"), uvi("gone" + name, 3, "met")}),
                                         row({uvi(name, 5, "above"), uvi("come" + name, 3, "met")}));
  for (std::size_t from = 0; from < said.size();) {
    const std::size_t end = said.find('\n', from);
    EXPECT_LE(end - from, 80u);
    from = end + 1;
  }
}

TEST(WatchPage, TellsItsStateInAScriptThatNoTextCanLeave) {
  EXPECT_EQ(
      watch_state_script({WatchState::Doing::mistake, "7", "a\"b\n</script>\u2028"}),
      "boughlightWatch({\"doing\":\"mistake\",\"results\":\"7\",\"text\":\"a\\\"b\\n</script>\\u2028\"});\n");
  const std::string page = watch_page_html("<b>&");
  EXPECT_NE(page.find("<title>&lt;b&gt;&amp;</title>"), std::string::npos);
  EXPECT_EQ(page.find("{{"), std::string::npos);
}

}  // namespace
}  // namespace boughlight
