// What every stage of a survey shares: the scene, the field to trace, and what each source gives.
#pragma once

#include "assess/output.h"
#include "assess/precision.h"
#include "assess/results.h"

namespace boughlight {

struct Setting {
  const Scene& scene;
  const LightField& field;
  std::vector<QuantityBins> outputs;        // as declared
  std::vector<QuantityBins> full_outputs;   // every dimmer at 100 %
  std::vector<QuantityBins> fresh_outputs;  // and the lamps new
  DayOutputs day_outputs;                   // over the day, as declared
  bool has_day = false;
  GatherBudget budget;
  RayCount spent;

  double tolerance() const { return scene.survey.tolerance; }
  // Random numbers for item `number` of a stage (assess/stages.h, plan/stages.h).
  std::uint64_t stream(std::uint64_t stage, std::uint64_t number) const {
    return mix64(mix64(scene.survey.seed, stage), number);
  }
  std::vector<SpectralD> weights(Quantity quantity) const {
    return quantity_weights(quantity, outputs, day_outputs);
  }
  // The same sources, and what is left of the budget, in another scene and field. Keeps both references.
  Setting in(const Scene& other, const LightField& its_field) const {
    return {other, its_field, outputs, full_outputs, fresh_outputs, day_outputs, has_day, budget, spent};
  }
};

// Everything as the scene declares it, nothing spent yet. Keeps both references.
Setting setting_of(const Scene& scene, const LightField& field);

// A goal for a limit on a quantity.
Goal goal_for(const Setting& setting, const Want& want);
// Goals that every reading has, so that figures without a limit are known as well: within the tolerance, or
// of a size that nobody asks about.
std::vector<Goal> common_goals(const Setting& setting);
// Those and the goals of wants.
std::vector<Goal> goals_with(const Setting& setting, const std::vector<Want>& wants);
// The task of a reading, with these goals. In a plant's those of what its needs do not judge are eased, since
// the shadows of leaves make the mean of a crown the dearest of figures.
Task reading_task(const Setting& setting, Receiver receiver, ReadingKind kind,
                  const std::vector<Want>& wants);

// Where a sensor looking along `normal` reads from: `place`, or a hair off it where it lies on a surface, on
// the side that it looks into; off a wall of the enclosure that it looks along, on the inside.
Vec3f reading_place(const Scene& scene, const LightField& field, const Vec3& place, const Vec3f& normal);

// All figures of a response on its sensor; day quantities only where they exist.
Figures facing_figures(const Setting& setting, const Response& response);
// Spherical irradiance, instant quantities.
Figures scalar_figures(const Setting& setting, const Response& response);
// Each source's share of every figure, by name.
std::map<std::string, std::map<Quantity, double>> figures_by_source(const Setting& setting,
                                                                    const Response& response);

}  // namespace boughlight
