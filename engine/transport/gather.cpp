#include "transport/gather.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "transport/path_light.h"

namespace boughlight {

// Sums over a stretch of samples, not yet divided by their number: the same whatever else is sampled.
struct StretchSums {
  std::vector<Spectral> facing, spherical;  // [replicate * sources + source]; of one lamp: [replicate]
  RayCount rays;
};
template <class Bytes, SameAs<StretchSums> Sums>
static void carry(Bytes& bytes, Sums& sums) {
  carry(bytes, sums.facing);
  carry(bytes, sums.spherical);
  carry(bytes, sums.rays);
}

namespace {

void check(const Spectral& sum, const char* what) {
  if (!(sum >= 0).all() || !sum.isFinite().all())
    throw std::runtime_error(std::string("a sample of the ") + what + " light is negative or not finite");
}

// Samples `from` up to, not with, `to` of each replicate of a receiver: connections to a lamp, or else paths.
struct Job {
  std::size_t receiver = 0;
  std::optional<std::size_t> lamp;
  std::uint32_t from = 0, to = 0;
  bool known = false;
  StretchSums sums;
};

// The samples in stretches that end where efforts do, so that a greater effort only adds some.
std::vector<std::pair<std::uint32_t, std::uint32_t>> stretches(std::uint32_t samples) {
  constexpr std::uint32_t kFirst = 128;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> parts;
  for (std::uint32_t from = 0; from < samples;) {
    // A power of two, three quarters of the next, and so on.
    const std::uint32_t power = std::bit_floor(std::max(from, 1U));
    const std::uint32_t to = from < kFirst ? kFirst : from == power ? power / 2 * 3 : 2 * power;
    parts.emplace_back(from, std::min(to, samples));
    from = to;
  }
  return parts;
}

void sample_direct(const LightField& field, const Receiver& receiver, std::size_t replicate, Job& job,
                   RayCount& rays) {
  Spectral& facing_sum = job.sums.facing[replicate];
  Spectral& spherical_sum = job.sums.spherical[replicate];
  // Without panes a sample is one number for all bins: sum those apart and spread them once. Many that are
  // nearly equal would lose digits in single precision.
  double grey = 0, grey_spherical = 0;
  // Places of their own for each lamp: their errors then add up as independent ones.
  const std::uint64_t stream = mix64(mix64(mix64(receiver.id, replicate), kDirectStream), *job.lamp);
  const bool panes = !field.world().pane_panels().empty();
  Spectral batch_facing, batch_spherical;
  const auto add = [&](const Arrival& arrival) {
    const float facing = arrival.scalar * std::max(0.0f, receiver.normal.dot(arrival.direction));
    if (arrival.through.is_spectral) {
      batch_facing += facing * arrival.through.spectral;
      batch_spherical += arrival.scalar * arrival.through.spectral;
    } else {
      grey += facing;
      grey_spherical += arrival.scalar;
    }
  };
  in_batches(
      job.to - job.from,
      [&](std::uint32_t i) {
        return DirectSample{receiver.place(stream, job.from + i), PairSampler(stream, job.from + i)};
      },
      [&](std::span<DirectSample> samples) {
        batch_facing.setZero(), batch_spherical.setZero();
        field.direct_from(*job.lamp, samples, receiver.mirror_chance, rays, add);
        if (panes) facing_sum += batch_facing, spherical_sum += batch_spherical;
      });
  facing_sum += static_cast<float>(grey);
  spherical_sum += static_cast<float>(grey_spherical);
  check(spherical_sum, "direct");
}

void sample_paths(const LightField& field, const Receiver& receiver, std::size_t replicate, Job& job,
                  RayCount& rays) {
  const std::size_t sources = field.source_count(), first = replicate * sources;
  std::vector<Spectral> path(sources);
  const std::uint64_t stream = mix64(mix64(receiver.id, replicate), kPathStream);
  for (std::uint32_t i = job.from; i < job.to; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    const SensorDirections directions(field.lamp_cones(), place, receiver.normal);
    const Vec3f direction = directions.sample(sampler.next());
    for (Spectral& radiance : path) radiance.setZero();
    PathLight light{field, sampler, rays, path.data()};
    walk<Travel::against_light>(field, place, direction, Spectral::Ones(), sampler, rays, light);
    const float weight = 1.0f / directions.pdf(direction);
    const float facing = weight * std::max(0.0f, receiver.normal.dot(direction));
    for (std::size_t source = 0; source < sources; ++source) {
      job.sums.facing[first + source] += facing * path[source];
      job.sums.spherical[first + source] += weight * path[source];
    }
  }
  for (std::size_t source = 0; source < sources; ++source) {
    check(job.sums.facing[first + source], "reflected");
    check(job.sums.spherical[first + source], "reflected");
  }
}

LightKey key_of_job(const LightField& field, const Receiver& receiver, const Job& job) {
  CanonicalBytes asked;
  if (job.lamp) {
    asked.add("direct", *job.lamp, job.from, job.to);
  } else {
    asked.add("paths", job.from, job.to);
  }
  identify(asked, receiver);
  return field.memory().key(asked);
}

// How many sums of either kind a job has.
std::size_t sums_of(const LightField& field, const Job& job) {
  return kReplicates * (job.lamp ? 1 : field.source_count());
}

// Fills in what is not known yet, all replicates of all jobs side by side.
void trace(const LightField& field, const std::vector<Receiver>& receivers, std::vector<Job>& jobs) {
  std::vector<Job*> open;
  for (Job& job : jobs)
    if (!job.known) open.push_back(&job);
  for (Job* job : open) {
    const std::vector<Spectral> none(sums_of(field, *job), Spectral::Zero());
    job->sums = {none, none, {}};
  }
  std::vector<RayCount> rays(open.size() * kReplicates);
  tbb::parallel_for(std::size_t{0}, rays.size(), [&](std::size_t task) {
    Job& job = *open[task / kReplicates];
    const auto sample = job.lamp ? sample_direct : sample_paths;
    sample(field, receivers[job.receiver], task % kReplicates, job, rays[task]);
  });
  for (std::size_t task = 0; task < rays.size(); ++task) open[task / kReplicates]->sums.rays += rays[task];
}

bool fits(const StretchSums& sums, std::size_t count) {
  return sums.facing.size() == count && sums.spherical.size() == count;
}

void add_up(const Job& job, std::uint32_t samples, std::size_t sources, Response& response) {
  const float share = 1.0f / static_cast<float>(samples);
  std::vector<Spectral>& facing = job.lamp ? response.direct : response.indirect;
  for (std::size_t i = 0; i < job.sums.facing.size(); ++i) {
    const std::size_t at = job.lamp ? i * sources + *job.lamp : i;
    facing[at] += share * job.sums.facing[i];
    response.scalar[at] += share * job.sums.spherical[i];
  }
}

}  // namespace

Receiver fixed_receiver(const Vec3f& place, const Vec3f& normal, std::uint64_t id) {
  CanonicalBytes where;
  where.add("place", place);
  return {[place](std::uint64_t, std::uint32_t) { return place; }, normal, id, key_of(where)};
}

void identify(CanonicalBytes& bytes, const Receiver& receiver) {
  bytes.add(receiver.where->high, receiver.where->low, receiver.normal, receiver.id, receiver.mirror_chance);
}

LampEfforts for_each_lamp(const GatherEffort& effort, std::size_t lamps) {
  return {std::vector(lamps, effort.direct), effort.paths};
}

std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<GatherEffort>& efforts) {
  std::vector<LampEfforts> each;
  for (const GatherEffort& effort : efforts) each.push_back(for_each_lamp(effort, field.lamp_count()));
  return gather(field, receivers, each);
}

