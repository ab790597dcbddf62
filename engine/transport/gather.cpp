#include "transport/gather.h"

#include <tbb/parallel_for.h>

#include <cmath>
#include <stdexcept>

#include "transport/walk.h"

namespace boughlight {
namespace {

// Where a path scatters, light by way of panes is a small part of what arrives there.
constexpr float kMirrorsOfSites = 0.25f;

// Adds up the radiance that arrives along one path, for every source.
struct Gatherer {
  const LightField& field;
  PairSampler& sampler;
  RayCount& rays;
  Spectral* radiance;  // one a source

  void segment(const Vec3f&, const Vec3f&, float, const Spectral&, bool) {}
  void vertex(const ScatterSite& site, const Spectral& throughput) {
    field.direct(site.place, &site.normal, kMirrorsOfSites, sampler, rays, [&](const Arrival& arrival) {
      const auto kernel = site.kernel(field.world(), arrival.direction);
      const float scalar = kernel.scalar * arrival.scalar;
      if (scalar == 0) return;
      if (arrival.through.is_spectral) {
        radiance[arrival.source] += scalar * throughput * *kernel.colour * arrival.through.spectral;
      } else {
        radiance[arrival.source] += scalar * throughput * *kernel.colour;
      }
    });
  }
  void escape(const Vec3f&, const Spectral& throughput) {
    if (field.has_room()) radiance[field.room_source()] += kInversePi * throughput;
  }
};

void check(const Spectral& sum, const char* what) {
  if (!(sum >= 0).all() || !sum.isFinite().all())
    throw std::runtime_error(std::string("a sample of the ") + what + " light is negative or not finite");
}

// Streams of random numbers for the two kinds of samples.
enum : std::uint64_t { kDirectStream = 1, kPathStream = 2 };

}  // namespace

Receiver fixed_receiver(const Vec3f& place, const Vec3f& normal, std::uint64_t id) {
  return {[place](std::uint64_t, std::uint32_t) { return place; }, normal, id};
}

void gather_replicate(const LightField& field, const Receiver& receiver, const GatherEffort& effort,
                      int replicate, Response& response, RayCount& rays) {
  const std::size_t sources = field.source_count();
  std::vector<Spectral> path(sources);
  // Without panes a direct sample is one number for all bins: sum those apart and spread them once.
  std::vector<float> grey(sources, 0.0f), grey_scalar(sources, 0.0f);
  const auto sum_of = [&](std::vector<Spectral>& sums, std::size_t source) -> Spectral& {
    return sums[response.at(replicate, source)];
  };
  const std::uint64_t stream = mix64(receiver.id, static_cast<std::uint64_t>(replicate));

  const float direct_weight = 1.0f / static_cast<float>(effort.direct);
  const std::uint64_t direct_stream = mix64(stream, kDirectStream);
  const auto add_direct = [&](const Arrival& arrival) {
    const auto source = static_cast<std::size_t>(arrival.source);
    const float spherical = arrival.scalar * direct_weight;
    const float facing = spherical * std::max(0.0f, receiver.normal.dot(arrival.direction));
    if (arrival.through.is_spectral) {
      sum_of(response.direct, source) += facing * arrival.through.spectral;
      sum_of(response.scalar, source) += spherical * arrival.through.spectral;
    } else {
      grey[source] += facing;
      grey_scalar[source] += spherical;
    }
  };
  in_batches(
      effort.direct,
      [&](std::uint32_t i) {
        return DirectSample{receiver.place(direct_stream, i), PairSampler(direct_stream, i)};
      },
      [&](std::span<DirectSample> samples) { field.direct(samples, 1, rays, add_direct); });
  for (std::size_t source = 0; source < sources; ++source) {
    sum_of(response.direct, source) += grey[source];
    sum_of(response.scalar, source) += grey_scalar[source];
    check(sum_of(response.direct, source), "direct");
  }

  for (std::uint32_t i = 0; i < effort.paths; ++i) {
    PairSampler sampler(mix64(stream, kPathStream), i);
    const Vec3f place = receiver.place(mix64(stream, kPathStream), i);
    const SensorDirections directions(field.lamp_cones(), place, receiver.normal);
    const Vec3f direction = directions.sample(sampler.next());
    for (Spectral& radiance : path) radiance.setZero();
    Gatherer gatherer{field, sampler, rays, path.data()};
    walk<Travel::against_light>(field, place, direction, Spectral::Ones(), sampler, rays, gatherer);
    const float weight = 1.0f / (static_cast<float>(effort.paths) * directions.pdf(direction));
    const float facing = weight * std::max(0.0f, receiver.normal.dot(direction));
    for (std::size_t source = 0; source < sources; ++source) {
      sum_of(response.indirect, source) += facing * path[source];
      sum_of(response.scalar, source) += weight * path[source];
    }
  }
  for (std::size_t source = 0; source < sources; ++source) {
    check(sum_of(response.indirect, source), "reflected");
    check(sum_of(response.scalar, source), "spherical");
  }
}

std::vector<Response> gather(const LightField& field, const std::vector<Receiver>& receivers,
                             const std::vector<GatherEffort>& effort) {
  const std::size_t sources = field.source_count();
  std::vector<Response> responses(receivers.size());
  for (Response& response : responses) {
    response.sources = sources;
    for (auto* part : {&response.direct, &response.indirect, &response.scalar})
      part->assign(kReplicates * sources, Spectral::Zero());
  }
  std::vector<RayCount> rays(receivers.size() * kReplicates);
  tbb::parallel_for(std::size_t{0}, rays.size(), [&](std::size_t task) {
    const std::size_t receiver = task / kReplicates;
    gather_replicate(field, receivers[receiver], effort[receiver], static_cast<int>(task % kReplicates),
                     responses[receiver], rays[task]);
  });
  for (std::size_t task = 0; task < rays.size(); ++task) responses[task / kReplicates].rays += rays[task];
  return responses;
}

DirectedLight collect_light(const LightField& field, const std::vector<Channel>& channels, const Vec3f& place,
                            std::uint64_t id, const GatherEffort& effort) {
  const std::size_t sources = field.source_count();
  const auto rows = static_cast<Eigen::Index>(channels.size());
  // Direct samples: one a lamp and mirrored way; their number is not known beforehand.
  std::vector<Vec3f> directions;
  std::vector<float> values;
  directions.reserve(effort.direct * field.lamp_count() + effort.paths);
  DirectedLight light;
  const auto add = [&](const Vec3f& direction) {
    directions.push_back(direction);
    values.resize(values.size() + channels.size(), 0.0f);
    return values.data() + (values.size() - channels.size());
  };
  std::vector<float> whole(channels.size());
  std::vector<char> asked(field.lamp_count(), 0);  // whether any channel takes light of the lamp
  for (std::size_t c = 0; c < channels.size(); ++c) {
    whole[c] = channels[c].weights.sum();
    const auto source = static_cast<std::size_t>(channels[c].source);
    if (whole[c] > 0 && source < asked.size()) asked[source] = 1;
  }
  const auto add_direct = [&](const Arrival& arrival) {
    float* value = add(arrival.direction);
    const float scalar = arrival.scalar / static_cast<float>(effort.direct);
    for (std::size_t c = 0; c < channels.size(); ++c)
      if (channels[c].source == arrival.source)
        value[c] =
            scalar *
            (arrival.through.is_spectral ? (channels[c].weights * arrival.through.spectral).sum() : whole[c]);
  };
  in_batches(
      effort.direct,
      [&](std::uint32_t i) {
        return DirectSample{place, PairSampler(mix64(id, kDirectStream), i)};
      },
      [&](std::span<DirectSample> samples) {
        for (std::size_t lamp = 0; lamp < asked.size(); ++lamp)
          if (asked[lamp]) field.direct_from(lamp, samples, 1, light.rays, add_direct);
      });
  std::vector<Spectral> path(sources);
  for (std::uint32_t i = 0; i < effort.paths; ++i) {
    PairSampler sampler(mix64(id, kPathStream), i);
    const Vec3f direction = sample_sphere(sampler.next());
    for (Spectral& radiance : path) radiance.setZero();
    Gatherer gatherer{field, sampler, light.rays, path.data()};
    walk<Travel::against_light>(field, place, direction, Spectral::Ones(), sampler, light.rays, gatherer);
    float* value = add(direction);
    const float weight = 4 * kPi / static_cast<float>(effort.paths);
    for (std::size_t c = 0; c < channels.size(); ++c)
      value[c] = weight * (channels[c].weights * path[static_cast<std::size_t>(channels[c].source)]).sum();
  }
  const auto count = static_cast<Eigen::Index>(directions.size());
  light.directions.resize(3, count);
  for (Eigen::Index i = 0; i < count; ++i)
    light.directions.col(i) = directions[static_cast<std::size_t>(i)].array();
  light.values = Eigen::Map<const Eigen::ArrayXXf>(values.data(), rows, count);
  return light;
}

}  // namespace boughlight
