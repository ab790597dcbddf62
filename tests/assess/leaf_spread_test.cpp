// Leaves hanging elsewhere, against Beer's law and against surveys of scenes with other seeds.
#include "assess/leaf_spread.h"

#include <gtest/gtest.h>

#include <numbers>

#include "assess/doubt_kit.h"

namespace boughlight {
namespace {

// A ball of black leaves between a lamp and a sensor, nothing else. The sensor's reading comes after the
// bush's own.
Scene behind_a_bush(double leaf_area, double leaf_size) {
  Scene scene;
  kit::add_box(scene, {1, 1, 1}, -1);
  kit::add_lamp(scene, make_disc_emitter(0.1, nullptr), {0.5, 0.5, 1.2}, 100);
  Plant& bush = kit::add_plant(scene, {0.5, 0.5, 0.6}, {0.2, 0.2, 0.2}, leaf_area, leaf_size, leaf_size,
                               kit::add_material(scene, kit::grey(0)));
  bush.seed = 3;
  kit::add_point(scene, "below", {0.5, 0.5, 0.1});
  return scene;
}

TEST(LeafSpread, MeanFollowsBeersLaw) {
  // Even leaves of random lean take half their area across any ray (Cauchy): transmittance e^(-A/(2 V) x
  // chord), the chord of nearly all rays close to the ball's diameter.
  const double area = 0.12, radius = 0.2;
  const Scene scene = behind_a_bush(area, 0.02);
  const Survey survey = kit::doubts_of(scene);
  EXPECT_EQ(survey.doubt.leaf_drawings, kLeafDrawings);
  const LeafSpread& spread = survey.doubt.readings[1].leaves.at(Quantity::lux);
  Scene bare = scene;
  bare.plants.clear();
  const double open = kit::doubts_of(bare).readings[0].values.at(Quantity::lux).value;
  const double volume = 4.0 / 3 * std::numbers::pi * std::pow(radius, 3);
  const double expected = std::exp(-area / (2 * volume) * 2 * radius);
  ASSERT_GT(spread.relative_sd, 0.02);
  ASSERT_LT(spread.relative_sd, 0.6);
  // Four standard errors of the mean over the drawings.
  EXPECT_NEAR(spread.mean / open, expected, 4 * spread.relative_sd * expected / std::sqrt(kLeafDrawings));
}

TEST(LeafSpread, FinerLeavesAverageOut) {
  const auto spread = [](double size) {
    return kit::doubts_of(behind_a_bush(0.12, size)).doubt.readings[1].leaves.at(Quantity::lux).relative_sd;
  };
  EXPECT_LT(spread(0.005), 0.5 * spread(0.04));
}

TEST(LeafSpread, IsThatOfScenesWithOtherSeeds) {
  const Scene scene = behind_a_bush(0.12, 0.03);
  const LeafSpread spread = kit::doubts_of(scene).doubt.readings[1].leaves.at(Quantity::lux);
  std::vector<double> values;
  constexpr int kSeeds = 12;
  double mean = 0, variance = 0;
  for (int seed = 0; seed < kSeeds; ++seed) {
    Scene other = scene;
    other.plants[0].seed = 100 + static_cast<std::uint64_t>(seed);
    values.push_back(kit::doubts_of(other).readings[1].values.at(Quantity::lux).value);
    mean += values.back() / kSeeds;
  }
  for (const double value : values) variance += (value - mean) * (value - mean) / (kSeeds - 1);
  // Two standard deviations from 8 and from 12 drawings: their ratio squared follows F(7, 11), 99.9 %
  // below 7.1 and above 1 / 11 (any table of F).
  const double ratio = std::pow(spread.relative_sd * spread.mean, 2) / variance;
  EXPECT_LT(ratio, 7.1);
  EXPECT_GT(ratio, 1 / 11.0);
  EXPECT_NEAR(spread.mean, mean, 4 * std::sqrt(variance / 8 + variance / kSeeds));
}

TEST(LeafSpread, IsNotThereWithoutLeavesAndZeroInTheOpen) {
  Scene scene = behind_a_bush(0.12, 0.03);
  kit::add_point(scene, "beside", {0.05, 0.5, 0.9});
  const Survey survey = kit::doubts_of(scene);
  EXPECT_EQ(survey.doubt.readings[2].leaves.at(Quantity::lux).relative_sd, 0);
  scene.plants.clear();
  const Survey bare = kit::doubts_of(scene);
  EXPECT_EQ(bare.doubt.leaf_drawings, 0);
  EXPECT_TRUE(bare.doubt.readings[1].leaves.empty());
}

}  // namespace
}  // namespace boughlight
