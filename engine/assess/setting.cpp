#include "assess/setting.h"

#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

bool exists(const Setting& setting, Quantity quantity) {
  return !is_day_quantity(quantity) || setting.has_day;
}

}  // namespace

Setting setting_of(const Scene& scene, const LightField& field) {
  return {scene,
          field,
          source_outputs(scene, Power::as_declared),
          source_outputs(scene, Power::full),
          fresh_outputs(scene),
          day_outputs(scene, Power::as_declared),
          has_day_quantities(scene),
          {},
          {}};
}

Goal goal_for(const Setting& setting, const Want& want) {
  return {setting.weights(want.quantity), want.limits};
}

std::vector<Goal> common_goals(const Setting& setting) {
  struct Common {
    Quantity quantity;
    double floor;
  };
  std::vector<Goal> goals;
  for (const Common& common : {Common{Quantity::uvi, 0.02}, Common{Quantity::lux, 20.0},
                               Common{Quantity::ppfd, 0.4}, Common{Quantity::irradiance, 0.5}})
    goals.push_back({setting.weights(common.quantity), {}, common.floor});
  return goals;
}

std::vector<Goal> goals_with(const Setting& setting, const std::vector<Want>& wants) {
  std::vector<Goal> goals = common_goals(setting);
  for (const Want& want : wants) goals.push_back(goal_for(setting, want));
  return goals;
}

Task reading_task(const Setting& setting, Receiver receiver, ReadingKind kind,
                  const std::vector<Want>& wants) {
  constexpr double kNotJudged = 2.5;  // 5 % at the usual tolerance, as the grid's cells
  const bool crown = kind == ReadingKind::plant;
  Task task{std::move(receiver), goals_with(setting, wants), crown ? kLeastSpread : kLeastAtPlace};
  if (crown && !wants.empty())
    for (std::size_t i = 0; i + wants.size() < task.goals.size(); ++i) task.goals[i].ease = kNotJudged;
  return task;
}

Vec3f reading_place(const Scene& scene, const LightField& field, const Vec3& place, const Vec3f& normal) {
  Vec3f at = place.cast<float>();
  const float hair = 2 * field.world().offset();
  if (field.world().on_surface(at, normal, hair)) at += hair * normal;
  if (!scene.inside(place)) return at;
  for (int axis = 0; axis < 3; ++axis)
    for (const float way : {-1.0f, 1.0f}) {
      const Vec3f outward = way * Vec3f::Unit(axis);
      // What looks along a face reads its inner side.
      constexpr float kLooksAlong = 1e-3f;
      const Vec3 beyond = at.cast<double>() + 2.0 * hair * outward.cast<double>();
      if (std::abs(outward.dot(normal)) < kLooksAlong && !scene.inside(beyond)) at -= hair * outward;
    }
  return at;
}

Figures facing_figures(const Setting& setting, const Response& response) {
  Figures figures;
  for (const QuantityInfo& about : all_quantities())
    if (exists(setting, about.quantity))
      figures[about.quantity] = weigh_facing(response, setting.weights(about.quantity));
  return figures;
}

Figures scalar_figures(const Setting& setting, const Response& response) {
  Figures figures;
  for (const QuantityInfo& about : all_quantities())
    if (!is_day_quantity(about.quantity))
      figures[about.quantity] = weigh(response.scalar, response, setting.weights(about.quantity));
  return figures;
}

std::map<std::string, std::map<Quantity, double>> figures_by_source(const Setting& setting,
                                                                    const Response& response) {
  std::map<std::string, std::map<Quantity, double>> by_source;
  for (std::size_t source = 0; source < response.sources; ++source) {
    SpectralD mean = SpectralD::Zero();
    for (int replicate = 0; replicate < kReplicates; ++replicate) {
      const std::size_t at = response.at(replicate, source);
      mean += (response.direct[at] + response.indirect[at]).cast<double>() / kReplicates;
    }
    auto& figures = by_source[setting.scene.source_name(source)];
    for (const QuantityInfo& about : all_quantities())
      if (!is_day_quantity(about.quantity) || setting.day_outputs[source])
        figures[about.quantity] = (mean * setting.weights(about.quantity)[source]).sum();
  }
  return by_source;
}

}  // namespace boughlight
