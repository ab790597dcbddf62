#include "assess/spot.h"

namespace boughlight {
namespace {

constexpr std::uint32_t kStraightSamples = 4096, kMirrorSamples = 512, kSlopeSamples = 1024;

SpectralD mean_of(const std::vector<Spectral>& part, const Response& response, std::size_t source) {
  SpectralD mean = SpectralD::Zero();
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    mean += part[response.at(replicate, source)].cast<double>() / kReplicates;
  return mean;
}

}  // namespace

double SensorSpot::value(const std::vector<SpectralD>& weights) const {
  double sum = 0;
  for (std::size_t source = 0; source < weights.size(); ++source)
    sum += straight_value(weights, source) + rest_value(weights, source);
  return sum;
}

SensorSpot make_spot(const Setting& setting, const Receiver& receiver, const Response& response,
                     Shadows shadows, double step_m, RayCount& rays) {
  const LightField& field = setting.field;
  SensorSpot spot;
  spot.light = straight_light(field, field.world(), receiver, kStraightSamples, rays);
  spot.slopes =
      height_slopes(setting.scene, field, receiver, shadows, static_cast<float>(step_m), kSlopeSamples, rays);
  const std::vector<StraightSum> mirrored = mirrored_light(field, receiver, kMirrorSamples, rays);
  for (std::size_t source = 0; source < response.sources; ++source) {
    const SpectralD direct = mean_of(response.direct, response, source);
    // The response holds mirrored light with the direct: part them in the proportion found here.
    SpectralD share = SpectralD::Ones();
    if (source < mirrored.size()) {
      const SpectralD by_mirror = mirrored[source].bins();
      const SpectralD both = spot.light[source].open.bins() + by_mirror;
      share = (both > 0).select(1 - by_mirror / both.max(1e-300), 1.0);
    }
    spot.straight.push_back(share * direct);
    spot.rest.push_back((1 - share) * direct + mean_of(response.indirect, response, source));
  }
  return spot;
}

SensorSpot make_outside_spot(const Setting& setting, const Receiver& receiver, double step_m,
                             RayCount& rays) {
  const LightField& field = setting.field;
  SensorSpot spot;
  spot.light = straight_light(field, field.world(), receiver, kStraightSamples, rays);
  spot.slopes = height_slopes(setting.scene, field, receiver, Shadows::stay_put, static_cast<float>(step_m),
                              kSlopeSamples, rays);
  for (const StraightLight& light : spot.light) {
    spot.straight.push_back(light.open.bins());
    spot.rest.emplace_back(SpectralD::Zero());
  }
  if (field.has_room()) {
    spot.straight.emplace_back(SpectralD::Zero());
    spot.rest.emplace_back(SpectralD::Ones());
  }
  return spot;
}

}  // namespace boughlight
