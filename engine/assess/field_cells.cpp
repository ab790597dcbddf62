#include "assess/field_cells.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kPilotStage = 201, kCellStage = 202 };

constexpr double kAskedRms = 0.05;  // of the cells above a tenth of the mean
constexpr std::uint32_t kPilotPlaces = 1, kPilotPaths = 512;
constexpr std::uint32_t kLeastPlaces = 1, kLeastPaths = 1024, kMostPlaces = 1u << 12, kMostPaths = 1u << 22;

constexpr std::array kMapped = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};

// Standard errors of the cells relative to their values, where the errors come from `part` and the values
// from `part` + `rest`. A cell below a tenth of the mean is taken as that bright and told by `faint`: how
// well it is known matters less.
struct CellErrors {
  struct OfQuantity {
    std::vector<double> relative;
    std::vector<char> faint;
  };
  std::array<OfQuantity, kMapped.size()> of;

  // The largest of the quantities'.
  double relative(std::size_t cell) const {
    double most = 0;
    for (const OfQuantity& quantity : of) most = std::max(most, quantity.relative[cell]);
    return most;
  }
  // Over the cells that are not faint, of the quantity that is known least.
  double rms() const {
    return std::sqrt(worst_mean([](double error, double) { return error * error; }));
  }
  // What the mean square would be, times that share, were each cell given a share of the samples like its
  // relative().
  double if_shared_out() const {
    return worst_mean([](double error, double share) { return error * error / share; });
  }

 private:
  template <class Term>
  double worst_mean(Term&& term) const {
    double worst = 0;
    for (const OfQuantity& quantity : of) {
      double sum = 0, count = 0;
      for (std::size_t cell = 0; cell < quantity.relative.size(); ++cell) {
        if (quantity.faint[cell]) continue;
        if (quantity.relative[cell] > 0) sum += term(quantity.relative[cell], relative(cell));
        ++count;
      }
      if (count > 0) worst = std::max(worst, sum / count);
    }
    return worst;
  }
};
CellErrors cell_errors(const Setting& setting, const CellGrid& grid, const CellLight& part,
                       const CellLight& rest) {
  CellErrors errors;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    CellErrors::OfQuantity& quantity = errors.of[q];
    quantity = {std::vector<double>(grid.size(), 0.0), std::vector<char>(grid.size(), 1)};
    std::vector<Spectral> weights;
    for (const SpectralD& bins : setting.weights(kMapped[q])) weights.push_back(bins.cast<float>());
    std::vector<Figure> figures(grid.size());
    tbb::parallel_for(std::size_t{0}, grid.size(), [&](std::size_t cell) {
      std::vector<double> replicates(kReplicates, 0.0);
      double other = 0;
      for (int replicate = 0; replicate < kReplicates; ++replicate)
        for (std::size_t source = 0; source < part.sources(); ++source) {
          replicates[static_cast<std::size_t>(replicate)] +=
              static_cast<double>((part.up(replicate, source, cell) * weights[source]).sum());
          other +=
              static_cast<double>((rest.up(replicate, source, cell) * weights[source]).sum()) / kReplicates;
        }
      figures[cell] = figure_of(replicates);
      figures[cell].value += other;
    });
    double mean = 0;
    for (const Figure& figure : figures) mean += figure.value / static_cast<double>(figures.size());
    constexpr double kFaint = 0.1;
    if (!(mean > 0)) continue;
    for (std::size_t cell = 0; cell < figures.size(); ++cell) {
      const double size = std::max(figures[cell].value, kFaint * mean);
      quantity.relative[cell] = figures[cell].se / size;
      if (figures[cell].value > kFaint * mean) quantity.faint[cell] = 0;
    }
  }
  return errors;
}

// The power of two nearest to samples x factor: those stratify best, and over many cells too much here makes
// up for too little there.
std::uint32_t scaled(std::uint32_t samples, double factor, std::uint32_t least, std::uint32_t most) {
  const double wanted = std::clamp(samples * factor, static_cast<double>(least), static_cast<double>(most));
  return static_cast<std::uint32_t>(std::exp2(std::round(std::log2(wanted))));
}

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

  std::vector<std::uint32_t> places(grid.size(), kLeastPlaces);
  std::vector<std::uint32_t> paths(sources, kLeastPaths);
  {
    CellLight direct(grid.size(), sources, 0), indirect(grid.size(), sources, 0);
    const std::uint64_t seed = setting.stream(kPilotStage, 0);
    add_direct(field, scene, grid, std::vector(grid.size(), kPilotPlaces), seed, direct);
    add_indirect(field, grid, {}, std::vector(sources, kPilotPaths), seed, indirect);
    setting.spent += direct.rays;
    setting.spent += indirect.rays;
    const CellErrors direct_errors = cell_errors(setting, grid, direct, indirect);
    const double indirect_error = cell_errors(setting, grid, indirect, direct).rms();
    // Places go where they help: in proportion to each cell's error the squares add up to the allowed sum
    // with the fewest rays. Share the allowed error between direct and reflected light so that both together
    // take the fewest rays.
    const double direct_error = direct_errors.if_shared_out();
    const double direct_cost = std::sqrt(static_cast<double>(direct.rays.shadow) + 1);
    const double indirect_cost = std::sqrt(static_cast<double>(indirect.rays.closest) + 1);
    const double both =
        (direct_error * direct_cost + indirect_error * indirect_cost) / (kAskedRms * kAskedRms);
    paths.assign(sources,
                 scaled(kPilotPaths, indirect_error * both / indirect_cost, kLeastPaths, kMostPaths));
    // Keep within what is left of the budget; a quarter of it is always there for the maps.
    const double used = static_cast<double>(setting.spent.shadow + setting.spent.closest);
    const double left = std::max(setting.budget.rays - used, setting.budget.rays / 4) / 2;
    const double rays_a_place = static_cast<double>(direct.rays.shadow) / kPilotPlaces;
    const double wanted = kPilotPlaces * direct_error * both / direct_cost;
    const double fewer = std::min(1.0, left / std::max(1.0, wanted * rays_a_place));
    for (std::size_t cell = 0; cell < grid.size(); ++cell)
      places[cell] = scaled(kPilotPlaces, fewer * direct_errors.relative(cell) * both / direct_cost,
                            kLeastPlaces, kMostPlaces);
    const double pilot_paths = static_cast<double>(indirect.rays.closest) / kPilotPaths;
    while (!paths.empty() && paths.front() > kLeastPaths && paths.front() * pilot_paths > left)
      for (auto& count : paths) count /= 2;
  }
  result.light = std::make_unique<CellLight>(grid.size(), sources, result.zones.channels.size());
  const std::uint64_t seed = setting.stream(kCellStage, 0);
  add_direct(field, scene, grid, places, seed, *result.light);
  add_indirect(field, grid, result.zones.channels, paths, seed, *result.light);
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
