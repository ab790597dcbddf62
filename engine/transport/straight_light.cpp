#include "transport/straight_light.h"

#include <algorithm>
#include <array>

#include "transport/mesh_crossings.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kStraightStream = 11, kMirrorStream = 12, kSlopeStream = 13, kRoomStream = 14 };

void add(StraightSum& sum, float weight, const Straight& through) {
  const double scalar = static_cast<double>(weight) * through.scalar;
  if (through.is_spectral) {
    sum.spectral += scalar * through.spectral.cast<double>();
  } else {
    sum.grey += scalar;
  }
}

// One ray from a sensor to a lamp.
struct Way {
  Vec3f direction = Vec3f::UnitZ();
  float distance = 0;
  float weight = 0;  // irradiance per watt on a sensor facing it, in free air, over the sampling density
};
Way way_to(const LightField& field, std::size_t lamp, const Vec3f& place, Pair pair, const Vec3f& lifted) {
  // A lamp that is moved is the same as a place moved the other way.
  const LightField::Connection connection = field.connect(lamp, place - lifted, pair);
  const Vec3f between = connection.target + lifted - place;
  const float distance = between.norm();
  if (!(distance > 0)) return {};
  return {between / distance, distance, connection.weight};
}

bool seen(const World& world, const Vec3f& place, const Way& way, RayCount& rays) {
  ++rays.shadow;
  return !world.blocked(place, way.direction, way.distance);
}

// One sample of what meshes and panes leave of a lamp's light; false when nothing.
bool panels_leave(const World& world, const Vec3f& place, const Vec3f& normal, const Way& way, float& facing,
                  Straight& through) {
  facing = way.weight * std::max(0.0f, normal.dot(way.direction));
  return facing > 0 && world.straight(place, way.direction, way.distance, through);
}

// Sums over directions: of a lamp's light without the sensor's cosine.
struct RoundSums {
  double all = 0;
  std::vector<double> crossings, without_one;
};

void add_sample(const World& world, const Vec3f& place, const Vec3f& normal, const Vec3f& to_centre,
                const Way& way, float share, Crossings& crossings, RayCount& rays, RoundSums& round,
                StraightLight& light) {
  if (!(way.weight > 0)) return;
  crossings.follow(place, way.direction, way.distance);
  const float weight = share * way.weight, left = crossings.transmittance();
  const float facing = weight * std::max(0.0f, normal.dot(way.direction));
  light.faced += weight * std::max(0.0f, to_centre.dot(way.direction));
  light.free += facing;
  light.meshed += facing * left;
  add(light.clear, facing * left, crossings.panes());
  round.all += weight * left;
  const bool any = facing > 0 && seen(world, place, way, rays);
  if (any) add(light.open, facing * left, crossings.panes());
  for (std::size_t mesh = 0; mesh < crossings.meshes(); ++mesh) {
    const auto layers = static_cast<float>(crossings.count(mesh));
    const float without = crossings.without_last(mesh);
    round.crossings[mesh] += weight * left * layers;
    round.without_one[mesh] += weight * without;
    if (!any) continue;
    add(light.meshes[mesh].open_crossings, facing * left * layers, crossings.panes());
    add(light.meshes[mesh].open_without_one, facing * without, crossings.panes());
  }
}

bool closed(const World& world, const Vec3f& place, const Vec3f& direction, float step, RayCount& rays) {
  float at = 0;
  ++rays.shadow;
  return world.blocked(place, direction, step) || world.next_panel(place, direction, 0, step, at) >= 0;
}

// How far a thing may be moved up and down, m: `step`, or 0 where something is in the way.
struct Slack {
  float up = 0, down = 0;
};
Slack slack_of(const World& world, const Vec3f& place, float reach_up, float reach_down, float step,
               RayCount& rays) {
  const Vec3f up = Vec3f::UnitZ();
  return {closed(world, place, up, reach_up + step, rays) ? 0.0f : step,
          closed(world, place, -up, reach_down + step, rays) ? 0.0f : step};
}

}  // namespace

std::vector<int> mesh_materials(const World& world) {
  std::vector<int> materials;
  for (const Panel& panel : world.panels())
    if (panel.kind == Panel::Kind::mesh) materials.push_back(panel.material);
  std::sort(materials.begin(), materials.end());
  materials.erase(std::unique(materials.begin(), materials.end()), materials.end());
  return materials;
}

