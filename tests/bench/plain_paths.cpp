// How many rays the demo's judged figures take to a standard error of 2 %, held against plain path tracing:
// random numbers independent for every path and receiver, one lamp chosen at random at every surface.

#include <algorithm>
#include <cmath>

#include "assess/readings.h"
#include "bench.h"
#include "transport/walk.h"

namespace boughlight::bench {
namespace {

constexpr double kTolerance = 0.02;

// Light of one path at an upward or given sensor, weighed for one figure; the variance over paths says how
// many are needed.
struct PlainPath {
  const LightField& field;
  const std::vector<SpectralD>& weights;
  RayCount& rays;
  PairSampler& sampler;
  double value = 0;

  double of(const Arrival& arrival, const Spectral& carried) const {
    const Spectral& through = arrival.through.spectral;
    const auto& weight = weights[static_cast<std::size_t>(arrival.source)];
    return static_cast<double>(arrival.scalar) * (arrival.through.is_spectral
                                                      ? (weight * (carried * through).cast<double>()).sum()
                                                      : (weight * carried.cast<double>()).sum());
  }
  std::size_t one_lamp() {
    const auto count = static_cast<float>(field.lamp_count());
    return std::min(static_cast<std::size_t>(sampler.next().u * count), field.lamp_count() - 1);
  }
  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, bool) {}
  void escape(const Vec3f&, const Spectral&) {}
  void vertex(const ScatterSite& site, const Spectral& throughput) {
    field.direct_from(one_lamp(), site.place, &site.normal, 1, sampler, rays, [&](const Arrival& arrival) {
      const auto kernel = site.kernel(field.world(), arrival.direction);
      value += static_cast<double>(field.lamp_count()) * static_cast<double>(kernel.scalar) *
               of(arrival, throughput * *kernel.colour);
    });
  }
};

struct Cost {
  double mean = 0, variance = 0, rays = 0;  // of one path
};

Cost plain_cost(const LightField& field, const Receiver& receiver, const std::vector<SpectralD>& weights) {
  constexpr std::uint32_t kPaths = 20000;
  double sum = 0, squares = 0;
  RayCount rays;
  for (std::uint32_t i = 0; i < kPaths; ++i) {
    const std::uint64_t stream = mix64(mix64(receiver.id, 99), i);
    PairSampler sampler(stream, 0);
    PlainPath path{field, weights, rays, sampler};
    const Vec3f place = receiver.place(stream, 0);
    field.direct_from(path.one_lamp(), place, nullptr, 1, sampler, rays, [&](const Arrival& arrival) {
      path.value += static_cast<double>(field.lamp_count()) *
                    static_cast<double>(std::max(0.0f, receiver.normal.dot(arrival.direction))) *
                    path.of(arrival, Spectral::Ones());
    });
    const double straight = path.value;
    path.value = 0;
    const Vec3f direction = sample_cosine(receiver.normal, sampler.next());
    walk<Travel::against_light>(field, place, direction, Spectral::Ones(), sampler, rays, path);
    const double value = straight + static_cast<double>(kPi) * path.value;
    sum += value, squares += value * value;
  }
  const double mean = sum / kPaths;
  return {mean, squares / kPaths - mean * mean, static_cast<double>(rays.shadow + rays.closest) / kPaths};
}

// Standard error of one part of the light times the root of its rays: rays to an error are in proportion to
// the square. From as many samples as a survey takes, since points of low discrepancy gain with their number.
double error_and_cost(const LightField& field, const Receiver& receiver, const GatherEffort& effort,
                      const std::vector<SpectralD>& weights, std::vector<Spectral> Response::*part) {
  const Response response = gather(field, {receiver}, {effort}).front();
  return weigh(response.*part, response, weights).se *
         std::sqrt(static_cast<double>(response.rays.shadow + response.rays.closest));
}

}  // namespace

void print_plain_paths() {
  const Scene scene = demo();
  const LightField field(scene, importance_of(scene));
  Setting setting = setting_of(scene, field);
  Survey survey;
  survey.scene = scene;
  take_readings(setting, survey);

  heading("Rays to 2 % on judged figures: this solver, and plain path tracing (millions)");
  double ours = 0, plain = 0, log_ratios = 0;
  int count = 0;
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    const Receiver receiver = receiver_of(setting, reading, mix64(77, i));
    for (const WantResult& want : reading.wants) {
      const std::vector<SpectralD> weights = setting.weights(want.want.quantity);
      const Cost cost = plain_cost(field, receiver, weights);
      const double allowed = kTolerance * cost.mean;
      const double needed = cost.rays * cost.variance / (allowed * allowed);
      // This solver shares its samples out between straight and reflected light as a survey does.
      const double straight = error_and_cost(field, receiver, {1024, 1}, weights, &Response::direct);
      const double reflected = error_and_cost(field, receiver, {1, 512}, weights, &Response::indirect);
      const double used = (straight + reflected) * (straight + reflected) / (allowed * allowed);
      std::printf("  %-22s %-11s %9.4f  %9.4f  %7.1f x\n", reading.name.c_str(),
                  std::string(info(want.want.quantity).name).c_str(), used / 1e6, needed / 1e6,
                  needed / used);
      ours += used, plain += needed, log_ratios += std::log(needed / used), ++count;
    }
  }
  std::printf("  in all %38.4f  %9.4f  %7.1f x (geometric mean of the ratios %.1f x)\n", ours / 1e6,
              plain / 1e6, plain / ours, std::exp(log_ratios / std::max(count, 1)));
}

}  // namespace boughlight::bench
