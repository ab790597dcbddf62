// What the parts of the benchmark share: the demo, clocks, and one table form.
#pragma once

#include <chrono>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "assess/output.h"
#include "assess/survey.h"
#include "geometry/world.h"
#include "scene/load.h"
#include "transport/response.h"

namespace boughlight::bench {

inline Scene demo() {
  return load_scene(BOUGHLIGHT_SOURCE_DIR "/scenes/fern-tower.yaml");
}

inline double seconds_of(const std::function<void()>& work) {
  const auto begin = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

// The middle of several timings of the same work.
double median_seconds(int repeats, const std::function<void()>& work);

// What the ray caster alone does on the demo's geometry, rays a second.
struct CasterRates {
  double shadow, closest;
  double seconds(const RayCount& rays) const {
    return static_cast<double>(rays.shadow) / shadow + static_cast<double>(rays.closest) / closest;
  }
};
CasterRates caster_rates(const Scene& scene, const World& world);

// Greatest memory that this process has held so far, MiB.
double peak_mib();

inline void heading(const char* text) {
  std::printf("\n%s\n", text);
}

// The parts, in the order they are printed; each stands alone.
void print_ray_rates();     // the ray caster alone, the solver on it, and their ratio
void print_survey_times();  // stages, threads, rays and time to 2 % and to 1 %, memory
void print_growth();        // with receivers, leaves, lamps, tolerance
void print_plain_paths();   // rays to the same error, held against plain path tracing
void print_kept_light();    // the demo again, and with small changes, with its light kept

}  // namespace boughlight::bench
