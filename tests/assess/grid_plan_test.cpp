// What the grid is asked for is what it comes to, and no lamp is asked for more than it takes.
#include "assess/grid_plan.h"

#include <gtest/gtest.h>

#include "assess/field_cells.h"
#include "assess/mapped.h"
#include "assess/survey_kit.h"

namespace boughlight {
namespace {

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

TEST(GridPlan, CellsAreKnownToWhatIsAsked) {
  kit::Stage stage(planted_box());
  const GridLight light = light_cells(stage.setting());
  const CellWeigher weigher(stage.setting());
  double worst = 0;
  for (const Quantity quantity : kMappedQuantities) {
    std::vector<Figure> figures;
    double mean = 0, squares = 0, count = 0;
    for (std::size_t cell = 0; cell < light.grid->size(); ++cell) {
      figures.push_back(weigher.figures(*light.light, cell)[static_cast<std::size_t>(quantity)]);
      mean += figures.back().value / static_cast<double>(light.grid->size());
    }
    for (const Figure& figure : figures)
      if (figure.value > 0.1 * mean) squares += std::pow(figure.se / figure.value, 2), ++count;
    worst = std::max(worst, std::sqrt(squares / count));
  }
  // A pilot of eight replicates knows its own errors to a quarter, and samples are rounded by up to a factor
  // of 1.2.
  EXPECT_LT(worst, 1.2 * kAskedRms);
  EXPECT_GT(worst, 0.5 * kAskedRms);
}

// Planned for all lamps at full power, so a dimmer changes nothing ...
TEST(GridPlan, IsTheSameForDimmedLamps) {
  Scene scene = planted_box();
  kit::Stage bright(planted_box());
  scene.lamps[1].dim = 0.7;
  kit::Stage dimmed(std::move(scene));
  const CellGrid grid(bright.scene(), bright.scene().survey.spacing);
  const GridPlan plan = plan_grid(bright.setting(), grid), other = plan_grid(dimmed.setting(), grid);
  ASSERT_EQ(plan.places.size(), 2 * grid.size());
  ASSERT_EQ(plan.paths.size(), 2u);
  EXPECT_EQ(plan.places, other.places);
  EXPECT_EQ(plan.paths, other.paths);
  EXPECT_EQ(plan.told, other.told);
}

// ... but where what is left would be known too little.
TEST(GridPlan, DarkLampIsAskedForTheLeastWhereTheOtherNeedsMore) {
  Scene scene = planted_box();
  // At full power all that counts is the second lamp's, next to which the first is faint.
  scene.lamps[0] = scene.lamps[1];
  scene.lamps[0].name = "first";
  scene.lamps[0].at = {0.15, 0.1, 0.9};
  auto faint = std::make_shared<Fixture>(*scene.lamps[0].fixture);
  faint->parts[0].radiant_flux_w *= 0.01;
  scene.lamps[0].fixture = faint;
  scene.lamps[1].dim = 0;
  kit::Stage stage(std::move(scene));
  const CellGrid grid(stage.scene(), stage.scene().survey.spacing);
  const GridPlan plan = plan_grid(stage.setting(), grid);
  std::uint64_t dark = 0, lit = 0;
  for (std::size_t cell = 0; cell < grid.size(); ++cell)
    lit += plan.places[2 * cell], dark += plan.places[2 * cell + 1];
  EXPECT_EQ(dark, 2 * grid.size());
  EXPECT_GT(lit, 2 * dark);
  EXPECT_GT(plan.paths[0], plan.paths[1]);
}

// A lamp's light paths say as much of its straight light as some connections would; not through panes, which
// tint it.
TEST(GridPlan, PathsTellOfStraightLightThroughMeshAndNotThroughPanes) {
  const auto most_told = [](bool glass) {
    Scene scene;
    const int wall = kit::add_material(scene, kit::grey(0.3));
    const int top =
        kit::add_material(scene, glass ? kit::pane(0.88) : kit::mesh(0.3e-3, 1.5e-3, 1.2e-3, 0.5));
    kit::set_face(kit::add_box(scene, {0.4, 0.4, 0.4}, wall), Side::top, top);
    kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.2, 0.2, 0.5}, 10);
    scene.survey.spacing = 0.1;
    kit::Stage stage(std::move(scene));
    const CellGrid grid(stage.scene(), stage.scene().survey.spacing);
    const GridPlan plan = plan_grid(stage.setting(), grid);
    EXPECT_EQ(plan.told.size(), grid.size());
    return *std::max_element(plan.told.begin(), plan.told.end());
  };
  EXPECT_EQ(most_told(true), 0);
  EXPECT_GT(most_told(false), 0.2);
  EXPECT_LT(most_told(false), 1);
}

TEST(GridPlan, StaysWithinAQuarterOfASpentBudget) {
  kit::Stage stage(planted_box());
  stage.setting().budget.rays = 2e6;
  stage.setting().spent.shadow = 4'000'000;
  const CellGrid grid(stage.scene(), stage.scene().survey.spacing);
  const RayCount before = stage.setting().spent;
  const GridPlan few = plan_grid(stage.setting(), grid);
  EXPECT_GT(stage.setting().spent.shadow, before.shadow);
  kit::Stage rich(planted_box());
  const GridPlan many = plan_grid(rich.setting(), grid);
  EXPECT_LT(few.paths[1], many.paths[1]);
}

}  // namespace
}  // namespace boughlight