std::vector<StraightLight> straight_light(const LightField& field, const World& world,
                                          const Receiver& receiver, std::uint32_t samples, RayCount& rays) {
  const std::uint64_t stream = mix64(receiver.id, kStraightStream);
  Crossings crossings(world);
  std::vector<StraightLight> lights(field.lamp_count());
  std::vector<RoundSums> round(field.lamp_count());
  for (std::size_t lamp = 0; lamp < lights.size(); ++lamp) {
    lights[lamp].meshes.resize(crossings.meshes());
    round[lamp].crossings.resize(crossings.meshes());
    round[lamp].without_one.resize(crossings.meshes());
  }
  const float share = 1.0f / static_cast<float>(samples);
  for (std::uint32_t i = 0; i < samples; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    for (std::size_t lamp = 0; lamp < lights.size(); ++lamp) {
      const Vec3f to_centre = (field.lamp_centre(lamp).cast<float>() - place).normalized();
      const Way way = way_to(field, lamp, place, sampler.next(), Vec3f::Zero());
      add_sample(world, place, receiver.normal, to_centre, way, share, crossings, rays, round[lamp],
                 lights[lamp]);
    }
  }
  for (std::size_t lamp = 0; lamp < lights.size(); ++lamp) {
    const bool lit = round[lamp].all > 0;
    if (!lit) {
      const Vec3f place = receiver.place(stream, 0);
      const Vec3f way = field.lamp_centre(lamp).cast<float>() - place;
      crossings.follow(place, way.normalized(), way.norm());
    }
    for (std::size_t mesh = 0; mesh < crossings.meshes(); ++mesh) {
      MeshWay& about = lights[lamp].meshes[mesh];
      about.crossings = lit ? round[lamp].crossings[mesh] / round[lamp].all : crossings.count(mesh);
      const double with = lit ? round[lamp].all : crossings.transmittance();
      const double without = lit ? round[lamp].without_one[mesh] : crossings.without_last(mesh);
      about.gain_without_one = with > 0 ? without / with : 1;
    }
  }
  return lights;
}

std::vector<StraightSum> straight_open(const LightField& field, const World& world, const Receiver& receiver,
                                       std::uint32_t samples, RayCount& rays) {
  const std::uint64_t stream = mix64(receiver.id, kStraightStream);
  std::vector<StraightSum> sums(field.lamp_count());
  for (std::uint32_t i = 0; i < samples; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    for (std::size_t lamp = 0; lamp < sums.size(); ++lamp) {
      const Way way = way_to(field, lamp, place, sampler.next(), Vec3f::Zero());
      float facing = 0;
      Straight through;
      if (panels_leave(world, place, receiver.normal, way, facing, through) && seen(world, place, way, rays))
        add(sums[lamp], facing / static_cast<float>(samples), through);
    }
  }
  return sums;
}

std::vector<MeshCrossing> room_ways(const LightField& field, const Receiver& receiver, std::uint32_t samples,
                                    RayCount& rays) {
  const World& world = field.world();
  const std::uint64_t stream = mix64(receiver.id, kRoomStream);
  const float far = 4 * world.bounds().diagonal().norm();
  Crossings crossings(world);
  // Of what no surface stands in the way of, and of all.
  std::array<RoundSums, 2> sums;
  for (RoundSums& one : sums)
    one.crossings.resize(crossings.meshes()), one.without_one.resize(crossings.meshes());
  for (std::uint32_t i = 0; i < samples && crossings.meshes() > 0; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    const Vec3f direction = sample_cosine(receiver.normal, sampler.next());
    crossings.follow(place, direction, far);
    const double left = crossings.transmittance();
    const bool open = seen(world, place, {direction, far, 1}, rays);
    for (std::size_t k = open ? 0 : 1; k < sums.size(); ++k) {
      sums[k].all += left;
      for (std::size_t mesh = 0; mesh < crossings.meshes(); ++mesh) {
        sums[k].crossings[mesh] += left * crossings.count(mesh);
        sums[k].without_one[mesh] += crossings.without_last(mesh);
      }
    }
  }
  const RoundSums& told = sums[sums[0].all > 0 ? 0 : 1];
  std::vector<MeshCrossing> ways(crossings.meshes());
  for (std::size_t mesh = 0; mesh < ways.size() && told.all > 0; ++mesh)
    ways[mesh] = {told.crossings[mesh] / told.all, told.without_one[mesh] / told.all};
  return ways;
}

