#include "transport/gather.h"
#include "transport/path_light.h"

namespace boughlight {

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
          if (asked[lamp]) field.direct_from(lamp, samples, kMirrorChance, light.rays, add_direct);
      });
  std::vector<Spectral> path(sources);
  for (std::uint32_t i = 0; i < effort.paths; ++i) {
    PairSampler sampler(mix64(id, kPathStream), i);
    const Vec3f direction = sample_sphere(sampler.next());
    for (Spectral& radiance : path) radiance.setZero();
    PathLight gatherer{field, sampler, light.rays, path.data()};
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

void identify(CanonicalBytes& bytes, const std::vector<Channel>& channels) {
  bytes.add(channels.size());
  for (const Channel& channel : channels) bytes.add(channel.source, channel.weights);
}

DirectedLight recall_light(const LightField& field, const std::vector<Channel>& channels, const Vec3f& place,
                           std::uint64_t id, const GatherEffort& effort) {
  CanonicalBytes asked;
  asked.add("directed", place, id, effort.direct, effort.paths);
  identify(asked, channels);
  return field.memory().recall(asked, [&] { return collect_light(field, channels, place, id, effort); });
}

}  // namespace boughlight
