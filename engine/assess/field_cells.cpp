#include "assess/field_cells.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <span>

#include "assess/grid_plan.h"
#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {
namespace {

LightKey key_for(const FieldMemory& memory, const CanonicalBytes& asked, const char* part) {
  CanonicalBytes whole;
  whole.add(part, asked.bytes());
  return memory.key(whole);
}

bool read_numbers(const FieldMemory& memory, const LightKey& key, std::span<float> numbers) {
  return memory.store()->read(key, [&](std::size_t size) -> void* {
    return size == numbers.size_bytes() ? numbers.data() : nullptr;
  });
}

// By far the largest things that are kept: they are read and written where they lie.
bool recall_light(const FieldMemory& memory, const CanonicalBytes& asked, CellLight& light) {
  return memory && read_numbers(memory, key_for(memory, asked, "cells up"), light.all_up()) &&
         read_numbers(memory, key_for(memory, asked, "cells oriented"), light.all_oriented()) &&
         memory.read(key_for(memory, asked, "cell rays"), light.rays);
}

void keep_light(const FieldMemory& memory, const CanonicalBytes& asked,
                const std::shared_ptr<CellLight>& light) {
  if (!memory) return;
  const auto keep = [&](const char* part, std::span<const float> numbers) {
    memory.store()->write(key_for(memory, asked, part), numbers.data(), numbers.size_bytes(), light);
  };
  keep("cells up", light->all_up());
  keep("cells oriented", light->all_oriented());
  memory.write(key_for(memory, asked, "cell rays"), light->rays);
}

std::vector<Spectral> mean_light(const CellLight& light) {
  std::vector<Spectral> mean(light.sources() * light.cells(), Spectral::Zero());
  tbb::parallel_for(std::size_t{0}, light.cells(), [&](std::size_t cell) {
    for (std::size_t source = 0; source < light.sources(); ++source)
      for (int replicate = 0; replicate < kCellReplicates; ++replicate)
        mean[source * light.cells() + cell] += light.up(replicate, source, cell) / kCellReplicates;
  });
  return mean;
}

}  // namespace

std::size_t ZoneChannels::index_of(Quantity quantity) const {
  return static_cast<std::size_t>(std::find(quantities.begin(), quantities.end(), quantity) -
                                  quantities.begin());
}

ZoneChannels zone_channels(const Setting& setting, const std::vector<Quantity>& more) {
  ZoneChannels zones;
  zones.sources = setting.fresh_outputs.size();
  zones.quantities = {Quantity::uvi, Quantity::irradiance};
  const auto add = [&](Quantity quantity) {
    if (zones.index_of(quantity) == zones.quantities.size()) zones.quantities.push_back(quantity);
  };
  if (setting.scene.animal)
    for (const auto* wants : {&setting.scene.animal->basking, &setting.scene.animal->refuge})
      for (const Want& want : *wants) add(want.quantity);
  for (const Quantity quantity : more) add(quantity);
  for (const Quantity quantity : zones.quantities)
    for (const Channel& channel : channels_of(quantity, setting.fresh_outputs))
      zones.channels.push_back(channel);
  return zones;
}

CellScales::CellScales(const Setting& setting, const std::vector<Quantity>& quantities,
                       const std::vector<Spectral>& mean, std::size_t cells)
    : sources_(setting.fresh_outputs.size()), cells_(cells) {
  struct Told {
    std::vector<SpectralD> weights;
    Eigen::ArrayXd everywhere;
    std::vector<float>& scales;
  };
  declared_.resize(quantities.size() * sources_ * cells_);
  full_.resize(declared_.size());
  for (std::size_t q = 0; q < quantities.size(); ++q) {
    const auto told = [&](const std::vector<QuantityBins>& outputs, std::vector<float>& scales) {
      return Told{quantity_weights(quantities[q], outputs, {}),
                  output_ratios(quantities[q], outputs, setting.fresh_outputs), scales};
    };
    const std::vector<SpectralD> fresh = quantity_weights(quantities[q], setting.fresh_outputs, {});
    const std::array<Told, 2> both = {told(setting.outputs, declared_), told(setting.full_outputs, full_)};
    tbb::parallel_for(std::size_t{0}, sources_ * cells_, [&](std::size_t i) {
      const std::size_t source = i / cells_;
      const SpectralD light = mean[i].cast<double>();
      const double when_new = (fresh[source] * light).sum();
      for (const Told& now : both)
        now.scales[q * sources_ * cells_ + i] =
            static_cast<float>(when_new > 0 ? (now.weights[source] * light).sum() / when_new
                                            : now.everywhere[static_cast<Eigen::Index>(source)]);
    });
  }
}

