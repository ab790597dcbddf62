#include "plan/turned_sensor.h"

namespace boughlight {

void TurnedSensor::gather_rest(const Standing& standing, const Vec3f& place, std::uint64_t id,
                               const GatherEffort& effort, RayCount& rays) {
  // Day quantities count every source by its hours.
  std::vector<Channel> channels;
  const std::size_t sources = standing.rest().outputs.size();
  for (const Quantity quantity : quantities_) {
    const std::vector<SpectralD> weights = standing.rest().weights(quantity);
    for (std::size_t source = 0; source < sources; ++source)
      channels.push_back({static_cast<int>(source), weights[source].cast<float>()});
  }
  std::vector<float> values(quantities_.size());
  for (int replicate = 0; replicate < kReplicates; ++replicate) {
    const DirectedLight light = collect_light(standing.rest_field(), channels, place,
                                              mix64(id, static_cast<std::uint64_t>(replicate)), effort);
    rays += light.rays;
    for (Eigen::Index i = 0; i < light.directions.cols(); ++i) {
      for (std::size_t q = 0; q < values.size(); ++q)
        values[q] = light.values.col(i)
                        .segment(static_cast<Eigen::Index>(q * sources), static_cast<Eigen::Index>(sources))
                        .sum();
      add_rest(replicate, light.directions.col(i).matrix(), values.data());
    }
  }
}

void TurnedSensor::settle() {
  halves_.assign(2, PatchedLight(quantities_.size()));
  for (std::size_t k = 0; k < rest_.size(); ++k) halves_[k % 2].add(rest_[k]);
}

Vec3f TurnedSensor::turn(std::size_t half, const LampSamples& lamp, double output) const {
  const std::size_t kinds = quantities_.size();
  const auto in_front_of = [&](std::size_t quantity, const Vec3f& normal) -> Vec3f {
    Vec3f sum = halves_[half].in_front_of(quantity, normal);
    for (std::size_t k = half; k < lamp.replicates.size(); k += 2) {
      const LampSamples::Replicate& samples = lamp.replicates[k];
      for (std::size_t i = 0; i < samples.directions.size(); ++i)
        if (samples.directions[i].dot(normal) > 0)
          sum += static_cast<float>(output) * samples.values[i * kinds + quantity] * samples.directions[i];
    }
    return sum;
  };
  // Turning along the sum of what is in front never lowers the reading. From straight up and from the side of
  // the light as a whole: nearly always the same end.
  const auto climb = [&](std::size_t quantity, Vec3f normal, float& value) {
    constexpr int kSteps = 8;
    value = 0;
    for (int step = 0; step < kSteps; ++step) {
      const Vec3f sum = in_front_of(quantity, normal);
      value = normal.dot(sum);
      const float length = sum.norm();
      if (!(length > 0)) break;
      const Vec3f turned = sum / length;
      const bool still = turned.dot(normal) > 1 - 1e-6f;
      normal = turned;
      if (still) break;
    }
    return normal;
  };
  const auto best = [&](std::size_t quantity, float& value) {
    float by_side = 0;
    const Vec3f up = climb(quantity, Vec3f::UnitZ(), value);
    const Vec3f from_below = in_front_of(quantity, -Vec3f::UnitZ());
    const Vec3f whole = in_front_of(quantity, Vec3f::UnitZ()) + from_below;
    if (!(whole.norm() > 0)) return up;
    const Vec3f side = climb(quantity, whole.normalized(), by_side);
    if (by_side <= value) return up;
    value = by_side;
    return side;
  };
  float value = 0;
  const Vec3f by_first = best(0, value);
  constexpr float kInHalf = static_cast<float>(kReplicates) / 2;
  if (value >= least_ * kInHalf || kinds < 2) return by_first;
  return best(1, value);
}

TurnedSensor::Read TurnedSensor::read(const LampSamples& lamp, double output) const {
  const std::size_t kinds = quantities_.size();
  Read result;
  result.splits.resize(kinds);
  const std::array<Vec3f, 2> found = {turn(0, lamp, output), turn(1, lamp, output)};
  for (std::size_t k = 0; k < rest_.size(); ++k) {
    const Vec3f& normal = found[1 - k % 2];
    for (std::size_t q = 0; q < kinds; ++q) result.splits[q].rest[k] = rest_[k].on(q, normal);
    const LampSamples::Replicate& samples = lamp.replicates[k];
    for (std::size_t i = 0; i < samples.directions.size(); ++i) {
      const float cosine = samples.directions[i].dot(normal);
      if (cosine <= 0) continue;
      for (std::size_t q = 0; q < kinds; ++q)
        result.splits[q].lamp[k] += static_cast<double>(cosine * samples.values[i * kinds + q]);
    }
  }
  const Vec3f mean = found[0] + found[1];
  result.direction = mean.norm() > 0 ? Vec3f(mean.normalized()) : found[0];
  return result;
}

}  // namespace boughlight
