#include "assess/grid_effort.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/judge.h"

namespace boughlight {
namespace {

enum : std::uint64_t { kPilotStage = 201 };

constexpr double kAskedRms = 0.05;
constexpr std::uint32_t kPilotPlaces = 1, kPilotPaths = 512;
constexpr std::uint32_t kLeastPlaces = 1, kLeastPaths = 1024, kMostPlaces = 1u << 12, kMostPaths = 1u << 22;
// A nearest surface, with the way to it counted into the cells, costs about as much time as so many
// visibility queries (measured on the demo).
constexpr double kCostOfClosest = 2;

constexpr std::array kMapped = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};

// One kind of light in a quantity: values, and the squared standard errors that one sample would have.
struct Known {
  std::vector<double> values, squares;  // [cell * sources + source]
};
using KnownLight = std::array<Known, kMapped.size()>;

KnownLight known_light(const Setting& setting, const CellLight& light, std::uint32_t samples) {
  KnownLight known;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    std::vector<Spectral> weights;
    for (const SpectralD& bins : setting.weights(kMapped[q])) weights.push_back(bins.cast<float>());
    known[q] = {std::vector<double>(light.cells() * light.sources()),
                std::vector<double>(light.cells() * light.sources())};
    tbb::parallel_for(std::size_t{0}, light.cells(), [&](std::size_t cell) {
      std::vector<double> replicates(kReplicates);
      for (std::size_t source = 0; source < light.sources(); ++source) {
        for (int replicate = 0; replicate < kReplicates; ++replicate)
          replicates[static_cast<std::size_t>(replicate)] =
              static_cast<double>((light.up(replicate, source, cell) * weights[source]).sum());
        const Figure figure = figure_of(replicates);
        const std::size_t at = cell * light.sources() + source;
        known[q].values[at] = figure.value;
        known[q].squares[at] = figure.se * figure.se * samples;
      }
    });
  }
  return known;
}

// Which cells count, and makes the squared errors relative to the cells' whole values and those of the cells
// that count add up to their mean square.
std::vector<char> make_relative(Known& direct, Known& indirect, std::size_t cells) {
  const std::size_t sources = direct.values.size() / std::max<std::size_t>(cells, 1);
  std::vector<double> values(cells, 0.0);
  double mean = 0, count = 0;
  for (std::size_t cell = 0; cell < cells; ++cell) {
    for (std::size_t at = cell * sources; at < (cell + 1) * sources; ++at)
      values[cell] += direct.values[at] + indirect.values[at];
    mean += values[cell] / static_cast<double>(cells);
  }
  constexpr double kFaint = 0.1;
  std::vector<char> counts(cells, 0);
  for (std::size_t cell = 0; cell < cells; ++cell) {
    counts[cell] = values[cell] > kFaint * mean;
    count += counts[cell];
  }
  for (std::size_t cell = 0; cell < cells; ++cell) {
    // A fainter cell is taken as a tenth of the mean: how well it is known matters less.
    const double size = std::max(values[cell], kFaint * mean);
    const double scale = count > 0 ? 1 / (size * size * count) : 0;
    for (std::size_t at = cell * sources; at < (cell + 1) * sources; ++at)
      direct.squares[at] *= scale, indirect.squares[at] *= scale;
  }
  return counts;
}

// Half each cell's own, half the mean of the cells that share a face with it. A pilot finds some errors too
// small by chance, and what lies next to each other is lit alike.
std::vector<double> smoothed(const CellGrid& grid, const std::vector<double>& squares) {
  const std::size_t sources = squares.size() / std::max<std::size_t>(grid.size(), 1);
  std::vector<double> result(squares.size());
  for (const CellGrid::Block& block : grid.blocks()) {
    const std::array<std::size_t, 3> stride = {1, static_cast<std::size_t>(block.count[0]),
                                               static_cast<std::size_t>(block.count[0] * block.count[1])};
    const std::size_t end = block.first + stride[2] * static_cast<std::size_t>(block.count[2]);
    for (std::size_t cell = block.first; cell < end; ++cell) {
      const std::array<int, 3> index = grid.index_of(cell);
      for (std::size_t source = 0; source < sources; ++source) {
        double sum = 0, count = 0;
        const auto add = [&](std::size_t other) { sum += squares[other * sources + source], ++count; };
        for (std::size_t axis = 0; axis < 3; ++axis) {
          if (index[axis] > 0) add(cell - stride[axis]);
          if (index[axis] + 1 < block.count[axis]) add(cell + stride[axis]);
        }
        const double own = squares[cell * sources + source];
        result[cell * sources + source] = count > 0 ? 0.5 * (own + sum / count) : own;
      }
    }
  }
  return result;
}

