#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "geometry/foliage.h"
#include "scene_kit.h"
#include "spectrum/statistics.h"

namespace boughlight {
namespace {

Plant bush() {
  Plant plant;
  plant.name = "bush";
  plant.crown_centre = {0.5, 0.4, 0.6};
  plant.radii = {0.2, 0.15, 0.25};
  plant.leaf_area = 4;
  plant.leaf_length = 0.03, plant.leaf_width = 0.02;
  plant.seed = 12;
  return plant;
}

Scene room_for_it() {
  Scene scene;
  kit::add_box(scene, {1, 0.8, 1.2}, -1);
  return scene;
}

Vec3 normal_of(const Leaf& leaf) {
  return leaf.half_length.cross(leaf.half_width).normalized();
}

// Equal areas of the sphere: bands of cosine and of azimuth.
class SphereCounts {
 public:
  void add(const Vec3& direction) {
    const auto band = std::min(kBands - 1, static_cast<int>((direction.z() + 1) / 2 * kBands));
    const double turn = std::atan2(direction.y(), direction.x()) / (2 * std::numbers::pi) + 0.5;
    ++counts_[static_cast<std::size_t>(band * kBands +
                                       std::min(kBands - 1, static_cast<int>(turn * kBands)))];
    ++total_;
  }
  double sigmas() const {
    const double expected = static_cast<double>(total_) / (kBands * kBands);
    double chi_square = 0;
    for (const int count : counts_) chi_square += (count - expected) * (count - expected) / expected;
    return chi_square_sigmas(chi_square, kBands * kBands - 1);
  }

 private:
  static constexpr int kBands = 8;
  std::array<int, kBands * kBands> counts_{};
  int total_ = 0;
};

TEST(Leaves, ReachTheAreaAskedForAndStop) {
  for (const double area : {0.0006, 0.0009, 0.6, 4.0}) {
    Plant plant = bush();
    plant.leaf_area = area;
    const auto leaves = grow_leaves(room_for_it(), plant);
    ASSERT_EQ(leaves.size(), leaf_count(plant));
    double sum = 0;
    for (const Leaf& leaf : leaves) sum += 4 * leaf.half_length.norm() * leaf.half_width.norm();
    EXPECT_GE(sum, area * (1 - 1e-9));
    EXPECT_LT(sum, area + 0.03 * 0.02);
  }
}

TEST(Leaves, AreRectanglesOfTheSizeAskedFor) {
  for (const Leaf& leaf : grow_leaves(room_for_it(), bush())) {
    EXPECT_NEAR(leaf.half_length.norm(), 0.015, 1e-12);
    EXPECT_NEAR(leaf.half_width.norm(), 0.01, 1e-12);
    EXPECT_NEAR(leaf.half_length.dot(leaf.half_width), 0, 1e-14);
  }
}

TEST(Leaves, HangInThePartOfTheCrownInsideTheEnclosure) {
  const Scene scene = room_for_it();
  Plant plant = bush();
  plant.crown_centre = {0.95, 0.4, 0.05};  // sticks out to the right and through the floor
  for (const Leaf& leaf : grow_leaves(scene, plant)) {
    EXPECT_TRUE(scene.inside(leaf.centre));
    EXPECT_LE((leaf.centre - plant.crown_centre).cwiseQuotient(plant.radii).norm(), 1 + 1e-12);
  }
}

TEST(Leaves, CentresAreUniformInTheCrown) {
  const Plant plant = bush();
  std::array<int, 20> shells{};
  SphereCounts directions;
  const auto leaves = grow_leaves(room_for_it(), plant);
  for (const Leaf& leaf : leaves) {
    const Vec3 in_ball = (leaf.centre - plant.crown_centre).cwiseQuotient(plant.radii);
    ++shells[std::min<std::size_t>(19, static_cast<std::size_t>(20 * std::pow(in_ball.norm(), 3)))];
    directions.add(in_ball.normalized());
  }
  const double expected = static_cast<double>(leaves.size()) / 20;
  double chi_square = 0;
  for (const int count : shells) chi_square += (count - expected) * (count - expected) / expected;
  EXPECT_LT(chi_square_sigmas(chi_square, 19), kSigmas) << "shells of equal volume";
  EXPECT_LT(directions.sigmas(), kSigmas);
}

// Places against the crown's part inside the enclosure, cell by cell of the crown's bounding box.
class CrownCounts {
 public:
  CrownCounts(const Scene& scene, const Plant& plant)
      : low_(plant.crown_centre - plant.grown_radii()), size_(2 * plant.grown_radii()) {
    constexpr int kFine = kAcross * kSub;
    for (int i = 0; i < kFine; ++i)
      for (int j = 0; j < kFine; ++j)
        for (int k = 0; k < kFine; ++k) {
          const Vec3 share = Vec3(i + 0.5, j + 0.5, k + 0.5) / kFine,
                     place = low_ + share.cwiseProduct(size_);
          if ((2 * share - Vec3::Ones()).squaredNorm() > 1 || !scene.inside(place)) continue;
          ++free_[cell_of(place)], ++all_;
        }
  }
  void add(const Vec3& place) { ++counts_[cell_of(place)], ++total_; }
  double sigmas() const {
    double chi_square = 0;
    int cells = 0;
    for (std::size_t i = 0; i < counts_.size(); ++i) {
      const double expected = total_ * free_[i] / all_;
      if (expected < 10) continue;
      // The midpoints know a cut cell's free part to about one in a hundred of a whole cell's.
      const bool cut = free_[i] < std::pow(kSub, 3);
      const double blur = cut ? 0.01 * total_ * std::pow(kSub, 3) / all_ : 0;
      chi_square += std::pow(counts_[i] - expected, 2) / (expected + blur * blur);
      ++cells;
    }
    EXPECT_GT(cells, 5);
    return chi_square_sigmas(chi_square, cells - 1);
  }

