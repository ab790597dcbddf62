// Everything that light transport needs of a scene: the surfaces, the lamps where they hang, and what
// matters.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "geometry/world.h"
#include "scene/model.h"
#include "transport/field_memory.h"
#include "transport/lamp_cones.h"
#include "transport/response.h"
#include "transport/sampler.h"

namespace boughlight {

// Which bins matter, so that paths end where they no longer count. Each row weighs the bins for one purpose
// (UV, visible, heat) and sums to 1. Any choice is unbiased.
struct Importance {
  std::vector<Spectral> purposes;

  float of(const Spectral& throughput) const {
    float greatest = 0;
    for (const Spectral& purpose : purposes) greatest = std::max(greatest, (purpose * throughput).sum());
    return greatest;
  }
};

// Light from a lamp reaching a place: on a sensor facing `direction` it gives scalar x through (1/m2 per
// watt).
struct Arrival {
  int source = 0;
  Vec3f direction = Vec3f::UnitZ();  // towards where it comes from
  float scalar = 0;
  bool mirrored = false;  // came by way of one clear pane or more
  Straight through;
};

// A place in free air and the random numbers of one sample of the light there.
struct DirectSample {
  Vec3f place;
  PairSampler sampler;
};

// Samples 0 .. count as make(i), handed on as body(std::span<DirectSample>), so many together as rays can be
// asked for at once.
template <class Make, class Body>
void in_batches(std::uint32_t count, Make&& make, Body&& body) {
  std::array<DirectSample, World::kSegments> batch;
  for (std::uint32_t first = 0; first < count; first += World::kSegments) {
    const std::uint32_t size = std::min<std::uint32_t>(count - first, World::kSegments);
    for (std::uint32_t i = 0; i < size; ++i) batch[i] = make(first + i);
    body(std::span<DirectSample>(batch.data(), size));
  }
}

// A lamp where it hangs, or where it might: lamps block no light, so one can be put anywhere at no cost.
struct PlacedLamp {
  explicit PlacedLamp(const Lamp& lamp);

  const Emitter& emitter() const { return *fixture->emitter; }

  std::shared_ptr<const Fixture> fixture;
  Eigen::Matrix3d scene_from_local;
  Vec3 at;       // m
  float radius;  // m, of a ball about `at` that holds the emitter
};

class LightField {
 public:
  // Importance: from the lamps' spectra at their declared setting.
  LightField(const Scene& scene, Importance importance, TreeBuild build = TreeBuild::for_many_rays);
  // The same surfaces and room under other lamps. Shares the surfaces, so it costs next to nothing.
  LightField(const LightField& other, const std::vector<Lamp>& lamps);

  const World& world() const { return *world_; }
  const Importance& importance() const { return importance_; }
  std::size_t lamp_count() const { return lamps_.size(); }
  std::size_t source_count() const { return lamps_.size() + (has_room_ ? 1 : 0); }
  bool has_room() const { return has_room_; }
  int room_source() const { return static_cast<int>(lamps_.size()); }

  // Light of this field that was traced before; nothing where it was not told to remember. The memory's key
  // must be field_key() of the scene that it was made from.
  const FieldMemory& memory() const { return memory_; }
  void remember(FieldMemory memory) { memory_ = std::move(memory); }

  // Calls add(const Arrival&) for one sample of every lamp's direct light at `place`. `mirror_chance` (0..1):
  // how often light that comes by way of clear panes (any number of mirror images, chosen at random) is
  // looked for; it is weighted up by as much, so any chance above 0 is unbiased; 0 leaves that light out.
  // `normal`: null for a place in free air; for a place on a surface the surface's normal, so that rays start
  // on the side they leave by.
  template <class Add>
  void direct(const Vec3f& place, const Vec3f* normal, float mirror_chance, PairSampler& sampler,
              RayCount& rays, Add&& add) const;
  // The same of one lamp, which need not be one of the field's own; its arrivals bear the number `source`.
  template <class Add>
  void direct_from(const PlacedLamp& lamp, int source, const Vec3f& place, const Vec3f* normal,
                   float mirror_chance, PairSampler& sampler, RayCount& rays, Add&& add) const;

  // One sample of a lamp's direct light at each of several places, at most World::kSegments; in less time
  // than one by one. add() is called place by place for what comes straight, then for what comes by way of
  // panes.
  template <class Add>
  void direct_from(const PlacedLamp& lamp, int source, std::span<DirectSample> samples, float mirror_chance,
                   RayCount& rays, Add&& add) const;
  template <class Add>
  void direct_from(std::size_t lamp, std::span<DirectSample> samples, float mirror_chance, RayCount& rays,
                   Add&& add) const {
    direct_from(lamps_[lamp], static_cast<int>(lamp), samples, mirror_chance, rays, add);
  }

  // One sampled connection between a place and a lamp, whatever lies between them: the place on the emitter,
  // and EmitterPoint::weight.
  struct Connection {
    Vec3f target;
    float weight;
  };
  static Connection connect(const PlacedLamp& lamp, const Vec3f& from, Pair pair);

  // The same of one of the field's own lamps.
  Connection connect(std::size_t lamp, const Vec3f& from, Pair pair) const {
    return connect(lamps_[lamp], from, pair);
  }
  const LampCones& lamp_cones() const { return cones_; }
  const Vec3& lamp_centre(std::size_t lamp) const { return lamps_[lamp].at; }

