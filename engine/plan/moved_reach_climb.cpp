// Where under the top a moved lamp and those that stay give most: what lets light through there, what casts
// shadows, and the way uphill.
#include <algorithm>
#include <cmath>

#include "plan/moved_reach.h"
#include "plan/stages.h"
#include "scene/enclosure.h"

namespace boughlight {
namespace {

constexpr std::uint32_t kClimbSamples = 16, kPeakSamples = 64;

// Whether anything stands above the top, where lamps hang: a hood, a lamp's housing.
bool holds_above(const Scene& scene, double z) {
  const auto above = [z](double highest) { return highest > z + 1e-6; };
  for (const Branch& branch : scene.branches)
    for (const Vec3& place : branch.path)
      if (above(place.z() + branch.diameter / 2)) return true;
  for (const Board& board : scene.boards)
    if (above(board.corner.z() + std::max(0.0, board.edge_u.z()) + std::max(0.0, board.edge_v.z())))
      return true;
  return !scene.models.empty() ||
         std::any_of(scene.lamps.begin(), scene.lamps.end(), [](const Lamp& lamp) { return lamp.body(); });
}

}  // namespace

std::array<bool, 4> MovedReach::sides_that_pass() const {
  std::array<bool, 4> pass{};
  for (const FacePart& face : outer_faces(standing_.scene().boxes)) {
    const double highest = face.corner.z() + face.edge_u.z() + face.edge_v.z();
    if (is_opaque(face, standing_.scene().materials) || highest < top_.z - 1e-6) continue;
    const std::array<Side, 4> sides = {Side::left, Side::right, Side::front, Side::back};
    const auto at = std::find(sides.begin(), sides.end(), face.side);
    if (at != sides.end()) pass[static_cast<std::size_t>(at - sides.begin())] = true;
  }
  return pass;
}

// A lamp may overhang the top: what it sends from beyond an edge comes through the side there, or meets it.
bool MovedReach::through_top(const Vec3f& place, const Vec3f& lamp) const {
  const auto z = static_cast<float>(top_.z);
  if (lamp.z() <= z) return true;
  const Vec3 at = (place + (z - place.z()) / (lamp.z() - place.z()) * (lamp - place)).cast<double>();
  const std::array<bool, 4> beyond = {at.x() < top_.x0, at.x() > top_.x1, at.y() < top_.y0, at.y() > top_.y1};
  for (std::size_t side = 0; side < beyond.size(); ++side)
    if (beyond[side] && !sides_pass_[side]) return false;
  return true;
}

// Above the top, or between it and the places under it: straight up, and as far aside as the walls are off.
bool MovedReach::is_obstructed(RayCount& rays) const {
  if (holds_above(standing_.scene(), top_.z)) return true;
  const World& world = standing_.field().world();
  constexpr int kAside = 8;
  const auto depth = static_cast<float>(top_.z - low_.z());
  for (std::size_t i = 0; i < fine_.nx * fine_.ny; ++i) {
    const Vec3f place = fine_.place(i).cast<float>();
    for (int k = 0; k <= kAside; ++k) {
      const auto turn = static_cast<float>(2 * M_PI * k / kAside);
      const Vec3f way = k == kAside
                            ? Vec3f(0, 0, depth)
                            : Vec3f(0.8f * depth * std::cos(turn), 0.8f * depth * std::sin(turn), depth);
      ++rays.shadow;
      if (world.blocked(place, way.normalized(), way.norm())) return true;
    }
  }
  return false;
}

Vec3f MovedReach::straight_light(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place,
                                 std::uint32_t samples, bool shadows, RayCount& rays) const {
  const World& world = standing_.field().world();
  const Vec3f from = place.cast<float>();
  Vec3f sum = Vec3f::Zero();
  for (std::uint32_t sample = 0; sample < samples; ++sample) {
    PairSampler sampler(kReachLookStage, sample);
    const LightField::Connection connection = LightField::connect(lamp, from, sampler.next());
    const Vec3f way = connection.target - from;
    const float distance = way.norm();
    if (!(connection.weight > 0) || !(distance > 0)) continue;
    if (!shadows && !through_top(from, connection.target)) continue;
    const Vec3f direction = way / distance;
    Straight through;
    if (!world.straight(from, direction, distance, through)) continue;
    if (shadows) {
      ++rays.shadow;
      if (world.blocked(from, direction, distance)) continue;
    }
    const float value =
        through.is_spectral ? (weights_[quantity] * through.spectral).sum() : weights_[quantity].sum();
    sum += connection.weight * through.scalar * value / static_cast<float>(samples) * direction;
  }
  return sum;
}

Vec3f MovedReach::rest_light(std::size_t quantity, const Vec3& place) const {
  const double s = std::clamp((place.x() - fine_.x0) / fine_.dx, 0.0, static_cast<double>(fine_.nx - 1));
  const double t = std::clamp((place.y() - fine_.y0) / fine_.dy, 0.0, static_cast<double>(fine_.ny - 1));
  const std::size_t i = std::min(static_cast<std::size_t>(s), fine_.nx - 2);
  const std::size_t j = std::min(static_cast<std::size_t>(t), fine_.ny - 2);
  const auto u = static_cast<float>(s - static_cast<double>(i)),
             v = static_cast<float>(t - static_cast<double>(j));
  const std::vector<Vec3f>& light = roof_[quantity];
  return (1 - v) * ((1 - u) * light[fine_.at(i, j)] + u * light[fine_.at(i + 1, j)]) +
         v * ((1 - u) * light[fine_.at(i, j + 1)] + u * light[fine_.at(i + 1, j + 1)]);
}

// Uphill in the plane under the top, in steps along its edges; in the end to the top of the parabolas through
// the last steps' ends, from more samples. value(place, samples).
Vec3 MovedReach::uphill(Vec3 place, const Climbed& value) const {
  constexpr double kFirstStep = 0.032;
  // Shadows have sharp edges, and are grainy.
  const double last_step = obstructed_ ? 0.004 : 0.016;  // m
  const std::uint32_t few = obstructed_ ? kPeakSamples : kClimbSamples;
  const auto kept = [&](const Vec3& at) -> Vec3 { return at.cwiseMax(low_).cwiseMin(high_); };
  float best = value(place, few);
  for (double step = kFirstStep; step >= last_step;) {
    Vec3 better = place;
    for (const Vec3& way : {Vec3(1, 0, 0), Vec3(-1, 0, 0), Vec3(0, 1, 0), Vec3(0, -1, 0)}) {
      const Vec3 next = kept(place + step * way);
      const float there = value(next, few);
      if (there > best) best = there, better = next;
    }
    if (better == place) step /= 2;
    place = better;
  }
  const float middle = value(place, kPeakSamples);
  Vec3 peak = place;
  for (int axis = 0; axis < 2; ++axis) {
    const Vec3 before = kept(place - last_step * Vec3::Unit(axis)),
               after = kept(place + last_step * Vec3::Unit(axis));
    const float low = value(before, kPeakSamples), high = value(after, kPeakSamples);
    const float bend = low + high - 2 * middle;
    const bool whole = after[axis] - before[axis] > 1.99 * last_step;
    if (whole && bend < 0) {
      peak[axis] += last_step * std::clamp(0.5 * static_cast<double>((low - high) / bend), -1.0, 1.0);
    } else if (std::max(low, high) > middle) {
      peak[axis] = (low > high ? before : after)[axis];
    }
  }
  peak = kept(peak);
  // Beside a shadow the parabolas may miss.
  return obstructed_ && value(peak, kPeakSamples) < middle ? place : peak;
}

// Where nothing stands between a place under the top and the lamps but the top itself and the walls at its
// edges, light adds up as vectors: a sensor turned along their sum reads its length. Else nearly so, and what
// stands there casts shadows.
Vec3 MovedReach::climb(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place, double output,
                       RayCount& rays) const {
  return uphill(place, [&](const Vec3& at, std::uint32_t samples) {
    return (rest_light(quantity, at) +
            static_cast<float>(output) * straight_light(lamp, quantity, at, samples, obstructed_, rays))
        .norm();
  });
}

std::vector<Vec3> MovedReach::brightest_under_top(const PlacedLamp& lamp, std::size_t quantity, double output,
                                                  RayCount& rays) const {
  constexpr std::size_t kStride = 2, kAround = 4, kJitters = 24, kChosen = 3;
  constexpr std::uint32_t kSamples = 8;
  using Lit = std::vector<std::pair<float, Vec3>>;
  const auto look = [&](const Vec3& place, Lit& lit) {
    const Vec3f light =
        static_cast<float>(output) * straight_light(lamp, quantity, place, kSamples, true, rays);
    lit.emplace_back((rest_light(quantity, place) + light).norm(), place);
  };
  const auto best_of = [](Lit& lit, std::size_t count) {
    std::stable_sort(lit.begin(), lit.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<Vec3> chosen;
    for (const auto& [value, place] : lit) {
      if (chosen.size() == count) break;
      if (std::none_of(chosen.begin(), chosen.end(),
                       [&](const Vec3& other) { return (other - place).norm() < kApart; }))
        chosen.push_back(place);
    }
    return chosen;
  };
  Lit lit;
  for (std::size_t j = 0; j < fine_.ny; j += kStride)
    for (std::size_t i = 0; i < fine_.nx; i += kStride) look(fine_.place(fine_.at(i, j)), lit);
  // Leaves cut the light into pieces smaller than the lattice: look again around the best.
  Stream random(standing_.setting().stream(kReachLookStage, quantity), 0);
  for (const Vec3& centre : best_of(lit, kAround))
    for (std::size_t k = 0; k < kJitters; ++k) {
      const double x = 2 * random.next() - 1, y = 2 * random.next() - 1;
      look((centre + kApart * Vec3(x, y, 0)).cwiseMax(low_).cwiseMin(high_), lit);
    }
  return best_of(lit, kChosen);
}

}  // namespace boughlight
