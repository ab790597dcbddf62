#include "plan/month_traces.h"

#include <tbb/parallel_for.h>

#include <algorithm>

#include "assess/efforts.h"
#include "assess/readings.h"
#include "plan/stages.h"

namespace boughlight {
namespace {

// Month after month is traced more roughly than a survey, or a year would take an hour: the errors tell.
constexpr double kRougher = 2, kLeastTolerance = 0.03;
constexpr std::uint32_t kMostSamples = 1u << 15;
constexpr std::uint32_t kMeshSamples = 1024;

}  // namespace

MonthTraces::MonthTraces(const Scene& scene, const MonthsAhead& ahead, const Survey& today)
    : scene_(scene), ahead_(ahead), today_(today), tolerance_(scene.survey.tolerance) {
  if (today.hottest)
    for (const HottestPlace* place : {&today.hottest->uvi, &today.hottest->irradiance,
                                      &today.hottest->uvi_at_full, &today.hottest->irradiance_at_full})
      closest_.push_back(place);
  crowns_grow_ = std::any_of(scene.plants.begin(), scene.plants.end(), [&](const Plant& plant) {
    const auto curve = ahead.growing.find(plant.name);
    return curve != ahead.growing.end() && curve->second.after(plant.growth, ahead.months) != plant.growth;
  });
  animal_grows_ = scene.animal && scene_at(scene, ahead, ahead.months).animal->back != scene.animal->back;
  const LightField field(scene, importance_of(scene));
  for (const int material : mesh_materials(field.world())) {
    meshes_.push_back(scene.materials[static_cast<std::size_t>(material)].name);
    fouls_ = fouls_ || ahead.mesh_factor(meshes_.back(), 1) != 1;
  }
  if (crowns_grow_ || animal_grows_)
    tolerance_ = std::max(kRougher * scene.survey.tolerance, kLeastTolerance);
}

TracedSpot MonthTraces::at(std::size_t place, double crowns_month, double animal_month) {
  const Traced& found = traced(crowns_grow_ ? crowns_month : 0, animal_grows_ ? animal_month : 0);
  return {&found.responses[place], found.spots.empty() ? nullptr : &found.spots[place]};
}

const MonthTraces::Traced& MonthTraces::traced(double crowns_month, double animal_month) {
  std::unique_ptr<Traced>& slot = traced_[{crowns_month, animal_month}];
  if (!slot) {
    slot = std::make_unique<Traced>();
    Scene scene = scene_at(scene_, ahead_, crowns_month);
    if (scene.animal) scene.animal = scene_at(scene_, ahead_, animal_month).animal;
    trace(scene, *slot);
  }
  return *slot;
}

std::vector<Receiver> MonthTraces::receivers_in(const Setting& setting) const {
  std::vector<Receiver> receivers;
  const double raised = setting.scene.animal ? setting.scene.animal->back - scene_.animal->back : 0;
  for (std::size_t i = 0; i < today_.readings.size(); ++i) {
    Reading reading = today_.readings[i];
    if (reading.kind == ReadingKind::perch) reading.at.z() += raised;
    receivers.push_back(receiver_of(setting, reading, setting.stream(kMonthReadingStage, i)));
  }
  for (std::size_t i = 0; i < closest_.size(); ++i)
    receivers.push_back(fixed_receiver(closest_[i]->at.cast<float>(), closest_[i]->direction.cast<float>(),
                                       setting.stream(kMonthClosestStage, i)));
  return receivers;
}

void MonthTraces::set_efforts(const Setting& setting, const std::vector<Receiver>& receivers) {
  Setting fresh = setting.in(setting.scene, setting.field);
  fresh.outputs = setting.fresh_outputs;
  std::vector<Task> tasks;
  for (std::size_t i = 0; i < receivers.size(); ++i) {
    const bool reading = i < today_.readings.size();
    std::vector<Want> wants;
    if (reading) {
      for (const WantResult& want : today_.readings[i].wants) wants.push_back(want.want);
    } else {
      const HottestPlace& place = *closest_[i - today_.readings.size()];
      wants.push_back({place.quantity, {std::nullopt, place.limit}, {}});
    }
    tasks.push_back(
        reading_task(setting, receivers[i], reading ? today_.readings[i].kind : ReadingKind::point, wants));
    // Other months have other lamps' light: of fresh ones too what counts is to be known.
    for (const Goal& goal : common_goals(fresh)) tasks.back().goals.push_back(goal);
  }
  RayCount spent;
  efforts_ = efforts_for(setting.field, tasks, tolerance_, kMostSamples, spent);
}

void MonthTraces::trace(const Scene& scene, Traced& traced) {
  // The same importance whatever the month, so that paths end alike.
  const LightField field(scene, importance_of(scene_));
  const Setting setting = setting_of(scene, field);
  const std::vector<Receiver> receivers = receivers_in(setting);
  if (!crowns_grow_ && !animal_grows_) {
    // Today's survey is all the light there is.
    traced.responses = today_.responses;
    for (const HottestPlace* place : closest_) traced.responses.push_back(place->response);
  } else {
    if (efforts_.empty()) set_efforts(setting, receivers);
    traced.responses = gather(field, receivers, efforts_);
  }
  if (!fouls_) return;
  traced.spots.resize(receivers.size());
  std::vector<RayCount> rays(receivers.size());
  tbb::parallel_for(std::size_t{0}, receivers.size(), [&](std::size_t i) {
    Receiver receiver = receivers[i];
    receiver.id = mix64(receiver.id, kMonthMeshStage);
    traced.spots[i].light = straight_light(field, field.world(), receiver, kMeshSamples, rays[i]);
    if (field.has_room()) traced.spots[i].room = room_ways(field, receiver, kMeshSamples, rays[i]);
  });
}

Reweighing MonthTraces::weighing(double month) const {
  return weighing(month, {}, false);
}

Reweighing MonthTraces::weighing(double month, const std::vector<std::size_t>& fresh, bool clean) const {
  Scene scene = scene_at(scene_, ahead_, month);
  for (const std::size_t lamp : fresh) scene.lamps[lamp].burned_h = 0;
  Reweighing how{source_outputs(scene, Power::as_declared), day_outputs(scene, Power::as_declared), {}, {}};
  if (fouls_ && !clean)
    for (const std::string& mesh : meshes_) how.mesh_factors.push_back(ahead_.mesh_factor(mesh, month));
  return how;
}

}  // namespace boughlight