 private:
  static constexpr int kAcross = 8, kSub = 14;
  std::size_t cell_of(const Vec3& place) const {
    std::size_t cell = 0;
    for (int axis = 0; axis < 3; ++axis) {
      const double share = (place[axis] - low_[axis]) / size_[axis];
      cell = kAcross * cell +
             static_cast<std::size_t>(std::clamp(static_cast<int>(share * kAcross), 0, kAcross - 1));
    }
    return cell;
  }
  Vec3 low_, size_;
  std::array<double, kAcross * kAcross * kAcross> free_{}, counts_{};
  double all_ = 0, total_ = 0;
};

TEST(Leaves, CentresAndPlacesAreUniformHoweverLittleOfTheCrownIsInside) {
  // Whole; cut by a wall; cut by an edge so that most tries fall outside; and in two boxes of unlike width.
  Scene stacked;
  kit::add_box(stacked, {1, 0.8, 0.5}, -1);
  kit::add_box(stacked, {0.6, 0.8, 0.7}, -1).corner = {0, 0, 0.5};
  struct Case {
    const char* name;
    Scene scene;
    Vec3 centre;
  };
  const Case cases[] = {{"whole", room_for_it(), {0.5, 0.4, 0.6}},
                        {"cut by a wall", room_for_it(), {0.95, 0.4, 0.6}},
                        {"hardly inside", room_for_it(), {1.12, 0.87, 0.6}},
                        {"in two boxes", stacked, {0.6, 0.4, 0.5}}};
  for (const Case& c : cases) {
    Plant plant = bush();
    plant.crown_centre = c.centre;
    plant.leaf_area = 12;
    CrownCounts leaves(c.scene, plant), places(c.scene, plant);
    const auto grown = grow_leaves(c.scene, plant);
    for (std::size_t i = 0; i < grown.size(); ++i) {
      leaves.add(grown[i].centre);
      places.add(place_in_crown(c.scene, plant, i));
    }
    EXPECT_LT(leaves.sigmas(), kSigmas) << c.name;
    EXPECT_LT(places.sigmas(), kSigmas) << c.name;
  }
}

TEST(Leaves, NormalsAndTipsPointEvenlyAllRound) {
  SphereCounts normals, tips;
  for (const Leaf& leaf : grow_leaves(room_for_it(), bush())) {
    normals.add(normal_of(leaf));
    tips.add(leaf.half_length.normalized());
  }
  EXPECT_LT(normals.sigmas(), kSigmas);
  EXPECT_LT(tips.sigmas(), kSigmas);
}

TEST(Leaves, AreFixedByTheSeedAlone) {
  const Scene scene = room_for_it();
  Plant plant = bush();
  const auto first = grow_leaves(scene, plant);
  plant.name = "the same under another name";
  const auto again = grow_leaves(scene, plant);
  ++plant.seed;
  const auto other = grow_leaves(scene, plant);
  ASSERT_EQ(first.size(), again.size());
  int alike = 0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    EXPECT_EQ(first[i].centre, again[i].centre);
    EXPECT_EQ(first[i].half_length, again[i].half_length);
    EXPECT_EQ(first[i].half_width, again[i].half_width);
    alike += first[i].centre == other[i].centre;
  }
  EXPECT_EQ(alike, 0);
}

TEST(Leaves, GrowthKeepsThemAndAddsMore) {
  const Scene scene = room_for_it();
  Plant plant = bush();
  const auto young = grow_leaves(scene, plant);
  plant.growth = 1.4;  // the grown crown is still all inside
  const auto grown = grow_leaves(scene, plant);
  EXPECT_NEAR(static_cast<double>(grown.size()), 1.96 * static_cast<double>(young.size()), 1);
  for (std::size_t i = 0; i < young.size(); ++i) {
    const Vec3 moved = plant.crown_centre + 1.4 * (young[i].centre - plant.crown_centre);
    EXPECT_LT((grown[i].centre - moved).norm(), 1e-12) << "leaf " << i;
    EXPECT_EQ(grown[i].half_length, young[i].half_length);
    EXPECT_EQ(grown[i].half_width, young[i].half_width);
  }
}

TEST(Leaves, PlacesInTheCrownAreReproducibleAndInside) {
  const Scene scene = room_for_it();
  Plant plant = bush();
  plant.crown_centre = {0.95, 0.75, 0.6};
  for (std::uint64_t i = 0; i < 2000; ++i) {
    const Vec3 place = place_in_crown(scene, plant, i);
    EXPECT_TRUE(scene.inside(place));
    EXPECT_LE((place - plant.crown_centre).cwiseQuotient(plant.radii).norm(), 1 + 1e-12);
    EXPECT_EQ(place, place_in_crown(scene, plant, i));
  }
}

TEST(Leaves, CrownOutsideTheEnclosureIsRefusedByName) {
  Plant plant = bush();
  plant.crown_centre = {5, 5, 5};
  try {
    grow_leaves(room_for_it(), plant);
    FAIL() << "leaves were grown in mid-air";
  } catch (const std::runtime_error& error) {
    EXPECT_STREQ(error.what(), "the crown of 'bush' has almost no part inside the enclosure");
  }
}

}  // namespace
}  // namespace boughlight