std::vector<StraightSum> mirrored_light(const LightField& field, const Receiver& receiver,
                                        std::uint32_t samples, RayCount& rays) {
  std::vector<StraightSum> sums(field.lamp_count());
  if (field.world().pane_panels().empty()) return sums;
  const std::uint64_t stream = mix64(receiver.id, kMirrorStream);
  for (std::uint32_t i = 0; i < samples; ++i) {
    PairSampler sampler(stream, i);
    field.direct(receiver.place(stream, i), nullptr, 1, sampler, rays, [&](const Arrival& arrival) {
      if (!arrival.mirrored) return;
      // `scalar` holds what the meshes let through already.
      Straight through = arrival.through;
      through.scalar = 1;
      const float facing = arrival.scalar * std::max(0.0f, receiver.normal.dot(arrival.direction));
      add(sums[static_cast<std::size_t>(arrival.source)], facing / static_cast<float>(samples), through);
    });
  }
  return sums;
}

std::vector<HeightSlope> height_slopes(const Scene& scene, const LightField& field, const Receiver& receiver,
                                       Shadows shadows, float step, std::uint32_t samples, RayCount& rays) {
  const World& world = field.world();
  const std::uint64_t stream = mix64(receiver.id, kSlopeStream);
  std::vector<HeightSlope> slopes(field.lamp_count());
  std::vector<Slack> lamp_slack;
  for (const Lamp& lamp : scene.lamps) {
    const Eigen::Matrix3d local_from_scene = lamp.scene_from_local().transpose();
    const auto reach = [&](const Vec3& way) {
      return static_cast<float>(lamp.fixture->emitter->extent(local_from_scene * way));
    };
    lamp_slack.push_back(
        slack_of(world, lamp.at.cast<float>(), reach(Vec3::UnitZ()), reach(-Vec3::UnitZ()), step, rays));
  }
  // One end of a difference: the sensor or the lamp lifted, `share` positive for the higher end.
  const auto add_moved = [&](std::size_t lamp, const Vec3f& place, Pair pair, bool of_lamp, float lift,
                             float share, StraightSum& sum) {
    const Vec3f moved = lift * Vec3f::UnitZ();
    const Vec3f at = of_lamp ? place : Vec3f(place + moved);
    const Way way = way_to(field, lamp, at, pair, of_lamp ? moved : Vec3f(Vec3f::Zero()));
    float facing = 0;
    Straight through;
    if (panels_leave(world, at, receiver.normal, way, facing, through) &&
        (shadows == Shadows::go_along || seen(world, at, way, rays)))
      add(sum, share * facing, through);
  };
  const auto add_slope = [&](const Slack& slack, std::size_t lamp, const Vec3f& place, Pair pair,
                             bool of_lamp, StraightSum& sum) {
    if (!(slack.up + slack.down > 0)) return;
    const float share = 1.0f / (static_cast<float>(samples) * (slack.up + slack.down));
    add_moved(lamp, place, pair, of_lamp, slack.up, share, sum);
    add_moved(lamp, place, pair, of_lamp, -slack.down, -share, sum);
  };
  for (std::uint32_t i = 0; i < samples; ++i) {
    PairSampler sampler(stream, i);
    const Vec3f place = receiver.place(stream, i);
    const Slack slack =
        shadows == Shadows::go_along ? Slack{step, step} : slack_of(world, place, 0, 0, step, rays);
    for (std::size_t lamp = 0; lamp < slopes.size(); ++lamp) {
      const Pair pair = sampler.next();
      if (shadows == Shadows::go_along &&
          !seen(world, place, way_to(field, lamp, place, pair, Vec3f::Zero()), rays))
        continue;
      add_slope(slack, lamp, place, pair, false, slopes[lamp].sensor);
      add_slope(lamp_slack[lamp], lamp, place, pair, true, slopes[lamp].lamp);
    }
  }
  return slopes;
}

}  // namespace boughlight