// The power of two nearest to what is wanted: those stratify best, and over many cells too much here makes up
// for too little there.
std::uint32_t rounded(double wanted, std::uint32_t least, std::uint32_t most) {
  const double bounded = std::clamp(wanted, static_cast<double>(least), static_cast<double>(most));
  return static_cast<std::uint32_t>(std::exp2(std::round(std::log2(bounded))));
}

}  // namespace

GridEffort plan_grid(Setting& setting, const CellGrid& grid) {
  const LightField& field = setting.field;
  const std::size_t sources = field.source_count(), lamps = field.lamp_count(), cells = grid.size();
  const std::uint64_t seed = setting.stream(kPilotStage, 0);
  // One kind of light after the other, since each takes much memory.
  KnownLight direct, indirect;
  RayCount direct_rays, indirect_rays;
  {
    CellLight light(cells, sources, 0);
    add_direct(field, setting.scene, grid, std::vector(cells * lamps, kPilotPlaces), seed, light);
    direct_rays = light.rays;
    direct = known_light(setting, light, kPilotPlaces);
  }
  {
    CellLight light(cells, sources, 0);
    add_indirect(field, grid, {}, std::vector(sources, kPilotPaths), seed, light);
    indirect_rays = light.rays;
    indirect = known_light(setting, light, kPilotPaths);
  }
  setting.spent += direct_rays;
  setting.spent += indirect_rays;

  // A task is the direct light of a lamp in a cell, or the reflected light of a source in all of them. Of all
  // ways to reach a mean square with tasks whose samples have squared errors e and costs c, the cheapest
  // takes samples in proportion to sqrt(e / c). Of the quantities the one with the largest e decides in each
  // task, and the one that is known least sets the scale.
  std::vector<double> places(cells * lamps, 0.0), paths(sources, 0.0);
  std::array<std::vector<char>, kMapped.size()> counts;
  std::array<std::vector<double>, kMapped.size()> reflected;  // by source: over the cells that count
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    counts[q] = make_relative(direct[q], indirect[q], cells);
    reflected[q].assign(sources, 0.0);
    const std::vector<double> likely = smoothed(grid, direct[q].squares);
    for (std::size_t cell = 0; cell < cells; ++cell)
      for (std::size_t source = 0; source < sources; ++source) {
        const std::size_t at = cell * sources + source;
        if (counts[q][cell]) reflected[q][source] += indirect[q].squares[at];
        if (source < lamps)
          places[cell * lamps + source] = std::max(places[cell * lamps + source], std::sqrt(likely[at]));
      }
    for (std::size_t source = 0; source < sources; ++source)
      paths[source] = std::max(paths[source], std::sqrt(reflected[q][source]));
  }
  const auto each = [](std::uint64_t rays, std::size_t samples) {
    return static_cast<double>(rays + 1) / static_cast<double>(samples + 1);
  };
  const double place_rays = each(direct_rays.shadow, cells * lamps * kPilotPlaces);
  const double path_rays = each(indirect_rays.closest, sources * kPilotPaths);
  const double place_cost = std::sqrt(place_rays), path_cost = std::sqrt(kCostOfClosest * path_rays);
  double scale = 0;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    double sum = 0;
    for (std::size_t cell = 0; cell < cells; ++cell)
      for (std::size_t lamp = 0; lamp < lamps; ++lamp) {
        const double square = direct[q].squares[cell * sources + lamp];
        if (counts[q][cell] && square > 0) sum += place_cost * square / places[cell * lamps + lamp];
      }
    for (std::size_t source = 0; source < sources; ++source)
      if (reflected[q][source] > 0) sum += path_cost * reflected[q][source] / paths[source];
    scale = std::max(scale, sum / (kAskedRms * kAskedRms));
  }
  for (double& wanted : places) wanted *= scale / place_cost;
  for (double& wanted : paths) wanted *= scale / path_cost;

  const double used = static_cast<double>(setting.spent.shadow + setting.spent.closest);
  const double left = std::max(setting.budget.rays - used, setting.budget.rays / 4) / 2;
  const auto fewer = [&](const std::vector<double>& wanted, double rays) {
    double sum = 0;
    for (const double samples : wanted) sum += samples * rays;
    return std::min(1.0, left / std::max(1.0, sum));
  };
  const double of_places = fewer(places, place_rays), of_paths = fewer(paths, path_rays);
  GridEffort effort;
  for (const double wanted : places)
    effort.places.push_back(rounded(of_places * wanted, kLeastPlaces, kMostPlaces));
  for (const double wanted : paths)
    effort.paths.push_back(rounded(of_paths * wanted, kLeastPaths, kMostPaths));
  return effort;
}

}  // namespace boughlight
