#include "assess/field_cells.h"

#include <algorithm>

#include "assess/grid_effort.h"
#include "assess/judge.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kCellStage = 202 };

}  // namespace

std::size_t ZoneChannels::index_of(Quantity quantity) const {
  return static_cast<std::size_t>(std::find(quantities.begin(), quantities.end(), quantity) -
                                  quantities.begin());
}

ZoneChannels zone_channels(const Setting& setting, const std::vector<Quantity>& more) {
  ZoneChannels zones;
  zones.sources = setting.full_outputs.size();
  zones.quantities = {Quantity::uvi, Quantity::irradiance};
  const auto add = [&](Quantity quantity) {
    if (zones.index_of(quantity) == zones.quantities.size()) zones.quantities.push_back(quantity);
  };
  if (setting.scene.animal)
    for (const auto* wants : {&setting.scene.animal->basking, &setting.scene.animal->refuge})
      for (const Want& want : *wants) add(want.quantity);
  for (const Quantity quantity : more) add(quantity);
  const std::size_t lamps = setting.scene.lamps.size();
  for (const Quantity quantity : zones.quantities) {
    const std::vector<Channel> full = channels_of(quantity, setting.full_outputs);
    const std::vector<Channel> declared = channels_of(quantity, setting.outputs);
    for (std::size_t source = 0; source < zones.sources; ++source) {
      zones.full.push_back({zones.channels.size(), 1});
      zones.declared.push_back(zones.full.back());
      zones.channels.push_back(full[source]);
      if (source >= lamps) continue;
      const Lamp& lamp = setting.scene.lamps[source];
      const bool evenly = std::all_of(lamp.fixture->parts.begin(), lamp.fixture->parts.end(),
                                      [](const LampPart& part) { return !part.filament_k; });
      if (evenly || lamp.dim == 1) {
        zones.declared.back().scale = static_cast<float>(lamp.dim);
      } else {
        zones.declared.back() = {zones.channels.size(), 1};
        zones.channels.push_back(declared[source]);
      }
    }
  }
  return zones;
}

GridLight light_cells(Setting& setting) {
  GridLight result;
  const Scene& scene = setting.scene;
  const LightField& field = setting.field;
  result.zones = zone_channels(setting);
  result.grid = std::make_unique<CellGrid>(scene, scene.survey.spacing);
  const CellGrid& grid = *result.grid;
  const std::size_t sources = field.source_count();

  const GridEffort effort = plan_grid(setting, grid);
  result.light = std::make_unique<CellLight>(grid.size(), sources, result.zones.channels.size());
  const std::uint64_t seed = setting.stream(kCellStage, 0);
  add_direct(field, scene, grid, effort.places, seed, *result.light);
  add_indirect(field, grid, result.zones.channels, effort.paths, seed, *result.light);
  setting.spent += result.light->rays;
  return result;
}

std::array<Figure, kQuantities> cell_figures(const Setting& setting, const GridLight& light,
                                             std::size_t cell) {
  std::array<Figure, kQuantities> figures;
  std::vector<std::vector<double>> replicates(kQuantities, std::vector<double>(kReplicates, 0.0));
  for (int replicate = 0; replicate < kReplicates; ++replicate)
    for (std::size_t source = 0; source < light.light->sources(); ++source) {
      const SpectralD bins = light.light->up(replicate, source, cell).cast<double>();
      const auto readings = (setting.outputs[source].matrix() * bins.matrix()).eval();
      Eigen::Matrix<double, kInstant, 1> over_day = Eigen::Matrix<double, kInstant, 1>::Zero();
      if (setting.has_day && setting.day_outputs[source])
        over_day = setting.day_outputs[source]->matrix() * bins.matrix();
      for (const QuantityInfo& about : all_quantities()) {
        const auto of = static_cast<int>(about.of);
        replicates[static_cast<std::size_t>(about.quantity)][static_cast<std::size_t>(replicate)] +=
            is_day_quantity(about.quantity) ? about.per_hour * over_day[of] : readings[of];
      }
    }
  for (std::size_t q = 0; q < replicates.size(); ++q) figures[q] = figure_of(replicates[q]);
  return figures;
}

}  // namespace boughlight