std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<LampEfforts>& efforts) {
  const std::size_t sources = field.source_count();
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < receivers.size(); ++i) {
    for (std::size_t lamp = 0; lamp < field.lamp_count(); ++lamp)
      for (const auto& [from, to] : stretches(efforts[i].direct[lamp]))
        jobs.push_back({i, lamp, from, to, false, {}});
    for (const auto& [from, to] : stretches(efforts[i].paths))
      jobs.push_back({i, std::nullopt, from, to, false, {}});
  }
  const auto each_kept = [&](const auto& act) {
    if (!field.memory()) return;
    tbb::parallel_for(std::size_t{0}, jobs.size(), [&](std::size_t k) {
      if (receivers[jobs[k].receiver].where && !jobs[k].known)
        act(jobs[k], key_of_job(field, receivers[jobs[k].receiver], jobs[k]));
    });
  };
  each_kept([&](Job& job, const LightKey& key) {
    job.known = field.memory().read(key, job.sums) && fits(job.sums, sums_of(field, job));
  });
  trace(field, receivers, jobs);
  each_kept([&](Job& job, const LightKey& key) { field.memory().write(key, job.sums); });

  std::vector<Response> responses(receivers.size());
  for (Response& response : responses) {
    response.sources = sources;
    for (auto* part : {&response.direct, &response.indirect, &response.scalar})
      part->assign(kReplicates * sources, Spectral::Zero());
  }
  // Always in the same order, whatever was known.
  for (const Job& job : jobs) {
    Response& response = responses[job.receiver];
    const LampEfforts& effort = efforts[job.receiver];
    add_up(job, job.lamp ? effort.direct[*job.lamp] : effort.paths, sources, response);
    response.rays += job.sums.rays;
  }
  return responses;
}

}  // namespace boughlight
