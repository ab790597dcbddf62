#include "transport/gather.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <stdexcept>

#include "transport/path_light.h"

namespace boughlight {

// Sums over a stretch of samples, not yet divided by their number: the same whatever else is sampled.
struct StretchSums {
  std::vector<Spectral> facing, spherical;  // [replicate * sources + source]
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

// Samples `from` up to, not with, `to` of each replicate of a receiver.
struct Job {
  enum class Kind { direct, paths };
  std::size_t receiver = 0;
  Kind kind = Kind::direct;
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
  const std::size_t sources = field.source_count(), first = replicate * sources;
  // Without panes a sample is one number for all bins: sum those apart and spread them once.
  std::vector<float> grey(sources, 0.0f), grey_spherical(sources, 0.0f);
  const std::uint64_t stream = mix64(mix64(receiver.id, replicate), kDirectStream);
  const auto add = [&](const Arrival& arrival) {
    const auto source = static_cast<std::size_t>(arrival.source);
    const float facing = arrival.scalar * std::max(0.0f, receiver.normal.dot(arrival.direction));
    if (arrival.through.is_spectral) {
      job.sums.facing[first + source] += facing * arrival.through.spectral;
      job.sums.spherical[first + source] += arrival.scalar * arrival.through.spectral;
    } else {
      grey[source] += facing;
      grey_spherical[source] += arrival.scalar;
    }
  };
  in_batches(
      job.to - job.from,
      [&](std::uint32_t i) {
        return DirectSample{receiver.place(stream, job.from + i), PairSampler(stream, job.from + i)};
      },
      [&](std::span<DirectSample> samples) { field.direct(samples, receiver.mirror_chance, rays, add); });
  for (std::size_t source = 0; source < sources; ++source) {
    job.sums.facing[first + source] += grey[source];
    job.sums.spherical[first + source] += grey_spherical[source];
    check(job.sums.spherical[first + source], "direct");
  }
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
  asked.add(job.kind == Job::Kind::direct ? "direct" : "paths", job.from, job.to);
  identify(asked, receiver);
  return field.memory().key(asked);
}

// Fills in what is not known yet, all replicates of all jobs side by side.
void trace(const LightField& field, const std::vector<Receiver>& receivers, std::vector<Job>& jobs) {
  std::vector<Job*> open;
  for (Job& job : jobs)
    if (!job.known) open.push_back(&job);
  const std::vector<Spectral> none(kReplicates * field.source_count(), Spectral::Zero());
  for (Job* job : open) job->sums = {none, none, {}};
  std::vector<RayCount> rays(open.size() * kReplicates);
  tbb::parallel_for(std::size_t{0}, rays.size(), [&](std::size_t task) {
    Job& job = *open[task / kReplicates];
    const auto sample = job.kind == Job::Kind::direct ? sample_direct : sample_paths;
    sample(field, receivers[job.receiver], task % kReplicates, job, rays[task]);
  });
  for (std::size_t task = 0; task < rays.size(); ++task) open[task / kReplicates]->sums.rays += rays[task];
}

bool fits(const StretchSums& sums, std::size_t count) {
  return sums.facing.size() == count && sums.spherical.size() == count;
}

void add_up(const Job& job, std::uint32_t samples, std::vector<Spectral>& facing,
            std::vector<Spectral>& spherical) {
  const float share = 1.0f / static_cast<float>(samples);
  for (std::size_t i = 0; i < facing.size(); ++i) {
    facing[i] += share * job.sums.facing[i];
    spherical[i] += share * job.sums.spherical[i];
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

std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<GatherEffort>& effort) {
  const std::size_t sources = field.source_count();
  std::vector<Job> jobs;
  for (std::size_t i = 0; i < receivers.size(); ++i) {
    for (const auto& [from, to] : stretches(effort[i].direct))
      jobs.push_back({i, Job::Kind::direct, from, to, false, {}});
    for (const auto& [from, to] : stretches(effort[i].paths))
      jobs.push_back({i, Job::Kind::paths, from, to, false, {}});
  }
  const auto each_kept = [&](const auto& act) {
    if (!field.memory()) return;
    tbb::parallel_for(std::size_t{0}, jobs.size(), [&](std::size_t k) {
      if (receivers[jobs[k].receiver].where && !jobs[k].known)
        act(jobs[k], key_of_job(field, receivers[jobs[k].receiver], jobs[k]));
    });
  };
  each_kept([&](Job& job, const LightKey& key) {
    job.known = field.memory().read(key, job.sums) && fits(job.sums, kReplicates * sources);
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
    const bool direct = job.kind == Job::Kind::direct;
    add_up(job, direct ? effort[job.receiver].direct : effort[job.receiver].paths,
           direct ? response.direct : response.indirect, response.scalar);
    response.rays += job.sums.rays;
  }
  return responses;
}

}  // namespace boughlight