GridLight light_cells(Setting& setting) {
  GridLight result;
  const Scene& scene = setting.scene;
  const LightField& field = setting.field;
  result.zones = zone_channels(setting);
  result.grid = std::make_unique<CellGrid>(scene, scene.survey.spacing);
  const CellGrid& grid = *result.grid;
  const GridPlan plan = plan_grid(setting, grid);

  CanonicalBytes asked;
  asked.add(scene.survey.spacing, scene.survey.seed, plan.paths, plan.places, plan.told);
  identify(asked, result.zones.channels);
  result.key = key_of(asked);
  const auto light =
      std::make_shared<CellLight>(grid.size(), field.source_count(), result.zones.channels.size());
  if (!recall_light(field.memory(), asked, *light)) {
    if (field.memory()) light->clear();  // part of it may have been there
    const std::uint64_t seed = setting.stream(kCellStage, 0);
    add_direct(field, scene, grid, plan.places, plan.told, {}, seed, *light);
    const auto tell = [&](int replicate, std::size_t lamp, const std::vector<float>& straight) {
      for (std::size_t cell = 0; cell < grid.size(); ++cell)
        light->up(replicate, lamp, cell) += plan.told[cell * field.lamp_count() + lamp] * straight[cell];
    };
    add_indirect(field, grid, result.zones.channels, plan.paths, tell, seed, *light);
    keep_light(field.memory(), asked, light);
  }
  setting.spent += light->rays;
  result.mean = mean_light(*light);
  result.scales = CellScales(setting, result.zones.quantities, result.mean, grid.size());
  result.light = light;
  return result;
}

CellWeigher::CellWeigher(const Setting& setting) {
  for (std::size_t source = 0; source < setting.outputs.size(); ++source) {
    Weights& weights = weights_.emplace_back();
    for (const QuantityInfo& about : all_quantities()) {
      const auto row = static_cast<int>(about.quantity), of = static_cast<int>(about.of);
      if (!is_day_quantity(about.quantity))
        weights.row(row) = setting.outputs[source].row(of);
      else if (setting.has_day && setting.day_outputs[source])
        weights.row(row) = about.per_hour * setting.day_outputs[source]->row(of);
      else
        weights.row(row).setZero();
    }
  }
}

std::array<Figure, kQuantities> CellWeigher::figures(const CellLight& light, std::size_t cell) const {
  Eigen::Matrix<double, kQuantities, kCellReplicates> values =
      Eigen::Matrix<double, kQuantities, kCellReplicates>::Zero();
  Eigen::Matrix<double, kBins, kCellReplicates> bins;
  for (std::size_t source = 0; source < weights_.size(); ++source) {
    for (int replicate = 0; replicate < kCellReplicates; ++replicate)
      bins.col(replicate) = light.up(replicate, source, cell).cast<double>().matrix();
    values.noalias() += weights_[source] * bins;
  }
  std::array<Figure, kQuantities> figures;
  for (std::size_t q = 0; q < figures.size(); ++q) {
    const auto row = values.row(static_cast<Eigen::Index>(q));
    figures[q] = figure_of(std::vector<double>(row.begin(), row.end()));
  }
  return figures;
}

}  // namespace boughlight
