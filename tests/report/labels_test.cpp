#include "report/labels.h"

#include <gtest/gtest.h>

namespace boughlight {
namespace {

TEST(Labels, NeverOverlapEachOtherNorLeaveTheArea) {
  const Rect area{0, 0, 300, 200};
  LabelPlacer placer(area);
  std::vector<Rect> placed;
  for (int i = 0; i < 12; ++i) {
    // All want the same place.
    if (const auto rect = placer.beside({148, 98, 152, 102}, 60, 17, 3)) placed.push_back(*rect);
  }
  EXPECT_GE(placed.size(), 10u);
  for (std::size_t i = 0; i < placed.size(); ++i) {
    EXPECT_TRUE(area.contains(placed[i]));
    for (std::size_t j = 0; j < i; ++j) EXPECT_FALSE(placed[i].overlaps(placed[j])) << i << " " << j;
  }
}

TEST(Labels, StandToTheRightWhereThereIsRoom) {
  LabelPlacer placer({0, 0, 300, 200});
  const auto rect = placer.beside({90, 90, 110, 110}, 60, 16, 3);
  ASSERT_TRUE(rect);
  EXPECT_DOUBLE_EQ(rect->x0, 113);
  EXPECT_DOUBLE_EQ(rect->centre().y, 100);
}

TEST(Labels, KeepOffBlockedPlaces) {
  LabelPlacer placer({0, 0, 300, 200});
  placer.block({112, 0, 300, 200});
  const auto rect = placer.beside({90, 90, 110, 110}, 60, 16, 3);
  ASSERT_TRUE(rect);
  EXPECT_LE(rect->x1, 112);
}

TEST(Labels, AreLeftOutWhereTheAreaIsFull) {
  LabelPlacer placer({0, 0, 50, 30});
  EXPECT_FALSE(placer.beside({20, 10, 30, 20}, 60, 16, 3));
  EXPECT_TRUE(placer.at({25, 15}, 40, 16));
  EXPECT_FALSE(placer.at({25, 15}, 40, 16));
}

TEST(Labels, OnALineStandAsNearItsMiddleAsTheyCan) {
  LabelPlacer placer({0, 0, 300, 200});
  Path line;
  for (int x = 0; x <= 300; x += 10) line.push_back({double(x), 100});
  const auto first = placer.on(line, 40, 16), second = placer.on(line, 40, 16);
  ASSERT_TRUE(first && second);
  EXPECT_DOUBLE_EQ(first->centre().x, 150);
  EXPECT_DOUBLE_EQ(second->centre().x, 110);
}

}  // namespace
}  // namespace boughlight
