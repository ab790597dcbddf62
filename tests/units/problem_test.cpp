#include <gtest/gtest.h>

#include "units/problem.h"

namespace boughlight {
namespace {

TEST(Problem, MessageLeavesOutWhatIsEmpty) {
  EXPECT_EQ((Problem{{"a.yaml", 3, 5}, "lamps[1].dim", "is 7"}).message(), "a.yaml:3:5: lamps[1].dim: is 7");
  EXPECT_EQ((Problem{{"a.yaml", 0, 0}, "", "cannot be read"}).message(), "a.yaml: cannot be read");
  EXPECT_EQ((Problem{{"a.yaml", 3, 0}, "", "has a tab"}).message(), "a.yaml:3: has a tab");
  EXPECT_EQ((Problem{{"", 0, 0}, "dim", "is 7"}).message(), "dim: is 7");
  EXPECT_EQ((Problem{{"", 0, 0}, "", "is 7"}).message(), "is 7");
}

TEST(InputError, WhatHoldsEveryMessageOneALine) {
  const InputError error({{{"a", 1, 2}, "x", "bad"}, {{"b", 3, 4}, "", "worse"}});
  EXPECT_STREQ(error.what(), "a:1:2: x: bad\nb:3:4: worse");
  EXPECT_EQ(error.problems().size(), 2u);
}

TEST(DidYouMean, NamesTheNearestWithinAFewLetters) {
  const std::vector<std::string> names = {"perches", "points", "plants", "lamps", "uvi"};
  EXPECT_EQ(did_you_mean("perchs", names), " (did you mean 'perches'?)");
  EXPECT_EQ(did_you_mean("Lamps", names), " (did you mean 'lamps'?)");
  EXPECT_EQ(did_you_mean("lmaps", names), " (did you mean 'lamps'?)");
  EXPECT_EQ(did_you_mean("uiv", names), " (did you mean 'uvi'?)");
  EXPECT_EQ(did_you_mean("enclosure", names), "");
  EXPECT_EQ(did_you_mean("zone-2", {"zone-2-maximum", "zone-2-mean", "zone-1"}), " (did you mean 'zone-1'?)");
  EXPECT_EQ(did_you_mean("field-zone-2", {"field-zone-2-maximum", "field-zone-2-mean"}),
            " (did you mean 'field-zone-2-mean'?)");
  EXPECT_EQ(did_you_mean("zo", {"zone-2-mean"}), "");
  EXPECT_EQ(did_you_mean("", names), "");
  EXPECT_EQ(did_you_mean("x", {"a"}), "");
  EXPECT_EQ(did_you_mean(std::string(100000, 'a'), names), "");
}

TEST(OneOf, ReadsAsASentence) {
  EXPECT_EQ(one_of({}), "");
  EXPECT_EQ(one_of({"a"}), "a");
  EXPECT_EQ(one_of({"a", "b"}), "a or b");
  EXPECT_EQ(one_of({"a", "b", "c"}), "a, b or c");
}

}  // namespace
}  // namespace boughlight
