#include "assess/spot.h"

namespace boughlight {

// What is traced for a spot.
struct SpotLight {
  std::vector<StraightLight> straight;
  std::vector<HeightSlope> slopes;
  std::vector<StraightSum> mirrored;
  std::vector<MeshCrossing> room;
  RayCount rays;
};
template <class Bytes, SameAs<SpotLight> Light>
static void carry(Bytes& bytes, Light& light) {
  carry(bytes, light.straight);
  carry(bytes, light.slopes);
  carry(bytes, light.mirrored);
  carry(bytes, light.room);
  carry(bytes, light.rays);
}

namespace {

// Straight light is told in whole percents and as slopes of a band: it need be known to no more than one.
constexpr std::uint32_t kStraightSamples = 2048, kMirrorSamples = 512, kSlopeSamples = 1024,
                        kRoomSamples = 1024;

SpectralD mean_of(const std::vector<Spectral>& part, const Response& response, std::size_t source) {
  SpectralD mean = SpectralD::Zero();
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    mean += part[response.at(replicate, source)].cast<double>() / kReplicates;
  return mean;
}

enum class Mirrors { looked_for, left_out };

SpotLight spot_light(const Setting& setting, const Receiver& receiver, Shadows shadows, Mirrors mirrors,
                     double step_m) {
  const LightField& field = setting.field;
  const auto trace = [&] {
    SpotLight light;
    light.straight = straight_light(field, field.world(), receiver, kStraightSamples, light.rays);
    light.slopes = height_slopes(setting.scene, field, receiver, shadows, static_cast<float>(step_m),
                                 kSlopeSamples, light.rays);
    if (mirrors == Mirrors::looked_for)
      light.mirrored = mirrored_light(field, receiver, kMirrorSamples, light.rays);
    if (field.has_room()) light.room = room_ways(field, receiver, kRoomSamples, light.rays);
    return light;
  };
  if (!receiver.where) return trace();
  CanonicalBytes asked;
  asked.add("spot", shadows, mirrors, step_m);
  identify(asked, receiver);
  return field.memory().recall(asked, trace);
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
  SpotLight light = spot_light(setting, receiver, shadows, Mirrors::looked_for, step_m);
  rays += light.rays;
  SensorSpot spot;
  spot.light = std::move(light.straight);
  spot.slopes = std::move(light.slopes);
  spot.room = std::move(light.room);
  for (std::size_t source = 0; source < response.sources; ++source) {
    const SpectralD direct = mean_of(response.direct, response, source);
    // The response holds mirrored light with the direct: part them in the proportion found here.
    SpectralD share = SpectralD::Ones();
    if (source < light.mirrored.size()) {
      const SpectralD by_mirror = light.mirrored[source].bins();
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
  SpotLight light = spot_light(setting, receiver, Shadows::stay_put, Mirrors::left_out, step_m);
  rays += light.rays;
  SensorSpot spot;
  spot.light = std::move(light.straight);
  spot.slopes = std::move(light.slopes);
  spot.room = std::move(light.room);
  for (const StraightLight& from_lamp : spot.light) {
    spot.straight.push_back(from_lamp.open.bins());
    spot.rest.emplace_back(SpectralD::Zero());
  }
  if (setting.field.has_room()) {
    spot.straight.emplace_back(SpectralD::Zero());
    spot.rest.emplace_back(SpectralD::Ones());
  }
  return spot;
}

}  // namespace boughlight
