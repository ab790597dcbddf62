// How fast the demo scene is surveyed, and how much of that the ray caster itself could do: run it by hand
// (bench_boughlight), on a machine that does nothing else.

#include <benchmark/benchmark.h>
#include <tbb/parallel_for.h>

#include <chrono>
#include <map>
#include <vector>

#include "assess/output.h"
#include "assess/survey.h"
#include "scene/load.h"
#include "transport/directions.h"
#include "transport/gather.h"

namespace boughlight {
namespace {

const Scene& demo() {
  static const Scene scene = load_scene(BOUGHLIGHT_SOURCE_DIR "/scenes/fern-tower.yaml");
  return scene;
}

const LightField& demo_field() {
  static const LightField field(demo(), importance_of(demo()));
  return field;
}

// Places all over the enclosure with a direction each, as receivers and for bare rays.
struct Probe {
  Vec3f place, direction;
};
std::vector<Probe> probes(std::size_t count) {
  std::vector<Probe> result(count);
  for (std::size_t i = 0; i < count; ++i) {
    Stream random(5, i);
    const Box& box = demo().boxes[i % demo().boxes.size()];
    const Vec3 share(random.next(), random.next(), random.next());
    result[i].place = (box.corner + share.cwiseProduct(box.size)).cast<float>();
    const Pair pair{random.next_float(), random.next_float()};
    result[i].direction = sample_sphere(pair);
  }
  return result;
}

void set_rate(benchmark::State& state, const char* name, double count) {
  state.counters[name] = benchmark::Counter(count, benchmark::Counter::kIsRate);
}

// The solver: all replicates of upward-facing receivers; the argument is the light paths of each replicate.
void solver(benchmark::State& state) {
  const auto samples = static_cast<std::uint32_t>(state.range(0));
  std::vector<Receiver> receivers;
  for (const Probe& probe : probes(64))
    receivers.push_back(fixed_receiver(probe.place, Vec3f::UnitZ(), receivers.size()));
  const std::vector<GatherEffort> effort(receivers.size(), GatherEffort{samples, samples});
  double rays = 0, done = 0;
  for (auto _ : state) {
    for (const Response& response : gather(demo_field(), receivers, effort))
      rays += static_cast<double>(response.rays.shadow + response.rays.closest);
    done += static_cast<double>(receivers.size());
  }
  set_rate(state, "receivers/s", done);
  set_rate(state, "rays/s", rays);
}
BENCHMARK(solver)->Arg(64)->Arg(256)->Unit(benchmark::kMillisecond)->UseRealTime();

// Bare Embree on the same geometry and threads: no panels, no light.
template <class Query>
void bare_rays(benchmark::State& state, Query&& query) {
  const std::vector<Probe> all = probes(1u << 17);
  const World& world = demo_field().world();
  double rays = 0;
  for (auto _ : state) {
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, all.size(), 1024), [&](const auto& range) {
      for (std::size_t i = range.begin(); i < range.end(); ++i) query(world, all[i]);
    });
    rays += static_cast<double>(all.size());
  }
  set_rate(state, "rays/s", rays);
}

void embree_closest_hit(benchmark::State& state) {
  bare_rays(state, [](const World& world, const Probe& probe) {
    Hit hit;
    benchmark::DoNotOptimize(world.closest(probe.place, probe.direction, hit));
  });
}
BENCHMARK(embree_closest_hit)->Unit(benchmark::kMillisecond)->UseRealTime();

// To the first lamp, as the solver's own shadow rays go.
void embree_shadow(benchmark::State& state) {
  const Vec3f lamp = demo().lamps.front().at.cast<float>();
  bare_rays(state, [&](const World& world, const Probe& probe) {
    const Vec3f way = lamp - probe.place;
    const float distance = way.norm();
    benchmark::DoNotOptimize(world.blocked(probe.place, way / distance, distance));
  });
}
BENCHMARK(embree_shadow)->Unit(benchmark::kMillisecond)->UseRealTime();

// The whole survey, with the seconds that each of its stages took.
void whole_survey(benchmark::State& state) {
  using Clock = std::chrono::steady_clock;
  std::map<std::string, double> seconds;
  double rays = 0;
  std::size_t cells = 0;
  for (auto _ : state) {
    std::string stage;
    auto since = Clock::now();
    SurveyControl control;
    control.progress = [&](const std::string& next, double) {
      const auto now = Clock::now();
      if (!stage.empty()) seconds[stage] += std::chrono::duration<double>(now - since).count();
      stage = next;
      since = now;
    };
    const Survey survey = run_survey(demo(), control);
    rays += survey.effort.rays;
    cells = survey.cells.size();
  }
  for (const auto& [stage, total] : seconds)
    state.counters["s " + stage] = benchmark::Counter(total, benchmark::Counter::kAvgIterations);
  state.counters["cells"] = static_cast<double>(cells);
  set_rate(state, "rays/s", rays);
}
BENCHMARK(whole_survey)->Unit(benchmark::kSecond)->UseRealTime()->Iterations(2);

}  // namespace
}  // namespace boughlight

BENCHMARK_MAIN();
