// What the grid is asked for is what it comes to, and no lamp is asked for more than it takes.
#include "assess/grid_effort.h"

#include <gtest/gtest.h>

#include "assess/field_cells.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

constexpr double kAskedRms = 0.05;

// A pale box with a bush under an ultraviolet lamp and a panel of visible light.
Scene planted_box() {
  Scene scene;
  const int wall = kit::add_material(scene, kit::grey(0.5));
  kit::add_box(scene, {0.6, 0.5, 1}, wall);
  kit::add_plant(scene, {0.3, 0.25, 0.5}, {0.2, 0.2, 0.2}, 0.3, 0.04, 0.02,
                 kit::add_material(scene, kit::grey(0.3, 0.2)));
  kit::add_uv_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 0.9}, 1);
  kit::add_lamp(scene, make_rectangle_emitter(0.3, 0.1, nullptr), {0.4, 0.3, 0.95}, 100);
  scene.survey.spacing = 0.06;
  return scene;
}

TEST(GridEffort, CellsAreKnownToWhatIsAsked) {
  kit::Stage stage(planted_box());
  const GridLight light = light_cells(stage.setting());
  double worst = 0;
  for (const Quantity quantity : {Quantity::uvi, Quantity::ppfd, Quantity::irradiance}) {
    std::vector<Figure> figures;
    double mean = 0, squares = 0, count = 0;
    for (std::size_t cell = 0; cell < light.grid->size(); ++cell) {
      figures.push_back(cell_figures(stage.setting(), light, cell)[static_cast<std::size_t>(quantity)]);
      mean += figures.back().value / static_cast<double>(light.grid->size());
    }
    for (const Figure& figure : figures)
      if (figure.value > 0.1 * mean) squares += std::pow(figure.se / figure.value, 2), ++count;
    worst = std::max(worst, std::sqrt(squares / count));
  }
  // A pilot of 16 replicates knows its own errors to a fifth, and powers of two round by up to a factor
  // of 1.2.
  EXPECT_LT(worst, 1.2 * kAskedRms);
  EXPECT_GT(worst, 0.5 * kAskedRms);
}

TEST(GridEffort, DarkLampIsAskedForTheLeast) {
  Scene scene = planted_box();
  scene.lamps[0].dim = 0;
  kit::Stage stage(std::move(scene));
  const CellGrid grid(stage.scene(), stage.scene().survey.spacing);
  const GridEffort effort = plan_grid(stage.setting(), grid);
  ASSERT_EQ(effort.places.size(), 2 * grid.size());
  ASSERT_EQ(effort.paths.size(), 2u);
  std::uint64_t dark = 0, lit = 0;
  for (std::size_t cell = 0; cell < grid.size(); ++cell)
    dark += effort.places[2 * cell], lit += effort.places[2 * cell + 1];
  EXPECT_EQ(dark, grid.size());
  EXPECT_GT(lit, 2 * dark);
  EXPECT_LT(effort.paths[0], effort.paths[1]);
}

TEST(GridEffort, StaysWithinAQuarterOfASpentBudget) {
  kit::Stage stage(planted_box());
  stage.setting().budget.rays = 2e6;
  stage.setting().spent.shadow = 4'000'000;
  const CellGrid grid(stage.scene(), stage.scene().survey.spacing);
  const RayCount before = stage.setting().spent;
  const GridEffort few = plan_grid(stage.setting(), grid);
  EXPECT_GT(stage.setting().spent.shadow, before.shadow);
  kit::Stage rich(planted_box());
  const GridEffort many = plan_grid(rich.setting(), grid);
  EXPECT_LT(few.paths[1], many.paths[1]);
}

}  // namespace
}  // namespace boughlight
