// What a scene would take is told before it is asked for.
#include "assess/memory.h"

#include <gtest/gtest.h>

#include "scene_kit.h"

namespace boughlight {
namespace {

Scene crate(std::size_t lamps) {
  Scene scene;
  scene.file = "crate.yaml";
  kit::add_box(scene, {0.4, 0.4, 0.6}, kit::add_material(scene, kit::grey(0.2)));
  scene.survey.spacing = 0.01;
  for (std::size_t i = 0; i < lamps; ++i) kit::add_lamp(scene, make_point_emitter(make_isotropic()), {});
  return scene;
}

std::string refusal(const Scene& scene, WithGrid with_grid, double most_bytes) {
  try {
    require_memory(scene, with_grid, most_bytes);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// The number that stands before `words`.
double number_before(const std::string& text, const std::string& words) {
  const std::size_t end = text.find(words);
  EXPECT_NE(end, std::string::npos) << text;
  std::string digits;
  for (std::size_t i = end; i-- > 0;) {
    if (std::isdigit(static_cast<unsigned char>(text[i])) || text[i] == '.') {
      digits.insert(digits.begin(), text[i]);
    } else if (text[i] != ' ' || !std::isdigit(static_cast<unsigned char>(text[i - 1]))) {
      break;
    }
  }
  return std::stod(digits);
}

TEST(Memory, AGridThatIsTooFineIsRefusedWithASpacingThatFits) {
  Scene scene = crate(2);
  const std::string text = refusal(scene, WithGrid::yes, 0.3e9);
  EXPECT_TRUE(
      text.starts_with("crate.yaml: survey.spacing: a grid of 96 000 cells under 2 sources of light "
                       "would take about 0.625 GB of memory, of which 0.3 GB may be used here; "))
      << text;
  EXPECT_EQ(refusal(scene, WithGrid::no, 0.3e9), "");
  const double fits = number_before(text, " cm or more would fit");
  EXPECT_GT(fits, 1.2) << "half of the cells: 1.26 cm";
  EXPECT_LT(fits, 1.35);
  scene.survey.spacing = fits / 100;
  EXPECT_EQ(refusal(scene, WithGrid::yes, 0.3e9), "");
}

TEST(MemorySlow, WhatIsToldToFitFitsAsItIsPrinted) {
  for (double most_bytes = 0.1e9; most_bytes < 0.6e9; most_bytes *= 1.013) {
    Scene scene = crate(2);
    const double spacing = number_before(refusal(scene, WithGrid::yes, most_bytes), " cm or more would fit");
    scene.survey.spacing = spacing / 100;
    EXPECT_EQ(refusal(scene, WithGrid::yes, most_bytes), "") << spacing << " cm in " << most_bytes;
    // It is not far above the finest that fits: ten percent less would make a third more cells.
    scene.survey.spacing = 0.9 * spacing / 100;
    EXPECT_NE(refusal(scene, WithGrid::yes, most_bytes), "") << spacing << " cm in " << most_bytes;
  }
  Scene lit = crate(500);
  for (int i = 0; i < 5000; ++i) kit::add_point(lit, "p" + std::to_string(i), {0.1, 0.1, 0.1});
  for (double most_bytes = 60e9; most_bytes > 1e9; most_bytes *= 0.9) {
    lit.points.resize(static_cast<std::size_t>(
        number_before(refusal(lit, WithGrid::no, most_bytes), " readings would fit")));
    EXPECT_EQ(refusal(lit, WithGrid::no, most_bytes), "") << lit.points.size() << " in " << most_bytes;
  }
}

TEST(Memory, NoGridIsToldToFitWhereOneCellABoxIsTooMuch) {
  EXPECT_TRUE(refusal(crate(1), WithGrid::yes, 100).ends_with("; no grid would fit: take fewer lamps"));
}

TEST(Memory, TooManyLeavesAreRefusedAtTheirPlantWithTheNumberThatFits) {
  Scene scene = crate(1);
  Plant& plant = kit::add_plant(scene, {0.2, 0.2, 0.3}, {0.1, 0.1, 0.1}, 400, 0.02, 0.01, 0);
  plant.mark = {"crate.yaml", 7, 5};
  EXPECT_EQ(refusal(scene, WithGrid::no, 0.2e9),
            "crate.yaml:7:5: plants: 2 000 000 leaves, most of them of 'bush', would take about 0.92 GB of "
            "memory, of which 0.2 GB may be used here; 434 000 would fit: take less leaf_area, or fewer and "
            "larger leaves");
  plant.leaf_area = 86;  // 430 000 leaves
  EXPECT_EQ(refusal(scene, WithGrid::no, 0.2e9), "");
}

TEST(Memory, LampsTimesReadingsAreRefusedWithTheNumberThatFits) {
  Scene scene = crate(500);
  for (int i = 0; i < 1000; ++i) kit::add_point(scene, "p" + std::to_string(i), {0.1, 0.1, 0.1});
  const std::string text = refusal(scene, WithGrid::no, 1e9);
  EXPECT_EQ(text,
            "crate.yaml: points: 1000 readings (perches, points, and two a plant) of 500 sources of light "
            "would take about 12.3 GB of memory, of which 1 GB may be used here; 81 readings would fit");
  scene.points.resize(81);
  EXPECT_EQ(refusal(scene, WithGrid::no, 1e9), "");
}

TEST(Memory, TheBudgetIsNoMoreThanThreeQuartersOfTheMachine) {
  EXPECT_GT(memory_budget(), 1e8);
  EXPECT_LT(memory_budget(), 1e13);
}

}  // namespace
}  // namespace boughlight
