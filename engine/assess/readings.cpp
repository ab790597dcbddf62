#include "assess/readings.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "assess/crowns.h"
#include "assess/judge.h"
#include "assess/stages.h"
#include "transport/brightest.h"

namespace boughlight {
namespace {

// The place itself, or where it lies on surfaces, a hair off them on either side of each.
std::vector<Vec3f> open_places(const LightField& field, const Vec3& at) {
  const Vec3f place = at.cast<float>();
  const float hair = 2 * field.world().offset();
  std::vector<Vec3f> places = {place};
  for (int axis = 0; axis < 3; ++axis) {
    if (!field.world().on_surface(place, Vec3f::Unit(axis), hair)) continue;
    const std::size_t before = places.size();
    for (std::size_t i = 0; i < before; ++i) {
      places.push_back(places[i] - hair * Vec3f::Unit(axis));
      places[i] += hair * Vec3f::Unit(axis);
    }
  }
  return places;
}

struct Request {
  Reading reading;
  std::vector<Want> wants;
  Facing facing;
  const Plant* crown = nullptr;  // averaged over its volume
};

// The highest place of the crown on its axis that is still inside the enclosure.
Vec3 crown_top(const Scene& scene, const Plant& plant) {
  Vec3 low = plant.crown_centre, high = plant.crown_centre + Vec3(0, 0, plant.grown_radii().z());
  if (scene.inside(high)) return high;
  if (!scene.inside(low)) return low;
  for (int halving = 0; halving < 40; ++halving) {
    const Vec3 middle = 0.5 * (low + high);
    (scene.inside(middle) ? low : high) = middle;
  }
  return low;
}

std::vector<Request> requests_of(const Scene& scene) {
  std::vector<Request> requests;
  const double back = scene.animal ? scene.animal->back : 0;
  const auto facing_name = [](const Facing& facing) {
    if (facing.brightest) return "brightest";
    return facing.direction == Vec3::UnitZ() ? "up" : "given";
  };
  const auto add = [&](const std::string& name, ReadingKind kind, const Vec3& at, const Facing& facing,
                       const std::vector<Want>& wants, const Plant* crown) {
    Request request;
    request.reading.name = name;
    request.reading.kind = kind;
    request.reading.at = at;
    request.reading.facing = facing_name(facing);
    request.reading.direction = facing.direction;
    request.facing = facing;
    request.wants = wants;
    request.crown = crown;
    requests.push_back(std::move(request));
  };
  for (const Perch& perch : scene.perches)
    add(perch.name, ReadingKind::perch, perch.at + Vec3(0, 0, back), perch.facing, perch.wants, nullptr);
  for (const Plant& plant : scene.plants)
    add(plant.name, ReadingKind::plant, plant.crown_centre, Facing{}, plant.needs, &plant);
  for (const Point& point : scene.points)
    add(point.name, ReadingKind::point, point.at, point.facing, point.wants, nullptr);
  return requests;
}

}  // namespace

Receiver receiver_of(const Setting& setting, const Reading& reading, std::uint64_t id) {
  const Vec3f normal = reading.direction.cast<float>().normalized();
  if (reading.kind != ReadingKind::plant)
    return fixed_receiver(reading_place(setting.scene, setting.field, reading.at, normal), normal, id);
  const std::vector<Plant>& plants = setting.scene.plants;
  const auto plant =
      std::find_if(plants.begin(), plants.end(), [&](const Plant& p) { return p.name == reading.name; });
  return crown_receiver(setting.scene, *plant, CrownPart::whole, id);
}

Vec3f find_brightest(const Setting& setting, const Vec3& at, std::uint64_t id, RayCount& rays) {
  constexpr GatherEffort kEffort{512, 2048};
  constexpr float kLeastUvi = 0.01f;
  // New lamps' light at full power, weighed by what each gives now: the colours of a dimmed filament turn a
  // direction by nothing that matters.
  std::vector<Channel> channels = channels_of(Quantity::uvi, setting.fresh_outputs);
  const auto sources = static_cast<Eigen::Index>(channels.size());
  for (const Channel& channel : channels_of(Quantity::lux, setting.fresh_outputs))
    channels.push_back(channel);
  Eigen::ArrayXf uvi = Eigen::ArrayXf::Zero(2 * sources), lux = uvi, fresh_uvi = uvi, fresh_lux = uvi;
  fresh_uvi.head(sources).setOnes();
  fresh_lux.tail(sources).setOnes();
  uvi.head(sources) = output_ratios(Quantity::uvi, setting.outputs, setting.fresh_outputs).cast<float>();
  lux.tail(sources) = output_ratios(Quantity::lux, setting.outputs, setting.fresh_outputs).cast<float>();
  Brightest by_uvi, by_lux;
  for (const Vec3f& place : open_places(setting.field, at)) {
    const DirectedLight light = recall_light(setting.field, channels, place, id, kEffort);
    rays += light.rays;
    const auto brightest = [&](const Eigen::ArrayXf& now, const Eigen::ArrayXf& fresh) {
      return steady_brightest(light, now, brightest_orientation(light, fresh).direction);
    };
    const Brightest here = brightest(uvi, fresh_uvi), seen = brightest(lux, fresh_lux);
    if (here.value > by_uvi.value) by_uvi = here;
    if (seen.value > by_lux.value) by_lux = seen;
  }
  return by_uvi.value >= kLeastUvi ? by_uvi.direction : by_lux.direction;
}

void take_readings(Setting& setting, Survey& survey, const FirstLookTeller& first_look) {
  const Scene& scene = setting.scene;
  std::vector<Request> requests = requests_of(scene);
  std::vector<RayCount> rays(requests.size());
  tbb::parallel_for(std::size_t{0}, requests.size(), [&](std::size_t i) {
    if (requests[i].facing.brightest)
      requests[i].reading.direction =
          find_brightest(setting, requests[i].reading.at, setting.stream(kOrientationStage, i), rays[i])
              .cast<double>()
              .normalized();
  });
  for (const RayCount& count : rays) setting.spent += count;

  // One task a request, then one for the top of every plant.
  std::vector<Task> tasks;
  for (std::size_t i = 0; i < requests.size(); ++i) {
    tasks.push_back(reading_task(setting,
                                 receiver_of(setting, requests[i].reading, setting.stream(kReadingStage, i)),
                                 requests[i].reading.kind, requests[i].wants));
  }
  std::vector<std::size_t> top_task(requests.size(), 0);
  for (std::size_t i = 0; i < requests.size(); ++i) {
    if (!requests[i].crown) continue;
    requests[i].reading.top_at = crown_top(scene, *requests[i].crown);
    top_task[i] = tasks.size();
    // Nothing is judged by it: a sliver of a lamp may be overlooked.
    tasks.push_back(
        {fixed_receiver(reading_place(scene, setting.field, *requests[i].reading.top_at, Vec3f::UnitZ()),
                        Vec3f::UnitZ(), setting.stream(kReadingStage, tasks.size())),
         common_goals(setting), kLeastSpread});
  }
  const auto tell_pilot = [&](const std::vector<Response>& pilots) {
    std::vector<FirstLook> looks;
    for (std::size_t i = 0; i < requests.size(); ++i)
      for (const Want& want : requests[i].wants)
        looks.push_back(
            {requests[i].reading.name, want, weigh_facing(pilots[i], setting.weights(want.quantity))});
    if (first_look && !looks.empty()) first_look(looks);
  };
  std::vector<Response> responses = gather_to_tolerance(setting.field, tasks, setting.tolerance(),
                                                        setting.budget, setting.spent, tell_pilot);

  for (std::size_t i = 0; i < requests.size(); ++i) {
    Reading reading = std::move(requests[i].reading);
    reading.values = facing_figures(setting, responses[i]);
    reading.scalar = scalar_figures(setting, responses[i]);
    reading.by_lamp = figures_by_source(setting, responses[i]);
    for (const Want& want : requests[i].wants) {
      Figure& figure = reading.values.at(want.quantity);
      figure.converged =
          figure.se <= goal_for(setting, want).allowed_error(setting.tolerance(), figure.value);
      reading.wants.push_back(
          {want, figure, *figure.converged ? judge(figure, want.limits) : Verdict::unsure});
    }
    if (requests[i].crown) reading.top = facing_figures(setting, responses[top_task[i]]);
    survey.readings.push_back(std::move(reading));
  }
  responses.resize(requests.size());
  survey.responses = std::move(responses);
}

}  // namespace boughlight
