#include "plan/top.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "assess/facts.h"

namespace boughlight {
namespace {

// As many equal steps as keep each at or below `step`.
std::vector<double> evenly(double from, double to, std::size_t count) {
  std::vector<double> values;
  for (std::size_t i = 0; i < count; ++i)
    values.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1));
  return values;
}

std::size_t count_for(double length, double step) {
  constexpr double kSlack = 1e-9;
  return static_cast<std::size_t>(std::max(1.0, std::ceil(length / step - kSlack))) + 1;
}

}  // namespace

Top top_of(const Scene& scene) {
  const Box* highest = nullptr;
  for (const Box& box : scene.boxes)
    if (!highest || box.far_corner().z() >= highest->far_corner().z()) highest = &box;
  const Vec3 far = highest->far_corner();
  return {highest->corner.x(), highest->corner.y(), far.x(), far.y(), far.z()};
}

Lamp hung(const Lamp& lamp, const Top& top, const Hang& hang) {
  Lamp moved = lamp;
  const double below = lamp.at.z() - lowest_point_z(lamp);
  moved.at = Vec3(hang.x, hang.y, top.z + hang.gap + below);
  return moved;
}

std::optional<Hang> hang_of(const Lamp& lamp, const Top& top) {
  const Hang hang{lamp.at.x(), lamp.at.y(), lowest_point_z(lamp) - top.z};
  constexpr double kTouch = 1e-9;
  if (hang.x < top.x0 - kTouch || hang.x > top.x1 + kTouch || hang.y < top.y0 - kTouch ||
      hang.y > top.y1 + kTouch || hang.gap < -kTouch)
    return std::nullopt;
  return hang;
}

Lattice3 lattice_over(const Top& top, std::optional<double> step, std::vector<double> gaps) {
  const double width = top.x1 - top.x0, depth = top.y1 - top.y0;
  std::size_t across = 2, back = 2;
  if (step) {
    across = count_for(width, *step), back = count_for(depth, *step);
  } else {
    // Narrow the step until there are enough.
    for (double fine = std::sqrt(width * depth / kLeastPlaces); across * back < kLeastPlaces; fine *= 0.99)
      across = count_for(width, fine), back = count_for(depth, fine);
  }
  std::sort(gaps.begin(), gaps.end());
  return {evenly(top.x0, top.x1, across), evenly(top.y0, top.y1, back), std::move(gaps)};
}

std::vector<double> usual_gaps(const Scene& scene, std::optional<double> present) {
  const bool inches = is_of_inches(scene.length_unit);
  const double step = inches ? 2 * size_of_unit("in", Dimension::length) : 0.05;
  constexpr int kSteps = 6;
  std::vector<double> gaps;
  for (int i = 1; i <= kSteps; ++i) gaps.push_back(i * step);
  if (!present) return gaps;
  // The present gap stands for the usual one next to it where they are nearly the same.
  const auto nearest = std::min_element(gaps.begin(), gaps.end(), [&](double a, double b) {
    return std::abs(a - *present) < std::abs(b - *present);
  });
  if (std::abs(*nearest - *present) < 0.21 * step) {
    *nearest = *present;
  } else {
    gaps.push_back(*present);
  }
  std::sort(gaps.begin(), gaps.end());
  return gaps;
}

double emitter_gap(const Lamp& a, const Lamp& b) {
  // Emitters are convex, so going back and forth between the nearest places of the two ends at their
  // distance.
  constexpr int kRounds = 24;
  Vec3 here = a.at, there = b.at;
  for (int round = 0; round < kRounds; ++round) {
    there = b.to_scene(b.fixture->emitter->nearest(b.to_local(here)));
    here = a.to_scene(a.fixture->emitter->nearest(a.to_local(there)));
  }
  return (here - there).norm();
}

std::string lamp_in_the_way(const Scene& scene, std::size_t lamp, const Lamp& moved) {
  const auto body = moved.body();
  for (std::size_t other = 0; other < scene.lamps.size(); ++other) {
    if (other == lamp) continue;
    const Lamp& standing = scene.lamps[other];
    const auto its_body = standing.body();
    if (emitter_gap(moved, standing) < kTouching || (body && its_body && body->overlaps(*its_body, 0)))
      return standing.name;
  }
  return "";
}

double clearance(const Scene& scene, std::size_t lamp, const Lamp& moved) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t other = 0; other < scene.lamps.size(); ++other)
    if (other != lamp) least = std::min(least, emitter_gap(moved, scene.lamps[other]));
  return least;
}

}  // namespace boughlight