  // The same for one of the field's own lamps alone.
  template <class Add>
  void direct_from(std::size_t lamp, const Vec3f& place, const Vec3f* normal, float mirror_chance,
                   PairSampler& sampler, RayCount& rays, Add&& add) const {
    direct_from(lamps_[lamp], static_cast<int>(lamp), place, normal, mirror_chance, sampler, rays, add);
  }

  // A ray of a lamp's own light, in the scene's frame; weight in watts per watt.
  struct Emission {
    Vec3f origin, direction;
    float weight;
  };
  Emission emit(std::size_t lamp, Pair place, Pair direction) const;
  // A ray of the room's light entering the scene's bounds, per W/m2 on a flat sensor outside; weight in m2.
  Emission emit_room(Pair place, Pair direction, float choice) const;

 private:
  static constexpr float kAnotherMirror = 0.25f;  // chance of going on to one more mirror
  // The straight way from a place to a lamp, and EmitterPoint::weight; false when the lamp does not shine
  // there.
  bool straight_way(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal, Pair pair, Segment& way,
                    float& weight) const;
  // What arrives by a way that no surface stands in; false when the panels leave nothing. Most ways end at a
  // leaf, so the panels are asked last.
  bool straight_arrival(const Segment& way, float weight, Arrival& arrival) const;
  // What comes by way of panes; see direct(). `arrival` bears the source's number.
  template <class Add>
  void mirrored_arrivals(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal, float mirror_chance,
                         const PairSampler& sampler, RayCount& rays, Arrival& arrival, Add&& add) const;
  // One lamp's light by way of `mirrors` panes in a randomly chosen order; false when that way is closed.
  bool reflected_arrival(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal, int mirrors,
                         PairSampler& sampler, RayCount& rays, Arrival& arrival) const;
  Vec3f start(const Vec3f& place, const Vec3f* normal, const Vec3f& direction) const {
    if (!normal) return place;
    return place + std::copysign(world_->offset(), normal->dot(direction)) * *normal;
  }

  std::shared_ptr<const World> world_;
  Importance importance_;
  void find_cones();

  std::vector<PlacedLamp> lamps_;
  LampCones cones_;
  bool has_room_ = false;
  FieldMemory memory_;
};

template <class Add>
void LightField::direct(const Vec3f& place, const Vec3f* normal, float mirror_chance, PairSampler& sampler,
                        RayCount& rays, Add&& add) const {
  for (std::size_t i = 0; i < lamps_.size(); ++i)
    direct_from(lamps_[i], static_cast<int>(i), place, normal, mirror_chance, sampler, rays, add);
}

template <class Add>
void LightField::direct_from(const PlacedLamp& lamp, int source, const Vec3f& place, const Vec3f* normal,
                             float mirror_chance, PairSampler& sampler, RayCount& rays, Add&& add) const {
  Arrival arrival;
  arrival.source = source;
  Segment way;
  float weight = 0;
  if (straight_way(lamp, place, normal, sampler.next(), way, weight)) {
    ++rays.shadow;
    if (!world_->blocked(way.origin, way.direction, way.distance) && straight_arrival(way, weight, arrival))
      add(static_cast<const Arrival&>(arrival));
  }
  mirrored_arrivals(lamp, place, normal, mirror_chance, sampler, rays, arrival, add);
}

template <class Add>
void LightField::direct_from(const PlacedLamp& lamp, int source, std::span<DirectSample> samples,
                             float mirror_chance, RayCount& rays, Add&& add) const {
  std::array<Segment, World::kSegments> ways;
  std::array<float, World::kSegments> weights;
  std::array<Pair, World::kSegments> pairs;
  PairSampler::next_of(samples, &DirectSample::sampler, pairs.data());
  std::size_t count = 0;
  for (std::size_t i = 0; i < samples.size(); ++i)
    if (straight_way(lamp, samples[i].place, nullptr, pairs[i], ways[count], weights[count])) ++count;
  rays.shadow += count;
  const std::uint32_t blocked = world_->blocked(std::span(ways.data(), count));
  Arrival arrival;
  arrival.source = source;
  for (std::size_t i = 0; i < count; ++i)
    if (!(blocked >> i & 1) && straight_arrival(ways[i], weights[i], arrival))
      add(static_cast<const Arrival&>(arrival));
  if (!(mirror_chance > 0) || world_->pane_panels().empty()) return;
  for (DirectSample& sample : samples)
    mirrored_arrivals(lamp, sample.place, nullptr, mirror_chance, sample.sampler, rays, arrival, add);
}

template <class Add>
void LightField::mirrored_arrivals(const PlacedLamp& lamp, const Vec3f& place, const Vec3f* normal,
                                   float mirror_chance, const PairSampler& sampler, RayCount& rays,
                                   Arrival& arrival, Add&& add) const {
  if (!(mirror_chance > 0) || world_->pane_panels().empty()) return;
  PairSampler own = sampler.apart();
  if (mirror_chance < 1 && own.next().u >= mirror_chance) return;
  arrival.mirrored = true;
  // One more mirror each time the coin says so: every number of mirrors can come up, so nothing is left out.
  for (int mirrors = 1;; ++mirrors) {
    if (reflected_arrival(lamp, place, normal, mirrors, own, rays, arrival)) {
      arrival.scalar /= mirror_chance;
      add(static_cast<const Arrival&>(arrival));
    }
    if (world_->pane_panels().size() < 2 || own.next().u >= kAnotherMirror) break;
  }
}

}  // namespace boughlight
