#include "report/slice.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "sample_survey.h"

namespace boughlight {
namespace {

std::vector<std::string> names(const std::vector<Slice>& slices) {
  std::vector<std::string> found;
  for (const Slice& slice : slices) found.push_back(slice.name);
  return found;
}

bool inside(const SliceField& field, double u, double v) {
  const std::vector<Rect> boxes = field.boxes();
  return std::any_of(boxes.begin(), boxes.end(), [&](const Rect& box) { return box.contains(Spot{u, v}); });
}

TEST(Slices, ShowTheLevelsThatMatterFromTheTopDownAndTwoSections) {
  // Backs at 143, 75 and 65 cm, the hottest place at 157, the middle of 160 at 80, the floor: layers of 5 cm.
  EXPECT_EQ(names(slices_of(sample_survey())),
            (std::vector<std::string>{"plan-z158cm", "plan-z143cm", "plan-z83cm", "plan-z78cm", "plan-z68cm",
                                      "plan-z3cm", "front", "side"}));
}

TEST(Slices, OneLayerIsShownOnce) {
  Survey survey = sample_survey();
  for (Perch& perch : survey.scene.perches) perch.at.z() = 1.38;
  survey.hottest->uvi.at.z() = 1.43;
  EXPECT_EQ(names(slices_of(survey)),
            (std::vector<std::string>{"plan-z143cm", "plan-z83cm", "plan-z3cm", "front", "side"}));
  EXPECT_NE(slices_of(survey)[0].caption.find("and 3 more"), std::string::npos);
}

TEST(Slices, NamesUseTheScenesUnitAndStayApart) {
  Survey survey = sample_survey();
  for (const char* unit : {"mm", "cm", "m", "in", "ft"}) {
    survey.scene.length_unit = unit;
    const std::vector<std::string> found = names(slices_of(survey));
    EXPECT_EQ(std::set<std::string>(found.begin(), found.end()).size(), found.size()) << unit;
    EXPECT_EQ(found[0].substr(found[0].size() - std::string(unit).size()), unit);
  }
  survey.scene.length_unit = "in";
  EXPECT_EQ(slices_of(survey)[1].name, "plan-z56in");  // 142.5 cm are 56.1 in
}

TEST(Slices, SectionsGoThroughTheFirstPerchWithWants) {
  Survey survey = sample_survey();
  std::swap(survey.scene.perches[0], survey.scene.perches[2]);  // the low ledge has none
  const std::vector<Slice> slices = slices_of(survey);
  EXPECT_DOUBLE_EQ(slices[slices.size() - 2].at, 0.30);  // y of the shade fork
  EXPECT_DOUBLE_EQ(slices.back().at, 0.38);
  survey.scene.perches.clear();
  EXPECT_NEAR(slices_of(survey).back().at, 0.45, 1e-12);  // the middle of the cabinet
}

// value = a x + b y + c z is what straight lines between cells must give back everywhere, walls and joint
// included.
TEST(SliceFields, GiveALinearFieldBackExactly) {
  const auto value = [](double x, double y, double z) { return 20 + 3 * x - 2 * y + 5 * z; };
  const Survey survey = survey_with_field([&](const Vec3& p) { return value(p.x(), p.y(), p.z()); });
  const SliceField front(survey, Quantity::uvi, {View::front, 0.32, "", ""});
  // y = 32 cm lies in the layer from 30 to 35 cm.
  for (const Vec3& p : {Vec3(0.45, 0.325, 0.7), Vec3(0.16, 0.325, 1.55), Vec3(0.30, 0.325, 1.09),
                        Vec3(0.30, 0.325, 1.11), Vec3(0.01, 0.325, 0.01), Vec3(0.749, 0.325, 1.599)}) {
    ASSERT_TRUE(front.value(p.x(), p.z())) << p.transpose();
    EXPECT_NEAR(*front.value(p.x(), p.z()), value(p.x(), p.y(), p.z()), 1e-9) << p.transpose();
  }
  const SliceField plan(survey, Quantity::ppfd, {View::plan, 1.43, "", ""});
  EXPECT_NEAR(*plan.value(0.151, 0.549), value(0.151, 0.549, 1.425), 1e-9);
  const SliceField side(survey, Quantity::irradiance, {View::side, 0.46, "", ""});
  EXPECT_NEAR(*side.value(0.2, 0.3), value(0.475, 0.2, 0.3), 1e-9);
}

TEST(SliceFields, HaveNoValueOutsideTheBoxes) {
  const Survey survey = sample_survey();
  const SliceField front(survey, Quantity::uvi, {View::front, 0.32, "", ""});
  EXPECT_FALSE(inside(front, 0.1, 1.3));  // beside the cage, above the cabinet
  EXPECT_FALSE(front.value(0.1, 1.3));
  EXPECT_FALSE(inside(front, 0.5, 1.7));
  EXPECT_TRUE(inside(front, 0.1, 1.0));
}

TEST(SliceFields, CellsWithoutFreeVolumeHaveNoValueAndNoWeight) {
  Survey survey = survey_with_field([](const Vec3&) { return 4.0; });
  for (Cell& cell : survey.cells) {
    if (std::abs(cell.centre.x() - 0.475) > 1e-6) continue;
    cell.free_share = 0;
    cell.up[static_cast<std::size_t>(Quantity::uvi)].value = 1e9;
  }
  const SliceField front(survey, Quantity::uvi, {View::front, 0.32, "", ""});
  EXPECT_TRUE(inside(front, 0.475, 0.5));
  EXPECT_FALSE(front.value(0.475, 0.5));
  EXPECT_DOUBLE_EQ(*front.value(0.449, 0.5), 4.0);
  EXPECT_DOUBLE_EQ(*front.value(0.501, 0.5), 4.0);
}

TEST(SliceFields, NeverGoBelowZero) {
  const Survey survey = survey_with_field([](const Vec3& p) { return p.x() < 0.05 ? 0.0 : 10.0; });
  const SliceField front(survey, Quantity::uvi, {View::front, 0.32, "", ""});
  EXPECT_EQ(*front.value(0.001, 0.5), 0.0);
}

}  // namespace
}  // namespace boughlight
