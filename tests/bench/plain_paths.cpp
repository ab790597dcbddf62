// How many rays the demo's judged figures take to a standard error of 2 %, and its cells to 5 % RMS, held
// against plain path tracing: random numbers independent for every path and receiver, one lamp chosen at
// random at every surface.

#include <algorithm>
#include <cmath>

#include "assess/field_cells.h"
#include "assess/mapped.h"
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
  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, Met) {}
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

Cost plain_cost(const LightField& field, const Receiver& receiver, const std::vector<SpectralD>& weights,
                std::uint32_t paths) {
  double sum = 0, squares = 0;
  RayCount rays;
  for (std::uint32_t i = 0; i < paths; ++i) {
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
  const double mean = sum / paths;
  return {mean, squares / paths - mean * mean, static_cast<double>(rays.shadow + rays.closest) / paths};
}

// Standard error of one part of the light times the root of its rays: rays to an error are in proportion to
// the square. From as many samples as a survey takes, since points of low discrepancy gain with their number.
double error_and_cost(const LightField& field, Receiver receiver, const LampEfforts& effort,
                      const std::vector<SpectralD>& weights, std::vector<Spectral> Response::*part) {
  constexpr int kTimes = 8;  // an error from a few replicates is itself known badly
  double squares = 0;
  for (int i = 0; i < kTimes; ++i, receiver.id = mix64(receiver.id)) {
    const Response response = gather(field, {receiver}, {effort}).front();
    const double se = weigh(response.*part, response, weights).se;
    squares += se * se * static_cast<double>(response.rays.shadow + response.rays.closest) / kTimes;
  }
  return std::sqrt(squares);
}

double all_rays(const RayCount& rays) {
  return static_cast<double>(rays.shadow + rays.closest);
}

struct Rays {
  double ours = 0, plain = 0;
};

// The light of the whole grid: this solver's rays, scaled from the error that they came to; and those of
// plain path tracing where each cell gets as many as take the fewest in all, told by some of the cells.
Rays print_cells(Setting& setting) {
  constexpr double kRms = 0.05, kFaint = 0.1;  // the latter of the mean
  constexpr std::size_t kTold = 1000;
  constexpr std::uint32_t kPaths = 2000;
  const Scene& scene = setting.scene;
  const double before = all_rays(setting.spent);
  const GridLight light = light_cells(setting);
  const double spent = all_rays(setting.spent) - before;
  const CellWeigher weigher(setting);
  std::vector<std::array<Figure, kQuantities>> figures;
  for (std::size_t cell = 0; cell < light.grid->size(); ++cell)
    figures.push_back(weigher.figures(*light.light, cell));

  heading("Rays to 5 % RMS over the demo's cells above a tenth of the mean (millions)");
  Rays most;
  for (const Quantity quantity : kMappedQuantities) {
    const auto q = static_cast<std::size_t>(quantity);
    double mean = 0, squares = 0;
    for (const auto& cell : figures) mean += cell[q].value / static_cast<double>(figures.size());
    std::vector<std::size_t> bright;
    for (std::size_t cell = 0; cell < figures.size(); ++cell)
      if (figures[cell][q].value > kFaint * mean) bright.push_back(cell);
    const auto count = static_cast<double>(bright.size());
    for (const std::size_t cell : bright)
      squares += std::pow(figures[cell][q].se / figures[cell][q].value, 2) / count;
    const std::vector<SpectralD> weights = setting.weights(quantity);
    double roots = 0, told = 0;
    for (std::size_t k = 0; k < bright.size(); k += std::max<std::size_t>(bright.size() / kTold, 1), ++told) {
      const std::size_t cell = bright[k];
      Receiver receiver;
      receiver.id = mix64(78, cell);
      receiver.place = [&](std::uint64_t stream, std::uint32_t index) {
        PairSampler sampler(stream, index);
        return CellPlaces(scene, *light.grid, cell).at(sampler);
      };
      const Cost cost = plain_cost(setting.field, receiver, weights, kPaths);
      roots += std::sqrt(cost.rays * cost.variance) / figures[cell][q].value;
    }
    const double needed = count * std::pow(roots / told, 2) / (kRms * kRms);
    const double used = spent * squares / (kRms * kRms);
    std::printf("  %-22s %5.0f cells %9.4f  %9.4f  %7.1f x\n", std::string(info(quantity).name).c_str(),
                count, used / 1e6, needed / 1e6, needed / used);
    most = {std::max(most.ours, used), std::max(most.plain, needed)};
  }
  std::printf("  all of them together %20.4f  %9.4f  %7.1f x\n", most.ours / 1e6, most.plain / 1e6,
              most.plain / most.ours);
  return most;
}

}  // namespace

void print_plain_paths() {
  const Scene scene = demo();
  const LightField field(scene, importance_of(scene));
  Setting setting = setting_of(scene, field);
  Survey survey;
  survey.scene = scene;
  take_readings(setting, survey);

  constexpr std::uint32_t kPaths = 20000;
  heading("Rays to 2 % on judged figures: this solver, and plain path tracing (millions)");
  double ours = 0, plain = 0, log_ratios = 0;
  int count = 0;
  for (std::size_t i = 0; i < survey.readings.size(); ++i) {
    const Reading& reading = survey.readings[i];
    const Receiver receiver = receiver_of(setting, reading, mix64(77, i));
    for (const WantResult& want : reading.wants) {
      const std::vector<SpectralD> weights = setting.weights(want.want.quantity);
      const Cost cost = plain_cost(field, receiver, weights, kPaths);
      const double allowed = kTolerance * cost.mean;
      const double needed = cost.rays * cost.variance / (allowed * allowed);
      // This solver shares its samples out between each lamp's straight light and what is reflected, as a
      // survey does.
      const LampEfforts none = for_each_lamp({0, 0}, field.lamp_count());
      LampEfforts paths = none;
      paths.paths = 512;
      double roots = error_and_cost(field, receiver, paths, weights, &Response::indirect);
      for (std::size_t lamp = 0; lamp < field.lamp_count(); ++lamp) {
        LampEfforts straight = none;
        straight.direct[lamp] = 1024;
        roots += error_and_cost(field, receiver, straight, weights, &Response::direct);
      }
      const double used = roots * roots / (allowed * allowed);
      std::printf("  %-22s %-11s %9.4f  %9.4f  %7.1f x\n", reading.name.c_str(),
                  std::string(info(want.want.quantity).name).c_str(), used / 1e6, needed / 1e6,
                  needed / used);
      ours += used, plain += needed, log_ratios += std::log(needed / used), ++count;
    }
  }
  std::printf("  in all %38.4f  %9.4f  %7.1f x (geometric mean of the ratios %.1f x)\n", ours / 1e6,
              plain / 1e6, plain / ours, std::exp(log_ratios / std::max(count, 1)));
  const Rays cells = print_cells(setting);
  std::printf("  and the judged figures %18.4f  %9.4f  %7.1f x\n", (cells.ours + ours) / 1e6,
              (cells.plain + plain) / 1e6, (cells.plain + plain) / (cells.ours + ours));
}

}  // namespace boughlight::bench
