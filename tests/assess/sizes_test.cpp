// Other sizes of the animal on the same perches.
#include <gtest/gtest.h>

#include "assess/survey.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kAtAMetre = 10;  // W/m2

// A point lamp 50 cm straight over the perch, all else black.
Scene perch_under_a_point() {
  Scene scene;
  Box& box = kit::add_box(scene, {0.5, 0.5, 0.6}, kit::add_material(scene, kit::grey(0)));
  kit::set_face(box, Side::top, -1);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.25, 0.25, 0.8},
                kAtAMetre * 4 * 3.14159265358979);
  scene.animal = Animal{};
  scene.animal->back = 0.1;
  scene.animal->reach = 0.03;
  scene.animal->sizes = {{"juvenile", 0.02, std::pair(0.1, 0.03)}, {"half grown", 0.05, std::nullopt}};
  Perch perch;
  perch.name = "bough";
  perch.at = {0.25, 0.25, 0.3};
  scene.perches.push_back(perch);
  scene.survey.spacing = 0.1;
  return scene;
}

double at_back(double back) {
  return kAtAMetre / ((0.5 - back) * (0.5 - back));
}

TEST(Sizes, AreReadAtTheirOwnBacks) {
  Scene scene = perch_under_a_point();
  scene.points.push_back({"elsewhere", {0.1, 0.1, 0.1}, {}, {}, {}});
  const Survey survey = run_survey(scene);
  ASSERT_EQ(survey.animal.sizes.size(), 2u);
  for (const SizeFindings& size : survey.animal.sizes) {
    ASSERT_EQ(size.readings.size(), 1u) << "perches only";
    const double expected = at_back(size.size.back);
    EXPECT_NEAR(size.readings[0].values.at(Quantity::irradiance).value, expected, 1e-5 * expected);
    EXPECT_NEAR(size.readings[0].at.z(), 0.3 + size.size.back, 1e-12);
  }
  EXPECT_EQ(survey.animal.sizes[0].bodies.size(), 1u);
  EXPECT_EQ(survey.animal.sizes[0].bodies[0].length, 0.1);
  EXPECT_TRUE(survey.animal.sizes[1].bodies.empty()) << "no body was given";
  EXPECT_TRUE(survey.animal.bodies.empty());
}

TEST(Sizes, FailingWantsAreACautionAndLeaveTheVerdict) {
  Scene scene = perch_under_a_point();
  const double between = (at_back(0.1) + at_back(0.05)) / 2;
  scene.perches[0].wants = {kit::want(Quantity::irradiance, between, std::nullopt)};
  const Survey survey = run_survey(scene);
  EXPECT_EQ(survey.verdict, WholeVerdict::met);
  std::vector<std::string> texts;
  for (const Caution& caution : survey.cautions)
    if (caution.kind == "size") texts.push_back(caution.text + " " + caution.reason);
  ASSERT_EQ(texts.size(), 2u);
  EXPECT_EQ(
      texts[0],
      "At the size 'juvenile' (back 2 cm above the branch) it gets irradiance 43.4 W/m2 on 'bough' (wanted "
      "at least 55.9). The plan is right for the animal as declared, not for this size.");
  for (const SizeFindings& size : survey.animal.sizes)
    EXPECT_EQ(size.readings[0].wants[0].verdict, Verdict::below);
}

TEST(Sizes, ReadAsTheAnimalWouldIfItWereDeclaredSo) {
  // Same random numbers, same place: the same bits.
  Scene scene = perch_under_a_point();
  scene.lamps.clear();
  scene.boxes[0].face.fill(kit::add_material(scene, kit::grey(0.6)));
  kit::add_uv_lamp(scene, make_tube_emitter(0.3, 0.02, nullptr), {0.25, 0.25, 0.55}, 5);
  Scene grown = scene;
  grown.animal->back = 0.02;
  grown.animal->sizes.clear();
  const Survey survey = run_survey(scene), declared = run_survey(grown);
  const Reading &size = survey.animal.sizes[0].readings[0], &same = declared.readings[0];
  EXPECT_EQ(size.direction, same.direction);
  for (const auto& [quantity, figure] : same.values) {
    EXPECT_EQ(size.values.at(quantity).value, figure.value) << info(quantity).name;
    EXPECT_EQ(size.values.at(quantity).se, figure.se);
  }
}

}  // namespace
}  // namespace boughlight
