#include <algorithm>

#include "assess/day.h"
#include "assess/exposure.h"
#include "assess/readings.h"
#include "assess/stages.h"
#include "transport/field_key.h"

namespace boughlight {
namespace {

constexpr double kWorkTolerance = 0.05;

using Doors = std::vector<std::pair<std::size_t, Side>>;

Doors sorted_doors(const Workplace& workplace) {
  Doors doors = workplace.open;
  std::sort(doors.begin(), doors.end());
  return doors;
}

// Light of the lamps alone: the room's is there without the enclosure as well.
std::vector<SpectralD> lamp_weights(const Setting& setting, Quantity quantity) {
  std::vector<SpectralD> weights = setting.weights(quantity);
  for (std::size_t source = setting.scene.lamps.size(); source < weights.size(); ++source)
    weights[source].setZero();
  return weights;
}

void read_together(const Setting& setting, const std::vector<std::size_t>& places, RayCount& spent,
                   std::vector<WorkplaceFindings>& people) {
  constexpr double kUviFloor = 0.02;
  // What 8 hours do not reach by far needs no figures.
  const double actinic_floor = 0.2 * kActinicLimit_j_m2 / (kExposureHours * 3600);
  const double uva_floor = 0.2 * kEyeUvaLimit_j_m2 / (kExposureHours * 3600);
  std::vector<Task> tasks;
  for (const std::size_t i : places) {
    const Workplace& workplace = setting.scene.workplaces[i];
    const Vec3f normal =
        (workplace.facing.brightest
             ? find_brightest(setting, workplace.at, setting.stream(kPeopleFacingStage, i), spent)
             : Vec3f(workplace.facing.direction.cast<float>()))
            .normalized();
    people[i].direction = normal.cast<double>().normalized();
    tasks.push_back({fixed_receiver(reading_place(setting.scene, setting.field, workplace.at, normal), normal,
                                    setting.stream(kPeopleWorkStage, i)),
                     {{lamp_weights(setting, Quantity::actinic), {}, actinic_floor},
                      {lamp_weights(setting, Quantity::uva), {}, uva_floor},
                      {lamp_weights(setting, Quantity::uvi), {}, kUviFloor}}});
  }
  const std::vector<Response> responses = gather_to_tolerance(
      setting.field, tasks, std::max(kWorkTolerance, setting.tolerance()), setting.budget, spent);
  for (std::size_t k = 0; k < places.size(); ++k) {
    WorkplaceFindings& found = people[places[k]];
    const double seconds = setting.scene.workplaces[places[k]].hours_a_day * 3600;
    const auto minutes = [](const std::optional<double>& limit_s) {
      return limit_s ? std::optional(*limit_s / 60) : std::nullopt;
    };
    found.actinic = weigh_facing(responses[k], tasks[k].goals[0].weights);
    found.uva = weigh_facing(responses[k], tasks[k].goals[1].weights);
    found.uvi = weigh_facing(responses[k], tasks[k].goals[2].weights);
    found.skin_minutes = minutes(actinic_limit_seconds(found.actinic.value));
    found.eye_minutes = minutes(eye_uva_limit_seconds(found.uva.value));
    found.skin_share = found.actinic.value * seconds / kActinicLimit_j_m2;
    found.eye_share = found.uva.value * seconds / kEyeUvaLimit_j_m2;
  }
}

}  // namespace

std::vector<WorkplaceFindings> read_workplaces(Setting& setting) {
  const std::vector<Workplace>& workplaces = setting.scene.workplaces;
  std::vector<WorkplaceFindings> people(workplaces.size());
  std::vector<bool> done(workplaces.size(), false);
  for (std::size_t i = 0; i < workplaces.size(); ++i) {
    people[i].workplace = i;
    if (done[i]) continue;
    const Doors doors = sorted_doors(workplaces[i]);
    std::vector<std::size_t> together;
    for (std::size_t k = i; k < workplaces.size(); ++k)
      if (sorted_doors(workplaces[k]) == doors) together.push_back(k), done[k] = true;
    if (doors.empty()) {
      read_together(setting, together, setting.spent, people);
      continue;
    }
    Scene open = setting.scene;
    for (const auto& [box, side] : doors) open.boxes[box].face[static_cast<std::size_t>(side)] = -1;
    LightField field(open, setting.field.importance(), TreeBuild::for_few_rays);
    share_memory(setting.field, open, field);
    const Setting at_work = setting.in(open, field);
    read_together(at_work, together, setting.spent, people);
  }
  return people;
}

}  // namespace boughlight
