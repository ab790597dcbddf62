#include "assess/precision.h"

#include <algorithm>
#include <bit>
#include <cmath>

#include "assess/efforts.h"
#include "assess/judge.h"

namespace boughlight {
namespace {

constexpr GatherEffort kPilot{32, 32};
constexpr GatherEffort kLeast{256, 64};
constexpr std::uint32_t kMostSamples = 1u << 22;
constexpr int kPasses = 6;
// Aim below what is asked, so that few passes have to be run again.
constexpr double kMargin = 0.8;

std::vector<double> replicate_values(const std::vector<const std::vector<Spectral>*>& parts,
                                     const Response& response, const std::vector<SpectralD>& weights) {
  std::vector<double> values(kReplicates, 0.0);
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    for (std::size_t source = 0; source < response.sources; ++source)
      for (const auto* part : parts)
        values[static_cast<std::size_t>(replicate)] +=
            ((*part)[response.at(replicate, source)].cast<double>() * weights[source]).sum();
  return values;
}

// The next power of two, or three quarters of it: both stratify well.
std::uint32_t well_stratified(double samples) {
  const double bounded = std::clamp(std::ceil(samples), 4.0, static_cast<double>(kMostSamples));
  const std::uint32_t power = std::bit_ceil(static_cast<std::uint32_t>(bounded));
  return bounded <= 0.75 * power ? power / 4 * 3 : power;
}

double rays_of(const GatherEffort& effort, const GatherEffort& measured, const Response& response) {
  const double direct = static_cast<double>(effort.direct) / measured.direct;
  const double paths = static_cast<double>(effort.paths) / measured.paths;
  return static_cast<double>(response.rays.shadow + response.rays.closest) * std::max(direct, paths);
}

// How much more of each kind of sample the goals ask for, sharing the error between them at the least cost.
GatherEffort plan(const Task& task, const Response& response, const GatherEffort& used, double tolerance,
                  std::size_t lamps) {
  double direct = 0, paths = 0;
  for (const Goal& goal : task.goals) {
    const double value = weigh_facing(response, goal.weights).value;
    const double allowed = kMargin * goal.allowed_error(tolerance, value);
    if (!(allowed > 0)) continue;
    const double direct_error = weigh(response.direct, response, goal.weights).se;
    const double indirect_error = weigh(response.indirect, response, goal.weights).se;
    // Cost of a sample in shadow rays: a direct one asks every lamp, a path some three surfaces and every
    // lamp there.
    const double direct_cost = std::sqrt(static_cast<double>(std::max<std::size_t>(lamps, 1)));
    const double path_cost = std::sqrt(3.0 * (2.0 + static_cast<double>(lamps)));
    const double both = direct_error * direct_cost + indirect_error * path_cost;
    direct = std::max(direct, used.direct * direct_error * both / (direct_cost * allowed * allowed));
    paths = std::max(paths, used.paths * indirect_error * both / (path_cost * allowed * allowed));
  }
  return {std::max(kLeast.direct, well_stratified(direct)), std::max(kLeast.paths, well_stratified(paths))};
}

bool reached(const Task& task, const Response& response, double tolerance) {
  return std::all_of(task.goals.begin(), task.goals.end(), [&](const Goal& goal) {
    const Figure figure = weigh_facing(response, goal.weights);
    return figure.se <= goal.allowed_error(tolerance, figure.value);
  });
}

}  // namespace

double Goal::allowed_error(double tolerance, double value) const {
  return tolerance * std::max({std::abs(value), nearest_limit(limits, value), floor});
}

Figure weigh(const std::vector<Spectral>& part, const Response& response,
             const std::vector<SpectralD>& weights) {
  return figure_of(replicate_values({&part}, response, weights));
}

Figure weigh_facing(const Response& response, const std::vector<SpectralD>& weights) {
  return figure_of(replicate_values({&response.direct, &response.indirect}, response, weights));
}

std::vector<GatherEffort> efforts_for(const LightField& field, const std::vector<Task>& tasks,
                                      double tolerance, std::uint32_t most, RayCount& spent) {
  std::vector<Receiver> receivers;
  for (const Task& task : tasks) receivers.push_back(task.receiver);
  for (Receiver& receiver : receivers) receiver.id = mix64(receiver.id, 0);
  const std::vector<Response> pilots = gather(field, receivers, std::vector(tasks.size(), kPilot));
  std::vector<GatherEffort> efforts;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    spent += pilots[i].rays;
    const GatherEffort effort = plan(tasks[i], pilots[i], kPilot, tolerance, field.lamp_count());
    efforts.push_back({std::min(effort.direct, most), std::min(effort.paths, most)});
  }
  return efforts;
}

std::vector<Response> gather_to_tolerance(const LightField& field, const std::vector<Task>& tasks,
                                          double tolerance, const GatherBudget& budget, RayCount& spent,
                                          const std::function<void(const std::vector<Response>&)>& pilot) {
  const auto receivers_of = [&](const std::vector<std::size_t>& which, int pass) {
    std::vector<Receiver> receivers;
    for (const std::size_t i : which) {
      receivers.push_back(tasks[i].receiver);
      receivers.back().id = mix64(tasks[i].receiver.id, static_cast<std::uint64_t>(pass));
    }
    return receivers;
  };
  std::vector<std::size_t> open(tasks.size());
  for (std::size_t i = 0; i < open.size(); ++i) open[i] = i;
  std::vector<Response> results = gather(field, receivers_of(open, 0), std::vector(tasks.size(), kPilot));
  std::vector<GatherEffort> used(tasks.size(), kPilot);
  for (const Response& response : results) spent += response.rays;
  if (pilot) pilot(results);

  for (int pass = 1; pass <= kPasses && !open.empty(); ++pass) {
    // Share what is left of the budget evenly between the receivers that ask for more than it.
    const double left = budget.rays - static_cast<double>(spent.shadow + spent.closest);
    if (pass > 1 && left <= 0) break;
    const double share = std::max(left, 0.0) / static_cast<double>(open.size());
    std::vector<GatherEffort> efforts;
    for (const std::size_t i : open) {
      GatherEffort effort = plan(tasks[i], results[i], used[i], tolerance, field.lamp_count());
      if (pass > 1) {
        // The last pass fell short although it was planned to do: ask for more than it had.
        effort.direct = std::max(effort.direct, used[i].direct);
        effort.paths = std::max(effort.paths, used[i].paths);
      }
      while (rays_of(effort, used[i], results[i]) > share &&
             (effort.direct > kLeast.direct || effort.paths > kLeast.paths)) {
        effort.direct = std::max(kLeast.direct, effort.direct / 2);
        effort.paths = std::max(kLeast.paths, effort.paths / 2);
      }
      efforts.push_back(effort);
    }
    std::vector<Response> responses = gather(field, receivers_of(open, pass), efforts);
    std::vector<std::size_t> still_open;
    for (std::size_t k = 0; k < open.size(); ++k) {
      spent += responses[k].rays;
      results[open[k]] = std::move(responses[k]);
      used[open[k]] = efforts[k];
      if (!reached(tasks[open[k]], results[open[k]], tolerance)) still_open.push_back(open[k]);
    }
    open = std::move(still_open);
  }
  return results;
}

}  // namespace boughlight
