#include "assess/shares.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "assess/judge.h"
#include "assess/survey.h"
#include "survey_kit.h"

namespace boughlight {
namespace {

// A grey box with a leafy corner, a line lamp and a filament, which is dimmed.
Scene two_lamps(double filament_dim) {
  Scene scene;
  scene.survey.spacing = 0.1;
  scene.survey.tolerance = 0.02;
  kit::add_box(scene, {0.4, 0.4, 0.5}, kit::add_material(scene, kit::grey(0.4)));
  const int leaf = kit::add_material(scene, kit::grey(0.1, 0.1));
  // Leaves that let red and infrared through and hold back the rest, so that the two dim differently below
  // them.
  for (int bin = 0; bin < bin_of(650); ++bin)
    scene.materials[static_cast<std::size_t>(leaf)].transmittance[bin] = 0.01;
  kit::add_plant(scene, {0.2, 0.2, 0.2}, {0.15, 0.15, 0.05}, 0.12, 0.05, 0.05, leaf);
  kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.1, 0.2, 0.45}, 5);
  Lamp& flood = kit::add_lamp(scene, make_point_emitter(make_isotropic()), {0.3, 0.2, 0.45}, 40);
  auto fixture = std::make_shared<Fixture>(*flood.fixture);
  LampPart& part = fixture->parts.front();
  part.components = {{Blackbody{2900}, 1}};
  part.per_watt = integrate_spectrum(part.components);
  part.filament_k = 2900;
  flood.fixture = fixture;
  flood.dim = filament_dim;
  for (Lamp& lamp : scene.lamps) lamp.lit = {{{8, 18}}};
  kit::add_point(scene, "above", {0.2, 0.2, 0.35});
  kit::add_point(scene, "below", {0.2, 0.2, 0.05});
  return scene;
}

double mean_of(const SourceShares& shares, std::size_t reading, Quantity quantity, std::size_t source) {
  const auto first = shares.reading_values.begin() +
                     static_cast<std::ptrdiff_t>(shares.reading_at(reading, quantity, source));
  return std::accumulate(first, first + kReplicates, 0.0) / kReplicates;
}

class Shares : public testing::Test {
 protected:
  static void SetUpTestSuite() { survey_ = new Survey(run_survey(two_lamps(0.5))); }
  static void TearDownTestSuite() { delete survey_; }
  static Survey* survey_;
};
Survey* Shares::survey_ = nullptr;

TEST_F(Shares, AddUpToEveryReadingAndItsError) {
  const SourceShares& shares = survey_->shares;
  ASSERT_EQ(shares.sources, 2u);
  for (std::size_t i = 0; i < survey_->readings.size(); ++i)
    for (const Quantity quantity : {Quantity::lux, Quantity::ppfd, Quantity::irradiance}) {
      std::vector<double> sums(kReplicates, 0.0);
      for (std::size_t source = 0; source < 2; ++source)
        for (std::size_t k = 0; k < kReplicates; ++k)
          sums[k] += shares.reading_values[shares.reading_at(i, quantity, source) + k];
      const Figure figure = figure_of(sums), whole = survey_->readings[i].values.at(quantity);
      EXPECT_NEAR(figure.value, whole.value, 1e-5 * whole.value);  // single precision
      EXPECT_NEAR(figure.se, whole.se, 1e-4 * whole.value);
    }
}

TEST_F(Shares, AddUpToEveryCell) {
  const SourceShares& shares = survey_->shares;
  for (std::size_t cell = 0; cell < survey_->cells.size(); ++cell)
    for (const Quantity quantity : {Quantity::lux, Quantity::irradiance}) {
      const double whole = survey_->cells[cell].up[static_cast<std::size_t>(quantity)].value;
      const double sum = shares.cell_values[shares.cell_at(quantity, 0) + cell] +
                         shares.cell_values[shares.cell_at(quantity, 1) + cell];
      EXPECT_NEAR(sum, whole, 1e-5 * whole);
    }
}

TEST_F(Shares, OnlyAFilamentHasDimmerStepsAndItsOwnSettingIsOne) {
  const SourceShares& shares = survey_->shares;
  EXPECT_TRUE(shares.steps[0].empty());
  ASSERT_EQ(shares.steps[1].size(), 10u);
  EXPECT_EQ(shares.reference[1], 0.5);
  const DimmerStep& own = shares.steps[1][4];
  EXPECT_NEAR(own.dim, 0.5, 1e-12);
  EXPECT_NEAR(own.cells[static_cast<std::size_t>(Quantity::lux)], 1, 1e-9);
  EXPECT_NEAR(own.cells_rms[static_cast<std::size_t>(Quantity::lux)], 0, 1e-9);
  // Nothing takes power away from a blackbody in free air but the dimmer: all of it follows in proportion,
  // and light goes up faster.
  const DimmerStep& full = shares.steps[1][9];
  EXPECT_GT(full.readings[0][static_cast<std::size_t>(Quantity::lux)], 3);
}

TEST_F(Shares, StepsGiveWhatASurveyAtThatDimmerFinds) {
  Scene full = two_lamps(1);
  full.survey.seed = 7;
  const Survey other = run_survey(full);
  const DimmerStep& step = survey_->shares.steps[1][9];
  for (std::size_t i = 0; i < survey_->readings.size(); ++i)
    for (const Quantity quantity :
         {Quantity::lux, Quantity::ppfd, Quantity::irradiance, Quantity::infrared}) {
      const double here =
          step.readings[i][static_cast<std::size_t>(quantity)] * mean_of(survey_->shares, i, quantity, 1);
      const double there = mean_of(other.shares, i, quantity, 1);
      // Each has a standard error within the tolerance of 2 %; 4 of their difference.
      EXPECT_NEAR(here, there, 4 * std::sqrt(2.0) * 0.02 * there) << i << " " << info(quantity).name;
    }
}

TEST_F(Shares, CellsTellHowFarAMeanFactorMisses) {
  // Leaves that hold back the visible make the light below them redden more slowly than the mean: the RMS
  // over cells says so, and it is greater the further the dimmer goes.
  const std::vector<DimmerStep>& steps = survey_->shares.steps[1];
  const auto q = static_cast<std::size_t>(Quantity::irradiance);
  EXPECT_GT(steps[0].cells_rms[q], steps[2].cells_rms[q]);
  EXPECT_LT(steps[9].cells_rms[q], 0.2);
}

TEST(SharesOfADarkLamp, AreThoseAtFull) {
  Scene scene = two_lamps(0);
  scene.plants.clear();
  const Survey survey = run_survey(scene);
  EXPECT_EQ(survey.shares.reference[1], 1);
  EXPECT_GT(mean_of(survey.shares, 0, Quantity::lux, 1), 0);
  EXPECT_EQ(survey.readings[0].by_lamp.at("lamp 2").at(Quantity::lux), 0);
}

}  // namespace
}  // namespace boughlight
