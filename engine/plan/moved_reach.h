// The greatest reading within the animal's reach while a lamp is moved.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "plan/split.h"
#include "plan/standing.h"
#include "plan/top.h"
#include "plan/turned_sensor.h"
#include "transport/uptake.h"

namespace boughlight {

// A lamp over the top is nearest to the places right under it, so those are searched for each of its places;
// beside them stand the places where the other lamps, or this one in another way, give most. Light that was
// reflected is known at a lattice of places under the top and taken between them.
class MovedReach {
 public:
  // `quantities`: uvi or irradiance, each with its own greatest place. The scene has an animal.
  MovedReach(const Standing& standing, const Top& top, std::vector<Quantity> quantities,
             const std::vector<PlacedLamp>& range, RayCount& rays);

  struct Found {
    Vec3 at = Vec3::Zero();
    Vec3f direction = Vec3f::UnitZ();  // of the sensor
    Split split;
  };
  // One a quantity, with the lamp there at `output` times what it is declared to give; splits are for an
  // output of 1. Nothing where there is no reachable place.
  std::vector<Found> at(const PlacedLamp& lamp, RayCount& rays, double output = 1) const;

  bool empty() const { return roof_.empty() && marked_.empty(); }
  const std::vector<Quantity>& quantities() const { return quantities_; }

 private:
  static constexpr double kApart = 0.05;  // m; places nearer than this are one and the same
  // A place where reflected light is known.
  struct Spot {
    Vec3 at = Vec3::Zero();
    // By replicate: what was reflected of the lamps that stay; where it is marked all of it.
    std::vector<PatchedLight> rest;
    std::vector<Vec3f> direct;     // by quantity: what comes straight from them, summed up as vectors
    std::unique_ptr<Uptake> lamp;  // of the lamp that moves
  };
  // The lattice under the top, m.
  struct Roof {
    double x0 = 0, y0 = 0, dx = 0, dy = 0, z = 0;
    std::size_t nx = 0, ny = 0;
    std::size_t at(std::size_t i, std::size_t j) const { return j * nx + i; }
    Vec3 place(std::size_t index) const {
      const std::size_t column = index % nx, row = index / nx;
      return {x0 + dx * static_cast<double>(column), y0 + dy * static_cast<double>(row), z};
    }
  };

  // Where a replicate's reflected light is taken from.
  const Spot& spot_for(const Vec3& place, int replicate) const;
  // Light of the lamp that moves, summed up as vectors; without shadows all that the panels let through.
  Vec3f straight_light(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place, std::uint32_t samples,
                       bool shadows, RayCount& rays) const;
  Vec3f rest_light(std::size_t quantity, const Vec3& place) const;
  // What is climbed: a place's value, from so many samples of each lamp.
  using Climbed = std::function<float(const Vec3& place, std::uint32_t samples)>;
  Vec3 uphill(Vec3 place, const Climbed& value) const;
  Vec3 climb(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place, double output,
             RayCount& rays) const;
  // Of places all over under the top, shadows counted: where to climb from as well.
  std::vector<Vec3> brightest_under_top(const PlacedLamp& lamp, std::size_t quantity, double output,
                                        RayCount& rays) const;
  std::array<bool, 4> sides_that_pass() const;
  bool through_top(const Vec3f& place, const Vec3f& lamp) const;
  bool is_obstructed(RayCount& rays) const;
  Found find(const PlacedLamp& lamp, std::size_t quantity, double output, RayCount& rays) const;
  Found read(const PlacedLamp& lamp, std::size_t quantity, const Vec3& place, double output,
             RayCount& rays) const;
  // By quantity: what comes straight from the lamps that stay, summed up as vectors.
  std::vector<Vec3f> rest_direct(const Vec3& place, RayCount& rays) const;
  void light_roof(RayCount& rays);
  void mark_places(std::vector<Vec3> chosen, const std::vector<PlacedLamp>& range, RayCount& rays);
  Spot light_spot(const Vec3& place, bool marked, const std::vector<PlacedLamp>& range, std::uint64_t number,
                  RayCount& rays) const;

  const Standing& standing_;
  Top top_;
  std::vector<Quantity> quantities_;
  std::vector<Spectral> weights_;                    // of the lamp, by quantity
  std::vector<std::vector<Spectral>> rest_weights_;  // by quantity and source
  std::vector<PlacedLamp> rest_lamps_;
  Vec3 low_ = Vec3::Zero(), high_ = Vec3::Zero();  // of the reachable places under the top
  Roof fine_, coarse_;
  // Of the sides at the top's edges (left, right, front, back), which let light through.
  std::array<bool, 4> sides_pass_{};
  bool obstructed_ = false;  // things stand under the top or over it that cast shadows on what is searched
  std::vector<std::vector<Vec3f>>
      roof_;  // by quantity and place of fine_: direct light that stays, summed up
  std::vector<std::optional<Found>> steady_;  // by quantity: what the lamp has no part in
  std::vector<Spot> spots_;                   // at coarse_
  std::vector<Spot> marked_;  // looked at wherever the lamp is; under a top the first are where each quantity
                              // is greatest without it
};

}  // namespace boughlight
