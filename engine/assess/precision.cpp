#include "assess/precision.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

#include "assess/efforts.h"
#include "assess/judge.h"

namespace boughlight {
namespace {

constexpr GatherEffort kPilot{32, 16};
constexpr std::uint32_t kMostSamples = 1u << 22;
constexpr int kPasses = 6;
// Aim below what is asked, so that few passes have to be run again; and lower each time that one has.
constexpr double kMargin = 0.8, kAgain = 0.9;

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

// What a path costs in connections to a lamp: some three surfaces, and a connection to every lamp there.
double path_cost(std::size_t lamps) {
  return 3.0 * (2.0 + static_cast<double>(lamps));
}

// Reckoned from what another effort took; a little off where paths are longer or shorter than that.
double rays_of(const LampEfforts& effort, const LampEfforts& measured, const Response& response) {
  const auto cost = [](const LampEfforts& of) {
    return std::accumulate(of.direct.begin(), of.direct.end(), of.paths * path_cost(of.direct.size()));
  };
  return static_cast<double>(response.rays.shadow + response.rays.closest) * cost(effort) / cost(measured);
}

// What is known of one goal's figure: the standard error that a single sample would have, by kind
// (connections to each lamp, then paths), and the error that the figure is allowed.
struct SampleErrors {
  std::vector<double> kinds;
  double allowed = 0;
};
std::vector<SampleErrors> sample_errors(const Task& task, const Response& response, const LampEfforts& used,
                                        double aim) {
  std::vector<SampleErrors> goals;
  for (const Goal& goal : task.goals) {
    SampleErrors errors;
    errors.allowed = goal.allowed_error(aim, weigh_facing(response, goal.weights).value);
    if (!(errors.allowed > 0)) continue;
    for (std::size_t lamp = 0; lamp < used.direct.size(); ++lamp)
      errors.kinds.push_back(weigh(response.direct, response, alone(goal.weights, lamp)).se *
                             std::sqrt(used.direct[lamp]));
    errors.kinds.push_back(weigh(response.indirect, response, goal.weights).se * std::sqrt(used.paths));
    goals.push_back(std::move(errors));
  }
  return goals;
}

// The samples that the goals ask for at the tolerance `aim`. Of all ways to reach one goal the cheapest
// shares its error out between the kinds by sample error over the root of the cost. Of each kind the goal
// that asks for most decides; and since that is more than any of them needs, all are cut down until one is
// just reached.
LampEfforts plan(const Task& task, const Response& response, const LampEfforts& used, double aim) {
  const std::size_t lamps = used.direct.size();
  std::vector<double> costs(lamps, 1.0);  // their roots
  costs.push_back(std::sqrt(path_cost(lamps)));
  const std::vector<SampleErrors> goals = sample_errors(task, response, used, aim);
  std::vector<double> samples(costs.size(), 0.0);
  for (const SampleErrors& goal : goals) {
    double all = 0;
    for (std::size_t kind = 0; kind < costs.size(); ++kind) all += goal.kinds[kind] * costs[kind];
    for (std::size_t kind = 0; kind < costs.size(); ++kind)
      samples[kind] =
          std::max(samples[kind], goal.kinds[kind] / costs[kind] * all / (goal.allowed * goal.allowed));
  }
  double needed = 0;  // of them
  for (const SampleErrors& goal : goals) {
    double square = 0;
    for (std::size_t kind = 0; kind < costs.size(); ++kind)
      if (samples[kind] > 0) square += goal.kinds[kind] * goal.kinds[kind] / samples[kind];
    needed = std::max(needed, square / (goal.allowed * goal.allowed));
  }
  LampEfforts effort;
  for (std::size_t lamp = 0; lamp < lamps; ++lamp)
    effort.direct.push_back(std::max(task.least.direct, well_stratified(needed * samples[lamp])));
  effort.paths = std::max(task.least.paths, well_stratified(needed * samples[lamps]));
  return effort;
}

// No fewer of any kind than another.
LampEfforts at_least(LampEfforts effort, const LampEfforts& other) {
  for (std::size_t lamp = 0; lamp < effort.direct.size(); ++lamp)
    effort.direct[lamp] = std::max(effort.direct[lamp], other.direct[lamp]);
  effort.paths = std::max(effort.paths, other.paths);
  return effort;
}

// Half of each kind, where that is more than `least`.
LampEfforts halved(LampEfforts effort, const GatherEffort& least) {
  for (std::uint32_t& samples : effort.direct) samples = std::max(least.direct, samples / 2);
  effort.paths = std::max(least.paths, effort.paths / 2);
  return effort;
}

bool is_least(const LampEfforts& effort, const GatherEffort& least) {
  return effort.paths <= least.paths &&
         std::all_of(effort.direct.begin(), effort.direct.end(),
                     [&](std::uint32_t samples) { return samples <= least.direct; });
}

bool reached(const Task& task, const Response& response, double tolerance) {
  return std::all_of(task.goals.begin(), task.goals.end(), [&](const Goal& goal) {
    const Figure figure = weigh_facing(response, goal.weights);
    return figure.se <= goal.allowed_error(tolerance, figure.value);
  });
}

}  // namespace

double Goal::allowed_error(double tolerance, double value) const {
  return ease * tolerance * std::max({std::abs(value), nearest_limit(limits, value), floor});
}

std::vector<SpectralD> alone(const std::vector<SpectralD>& weights, std::size_t source) {
  std::vector<SpectralD> own(weights.size(), SpectralD::Zero());
  own[source] = weights[source];
  return own;
}

Figure weigh(const std::vector<Spectral>& part, const Response& response,
             const std::vector<SpectralD>& weights) {
  return figure_of(replicate_values({&part}, response, weights));
}

Figure weigh_facing(const Response& response, const std::vector<SpectralD>& weights) {
  return figure_of(replicate_values({&response.direct, &response.indirect}, response, weights));
}

std::vector<LampEfforts> efforts_for(const LightField& field, const std::vector<Task>& tasks,
                                     double tolerance, std::uint32_t most, RayCount& spent) {
  std::vector<Receiver> receivers;
  for (const Task& task : tasks) receivers.push_back(task.receiver);
  for (Receiver& receiver : receivers) receiver.id = mix64(receiver.id, 0);
  const std::vector<Response> pilots = gather(field, receivers, std::vector(tasks.size(), kPilot));
  const LampEfforts pilot = for_each_lamp(kPilot, field.lamp_count());
  std::vector<LampEfforts> efforts;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    spent += pilots[i].rays;
    LampEfforts effort = plan(tasks[i], pilots[i], pilot, kMargin * tolerance);
    for (std::uint32_t& samples : effort.direct) samples = std::min(samples, most);
    effort.paths = std::min(effort.paths, most);
    efforts.push_back(std::move(effort));
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
  std::vector<LampEfforts> used(tasks.size(), for_each_lamp(kPilot, field.lamp_count()));
  for (const Response& response : results) spent += response.rays;
  if (pilot) pilot(results);

  double aim = kMargin * tolerance;
  for (int pass = 1; pass <= kPasses && !open.empty(); ++pass, aim *= kAgain) {
    // Share what is left of the budget evenly between the receivers that ask for more than it.
    const double left = budget.rays - static_cast<double>(spent.shadow + spent.closest);
    if (pass > 1 && left <= 0) break;
    const double share = std::max(left, 0.0) / static_cast<double>(open.size());
    std::vector<LampEfforts> efforts;
    std::vector<std::size_t> next;
    for (const std::size_t i : open) {
      const GatherEffort& least = tasks[i].least;
      LampEfforts effort = plan(tasks[i], results[i], used[i], aim);
      if (pass > 1) effort = at_least(std::move(effort), used[i]);
      while (rays_of(effort, used[i], results[i]) > share && !is_least(effort, least))
        effort = halved(std::move(effort), least);
      // With no more rays left than the last pass had it would only come to less.
      if (pass > 1 && rays_of(effort, used[i], results[i]) <= rays_of(used[i], used[i], results[i])) continue;
      efforts.push_back(std::move(effort));
      next.push_back(i);
    }
    std::vector<Response> responses = gather(field, receivers_of(next, pass), efforts);
    open.clear();
    for (std::size_t k = 0; k < next.size(); ++k) {
      spent += responses[k].rays;
      results[next[k]] = std::move(responses[k]);
      used[next[k]] = efforts[k];
      if (!reached(tasks[next[k]], results[next[k]], tolerance)) open.push_back(next[k]);
    }
  }
  return results;
}

}  // namespace boughlight
