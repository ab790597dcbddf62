// Rates of the ray caster on the demo's own geometry, and of the solver that uses it.

#include <oneapi/tbb/global_control.h>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <atomic>

#include "bench.h"
#include "transport/directions.h"
#include "transport/gather.h"

namespace boughlight::bench {
namespace {

struct Probe {
  Vec3f place, direction;
};

// Places all over the enclosure, a direction each.
std::vector<Probe> probes(const Scene& scene, std::size_t count) {
  std::vector<Probe> result(count);
  for (std::size_t i = 0; i < count; ++i) {
    Stream random(5, i);
    const Box& box = scene.boxes[i % scene.boxes.size()];
    const Vec3 share(random.next(), random.next(), random.next());
    const Pair pair{random.next_float(), random.next_float()};
    result[i] = {(box.corner + share.cwiseProduct(box.size)).cast<float>(), sample_sphere(pair)};
  }
  return result;
}

// Where cosine bounces start: first surfaces met from the probes, a hair off them.
std::vector<Probe> bounces(const World& world, const std::vector<Probe>& from) {
  std::vector<Probe> result;
  for (std::size_t i = 0; i < from.size(); ++i) {
    Hit hit;
    if (!world.closest(from[i].place, from[i].direction, hit)) continue;
    Stream random(6, i);
    const Pair pair{random.next_float(), random.next_float()};
    result.push_back({hit.place + world.offset() * hit.normal, sample_cosine(hit.normal, pair)});
  }
  return result;
}

template <class Cast>
double rate_of(const std::vector<Probe>& rays, Cast&& cast) {
  std::atomic<std::size_t> hits{0};
  const double seconds = median_seconds(5, [&] {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, rays.size(), 1024), [&](const auto& range) {
      std::size_t met = 0;
      for (std::size_t i = range.begin(); i < range.end(); ++i) met += cast(rays[i]) ? 1 : 0;
      hits += met;
    });
  });
  return static_cast<double>(rays.size()) / seconds;
}

struct Rates {
  CasterRates caster;
  double solver;           // rays of both kinds, 1/s
  double bound;            // what the ray caster alone would do with that mix, 1/s
  double share_of_shadow;  // of the solver's rays
};

Rates rates_with(int threads, const Scene& scene, const LightField& field) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism,
                                  static_cast<std::size_t>(threads));
  Rates rates{caster_rates(scene, field.world()), 0, 0, 0};
  // The solver: all replicates of upward sensors.
  std::vector<Receiver> receivers;
  for (const Probe& probe : probes(scene, 64))
    receivers.push_back(fixed_receiver(probe.place, Vec3f::UnitZ(), receivers.size()));
  const std::vector<GatherEffort> effort(receivers.size(), GatherEffort{256, 128});
  RayCount rays;
  const double seconds = median_seconds(3, [&] {
    rays = {};
    for (const Response& response : gather(field, receivers, effort)) rays += response.rays;
  });
  const double both = static_cast<double>(rays.shadow + rays.closest);
  rates.solver = both / seconds;
  rates.bound = both / rates.caster.seconds(rays);
  rates.share_of_shadow = static_cast<double>(rays.shadow) / both;
  return rates;
}

}  // namespace

CasterRates caster_rates(const Scene& scene, const World& world) {
  const std::vector<Probe> all = probes(scene, 1u << 18), bounced = bounces(world, all);
  const Vec3f lamp = scene.lamps.front().at.cast<float>();
  const double shadow = rate_of(all, [&](const Probe& probe) {
    const Vec3f way = lamp - probe.place;
    const float distance = way.norm();
    return world.blocked(probe.place, way / distance, distance);
  });
  const double closest = rate_of(bounced, [&](const Probe& probe) {
    Hit hit;
    return world.closest(probe.place, probe.direction, hit);
  });
  return {shadow, closest};
}

void print_ray_rates() {
  const Scene scene = demo();
  const LightField field(scene, importance_of(scene));
  heading("Rays a second on the demo's geometry, millions (1 thread / 2 threads)");
  const Rates one = rates_with(1, scene, field), two = rates_with(2, scene, field);
  std::printf("  ray caster, shadow rays to a lamp     %6.2f / %6.2f\n", one.caster.shadow / 1e6,
              two.caster.shadow / 1e6);
  std::printf("  ray caster, nearest surface, bounces  %6.2f / %6.2f\n", one.caster.closest / 1e6,
              two.caster.closest / 1e6);
  std::printf("  ray caster, the solver's mix          %6.2f / %6.2f   (%.0f %% shadow rays)\n",
              one.bound / 1e6, two.bound / 1e6, 100 * two.share_of_shadow);
  std::printf("  solver, everything included           %6.2f / %6.2f\n", one.solver / 1e6, two.solver / 1e6);
  std::printf("  solver of ray caster                  %5.0f %% / %5.0f %%\n", 100 * one.solver / one.bound,
              100 * two.solver / two.bound);
  std::printf("  two threads of one, solver            %.2f x\n", two.solver / one.solver);
}

}  // namespace boughlight::bench
