#include "assess/closest.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <limits>

#include "assess/climb.h"
#include "assess/judge.h"
#include "assess/stages.h"
#include "scene/enclosure.h"
#include "transport/brightest.h"
#include "transport/directions.h"

namespace boughlight {
namespace {

// Samples of a lamp's light at each place that the search looks at; of all lamps for the orientations; of
// each replicate for the figures.
constexpr std::uint32_t kLook = 16, kClimb = 32;
constexpr GatherEffort kFacing{128, 512}, kReading{48, 24};

SpectralD own_weights(const QuantityBins& output) {
  constexpr double kUvi = 8, kIrradiance = 1000;
  return (output.row(static_cast<int>(Quantity::uvi)) / kUvi +
          output.row(static_cast<int>(Quantity::irradiance)) / kIrradiance)
      .transpose();
}

// A lamp's own direct light, on a sensor that faces where it comes from. The same random numbers at every
// place, so that places compare.
class OwnLight {
 public:
  OwnLight(const Setting& setting, std::size_t lamp)
      : setting_(setting),
        lamp_(lamp),
        id_(setting.stream(kClosestSearchStage, lamp)),
        weights_(own_weights(setting.fresh_outputs[lamp]).cast<float>()),
        whole_(weights_.sum()) {}

  float at(const Vec3& place, std::uint32_t samples, RayCount& rays) const {
    Vec3f sum = Vec3f::Zero();
    const auto add = [&](const Arrival& arrival) {
      const float value = arrival.through.is_spectral ? (weights_ * arrival.through.spectral).sum() : whole_;
      sum += (arrival.scalar * value) * arrival.direction;
    };
    in_batches(
        samples,
        [&](std::uint32_t i) {
          return DirectSample{place.cast<float>(), PairSampler(id_, i)};
        },
        [&](std::span<DirectSample> batch) { setting_.field.direct_from(lamp_, batch, 0, rays, add); });
    return sum.norm() / static_cast<float>(samples);
  }

 private:
  const Setting& setting_;
  std::size_t lamp_;
  std::uint64_t id_;
  Spectral weights_;
  float whole_;
};

struct LitPlace {
  Vec3 at = Vec3::Zero();
  float value = 0;
};

// Nothing where no place near the lamp can be reached.
std::optional<Vec3> closest_place(const Setting& setting, std::size_t lamp, const Reachable& reachable,
                                  RayCount& rays) {
  const OwnLight light(setting, lamp);
  const std::vector<Vec3> places = reachable.near_lamp(setting.scene.lamps[lamp]);
  if (places.empty()) return std::nullopt;
  std::vector<LitPlace> candidates(places.size());
  std::vector<RayCount> looks(places.size());
  tbb::parallel_for(std::size_t{0}, places.size(), [&](std::size_t i) {
    candidates[i] = {places[i], light.at(places[i], kLook, looks[i])};
  });
  for (const RayCount& look : looks) rays += look;
  // The nearest first, so that a lamp whose light reaches none of them has a place all the same.
  const auto distance = [&](const Vec3& place) {
    const Lamp& of = setting.scene.lamps[lamp];
    return of.fixture->emitter->distance(of.to_local(place));
  };
  std::stable_sort(candidates.begin(), candidates.end(), [&](const LitPlace& a, const LitPlace& b) {
    return a.value != b.value ? a.value > b.value : distance(a.at) < distance(b.at);
  });
  // Leaves and branches may part the light into several hills.
  constexpr std::size_t kClimbs = 2;
  constexpr double kApart = 0.08;
  std::vector<LitPlace> starts;
  for (const LitPlace& candidate : candidates) {
    if (starts.size() == kClimbs) break;
    if (std::all_of(starts.begin(), starts.end(),
                    [&](const LitPlace& other) { return (other.at - candidate.at).norm() > kApart; }))
      starts.push_back(candidate);
  }
  constexpr double kFirst = 0.04, kLeast = 1e-3;
  const auto look = [&](const Vec3& place) { return LitPlace{place, light.at(place, kClimb, rays)}; };
  LitPlace best = starts.front();
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const LitPlace found = climbed(look(starts[i].at), reachable, kFirst, kLeast, look,
                                   [](const LitPlace& place) { return place.value; });
    if (i == 0 || found.value > best.value) best = found;
  }
  return best.at;
}

struct Nearby {
  std::optional<Vec3> at;
  RayCount rays;

  template <class Bytes, SameAs<Nearby> Self>
  friend void carry(Bytes& bytes, Self& nearby) {
    std::array<double, 4> numbers{};
    if (nearby.at) numbers = {1, nearby.at->x(), nearby.at->y(), nearby.at->z()};
    carry(bytes, numbers);
    carry(bytes, nearby.rays);
    if constexpr (!std::is_const_v<Self>)
      if (numbers[0] == 1) nearby.at = Vec3(numbers[1], numbers[2], numbers[3]);
  }
};
Nearby recall_closest(const Setting& setting, std::size_t lamp, const Reachable& reachable) {
  CanonicalBytes asked;
  asked.add("closest", setting.stream(kClosestSearchStage, lamp), lamp, setting.scene.animal->reach,
            own_weights(setting.fresh_outputs[lamp]));
  return setting.field.memory().recall(asked, [&] {
    Nearby nearby;
    nearby.at = closest_place(setting, lamp, reachable, nearby.rays);
    return nearby;
  });
}

// One quantity at one setting of the dimmers, at the closest place of one lamp.
struct Ask {
  Quantity quantity;
  Power power;
  ClosestFigure ClosestPlace::*slot;
};
constexpr Ask kAsks[] = {{Quantity::uvi, Power::as_declared, &ClosestPlace::uvi},
                         {Quantity::irradiance, Power::as_declared, &ClosestPlace::irradiance},
                         {Quantity::uvi, Power::full, &ClosestPlace::uvi_at_full},
                         {Quantity::irradiance, Power::full, &ClosestPlace::irradiance_at_full}};

const std::vector<QuantityBins>& outputs_at(const Setting& setting, Power power) {
  return power == Power::full ? setting.full_outputs : setting.outputs;
}

void judge_figure(const Setting& setting, const Ask& ask, const Response& response, ClosestFigure& result) {
  const auto weights = quantity_weights(ask.quantity, outputs_at(setting, ask.power), setting.day_outputs);
  result.quantity = ask.quantity;
  result.figure = weigh_facing(response, weights);
  double most = -1;
  for (std::size_t source = 0; source < response.sources; ++source) {
    const double value = weigh_facing(response, alone(weights, source)).value;
    if (value > most) most = value, result.lamp = setting.scene.source_name(source);
  }
  result.share = result.figure.value > 0 ? most / result.figure.value : 0;
  for (const Want& never : setting.scene.animal->never) {
    if (never.quantity != ask.quantity || !never.limits.max) continue;
    result.limit = never.limits.max;
    result.verdict = judge(result.figure, never.limits);
  }
}

// All lamps' light at a place, at the orientations where it is greatest.
void read_place(const Setting& setting, std::size_t lamp, ClosestPlace& place, RayCount& rays) {
  constexpr Quantity kQuantitiesAsked[] = {Quantity::uvi, Quantity::irradiance};
  std::vector<Channel> channels;
  for (const Quantity quantity : kQuantitiesAsked)
    for (const Channel& channel : channels_of(quantity, setting.fresh_outputs)) channels.push_back(channel);
  const Vec3f at = place.at.cast<float>();
  const DirectedLight light =
      recall_light(setting.field, channels, at, setting.stream(kClosestFacingStage, lamp), kFacing);
  rays += light.rays;
  const auto sources = static_cast<Eigen::Index>(setting.outputs.size());
  std::vector<Vec3f> facing;
  std::vector<Response> responses;
  for (const Ask& ask : kAsks) {
    Eigen::ArrayXf scale = Eigen::ArrayXf::Zero(static_cast<Eigen::Index>(channels.size()));
    scale.segment(ask.quantity == Quantity::uvi ? 0 : sources, sources) =
        output_ratios(ask.quantity, outputs_at(setting, ask.power), setting.fresh_outputs).cast<float>();
    const Vec3f direction = steady_direction(brightest_orientation(light, scale).direction);
    // An orientation that was read already will do: a degree off costs less than 2e-4 of the reading.
    constexpr float kSame = 0.9998f;
    std::size_t which = 0;
    while (which < facing.size() && facing[which].dot(direction) < kSame) ++which;
    if (which == facing.size()) {
      const std::uint64_t id = mix64(setting.stream(kClosestReadingStage, lamp), which);
      facing.push_back(direction);
      responses.push_back(gather(setting.field, {fixed_receiver(at, direction, id)}, {kReading}).front());
      rays += responses.back().rays;
    }
    ClosestFigure& figure = place.*ask.slot;
    judge_figure(setting, ask, responses[which], figure);
    figure.direction = facing[which].cast<double>().normalized();
  }
}

}  // namespace

TopAbove top_above(const Scene& scene, const Vec3& place) {
  TopAbove top{std::numeric_limits<double>::infinity(), "open"};
  for (const FacePart& face : outer_faces(scene.boxes)) {
    if (face.side != Side::top) continue;
    const Vec3 low = face.corner, high = face.corner + face.edge_u + face.edge_v;
    const double up = low.z() - place.z();
    constexpr double kSeam = 1e-6;  // m, so that a place between two parts of a face is below one of them
    const bool below = up >= 0 && place.x() >= low.x() - kSeam && place.x() <= high.x() + kSeam &&
                       place.y() >= low.y() - kSeam && place.y() <= high.y() + kSeam;
    if (!below || up >= top.distance) continue;
    top.distance = up;
    top.material = face.material < 0 ? "open" : scene.materials[static_cast<std::size_t>(face.material)].name;
  }
  return top;
}

std::vector<ClosestPlace> find_closest(Setting& setting) {
  const Scene& scene = setting.scene;
  if (!scene.animal) return {};
  const Reachable reachable(scene);
  std::vector<std::optional<ClosestPlace>> found(scene.lamps.size());
  std::vector<RayCount> rays(scene.lamps.size());
  tbb::parallel_for(std::size_t{0}, scene.lamps.size(), [&](std::size_t i) {
    const Nearby nearby = recall_closest(setting, i, reachable);
    rays[i] += nearby.rays;
    const std::optional<Vec3>& at = nearby.at;
    if (!at) return;
    ClosestPlace place;
    const Lamp& lamp = scene.lamps[i];
    place.lamp = lamp.name;
    place.at = *at;
    place.distance_to_lamp = lamp.fixture->emitter->distance(lamp.to_local(*at));
    const TopAbove top = top_above(scene, *at);
    place.below_top = top.distance;
    place.top = top.material;
    read_place(setting, i, place, rays[i]);
    found[i] = std::move(place);
  });
  std::vector<ClosestPlace> places;
  for (std::size_t i = 0; i < found.size(); ++i) {
    setting.spent += rays[i];
    if (found[i]) places.push_back(std::move(*found[i]));
  }
  return places;
}

}  // namespace boughlight
