#include "assess/grid_plan.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/judge.h"
#include "assess/stages.h"

namespace boughlight {

// One quantity of one source's light in a cell, and the squared standard error that a single sample of each
// replicate would have, for new lamps at full power.
struct PilotFigure {
  float direct = 0, direct_square = 0, indirect = 0, indirect_square = 0;
};

// What the pilots found.
struct GridPilot {
  std::vector<PilotFigure> figures;  // [(quantity * cells + cell) * sources + source]
  RayCount rays;                     // shadow: for direct light; closest: for reflected light
};
template <class Bytes, SameAs<GridPilot> Pilot>
static void carry(Bytes& bytes, Pilot& pilot) {
  carry(bytes, pilot.figures);
  carry(bytes, pilot.rays);
}

namespace {

constexpr std::uint32_t kPilotPlaces = 1, kPilotPaths = 512;
constexpr std::uint32_t kLeastPlaces = 1, kLeastPaths = 1024, kMostPlaces = 1u << 12, kMostPaths = 1u << 22;
constexpr double kFaint = 0.1;    // of the mean
constexpr double kClearly = 1.3;  // times the error asked for is too much
// A nearest surface, with the way to it counted into the cells, costs about as much time as so many
// visibility queries (measured on the demo).
constexpr double kCostOfClosest = 2;

constexpr std::array kMapped = {Quantity::uvi, Quantity::ppfd, Quantity::irradiance};

GridPilot trace_pilot(const Setting& setting, const CellGrid& grid) {
  const LightField& field = setting.field;
  const std::size_t sources = field.source_count(), cells = grid.size();
  const std::uint64_t seed = setting.stream(kGridPilotStage, 0);
  GridPilot pilot;
  pilot.figures.resize(kMapped.size() * cells * sources);
  const auto read = [&](const CellLight& light, std::uint32_t samples, float PilotFigure::*value,
                        float PilotFigure::*square) {
    for (std::size_t q = 0; q < kMapped.size(); ++q) {
      std::vector<Spectral> weights;
      for (const QuantityBins& output : setting.fresh_outputs)
        weights.push_back(output.row(static_cast<int>(kMapped[q])).transpose().cast<float>());
      tbb::parallel_for(std::size_t{0}, cells, [&](std::size_t cell) {
        std::vector<double> replicates(kReplicates);
        for (std::size_t source = 0; source < sources; ++source) {
          for (int replicate = 0; replicate < kReplicates; ++replicate)
            replicates[static_cast<std::size_t>(replicate)] =
                static_cast<double>((light.up(replicate, source, cell) * weights[source]).sum());
          const Figure figure = figure_of(replicates);
          PilotFigure& found = pilot.figures[(q * cells + cell) * sources + source];
          found.*value = static_cast<float>(figure.value);
          found.*square = static_cast<float>(figure.se * figure.se * samples);
        }
      });
    }
  };
  // One kind of light after the other, since each takes much memory.
  CellLight light(cells, sources, 0);
  add_direct(field, setting.scene, grid, std::vector(cells * field.lamp_count(), kPilotPlaces), seed, light);
  read(light, kPilotPlaces, &PilotFigure::direct, &PilotFigure::direct_square);
  pilot.rays += light.rays;
  light.clear();
  add_indirect(field, grid, {}, std::vector(sources, kPilotPaths), seed, light);
  read(light, kPilotPaths, &PilotFigure::indirect, &PilotFigure::indirect_square);
  pilot.rays += light.rays;
  return pilot;
}

// Squared errors of one quantity relative to the cells' values, over the number of cells that count: those of
// the cells that count add up to their mean square.
struct SquaredErrors {
  std::vector<double> direct;     // [cell * sources + source]
  std::vector<double> reflected;  // by source: their sum over the cells that count
  std::vector<char> counts;       // by cell: brighter than a tenth of the mean
};

// Of quantity `q`, where each source gives scale[source] times as much.
SquaredErrors errors_of(const GridPilot& pilot, std::size_t q, const Eigen::ArrayXd& scale,
                        std::size_t cells) {
  const auto sources = static_cast<std::size_t>(scale.size());
  SquaredErrors errors{std::vector(cells * sources, 0.0), std::vector(sources, 0.0),
                       std::vector<char>(cells, 0)};
  std::vector<double> values(cells, 0.0);
  double mean = 0, count = 0;
  for (std::size_t cell = 0; cell < cells; ++cell) {
    for (std::size_t source = 0; source < sources; ++source) {
      const PilotFigure& figure = pilot.figures[(q * cells + cell) * sources + source];
      const double times = scale[static_cast<Eigen::Index>(source)];
      values[cell] += times * (static_cast<double>(figure.direct) + static_cast<double>(figure.indirect));
      errors.direct[cell * sources + source] = times * times * static_cast<double>(figure.direct_square);
    }
    mean += values[cell] / static_cast<double>(cells);
  }
  for (std::size_t cell = 0; cell < cells; ++cell) {
    errors.counts[cell] = values[cell] > kFaint * mean;
    count += errors.counts[cell];
  }
  for (std::size_t cell = 0; cell < cells; ++cell) {
    // A fainter cell is taken as a tenth of the mean: how well it is known matters less.
    const double size = std::max(values[cell], kFaint * mean);
    const double relative = count > 0 ? 1 / (size * size * count) : 0;
    for (std::size_t source = 0; source < sources; ++source) {
      errors.direct[cell * sources + source] *= relative;
      const double times = scale[static_cast<Eigen::Index>(source)];
      const PilotFigure& figure = pilot.figures[(q * cells + cell) * sources + source];
      if (errors.counts[cell])
        errors.reflected[source] += times * times * static_cast<double>(figure.indirect_square) * relative;
    }
  }
  return errors;
}
using Scales = std::array<Eigen::ArrayXd, kMapped.size()>;  // [quantity][source]
std::vector<SquaredErrors> errors_of(const GridPilot& pilot, const Scales& scales, std::size_t cells) {
  std::vector<SquaredErrors> errors;
  for (std::size_t q = 0; q < kMapped.size(); ++q) errors.push_back(errors_of(pilot, q, scales[q], cells));
  return errors;
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

// A task is the direct light of a lamp in a cell, or the reflected light of a source in all of them. Of all
// ways to reach a mean square with tasks whose samples have squared errors e and costs c, the cheapest takes
// samples in proportion to sqrt(e / c). Of the quantities the one with the largest e decides in each task,
// and the one that is known least sets the scale. At most `most_rays` of either kind.
GridPlan plan_for(const GridPilot& pilot, const std::vector<SquaredErrors>& errors, const CellGrid& grid,
                  std::size_t lamps, double most_rays) {
  const std::size_t cells = grid.size(), sources = errors[0].reflected.size();
  std::vector<double> places(cells * lamps, 0.0), paths(sources, 0.0);
  for (const SquaredErrors& of : errors) {
    const std::vector<double> likely = smoothed(grid, of.direct);
    for (std::size_t cell = 0; cell < cells; ++cell)
      for (std::size_t lamp = 0; lamp < lamps; ++lamp) {
        double& place = places[cell * lamps + lamp];
        place = std::max(place, std::sqrt(likely[cell * sources + lamp]));
      }
    for (std::size_t source = 0; source < sources; ++source)
      paths[source] = std::max(paths[source], std::sqrt(of.reflected[source]));
  }
  const auto each = [](std::uint64_t rays, std::size_t samples) {
    return static_cast<double>(rays + 1) / static_cast<double>(samples + 1);
  };
  const double place_rays = each(pilot.rays.shadow, places.size() * kPilotPlaces);
  const double path_rays = each(pilot.rays.closest, sources * kPilotPaths);
  const double place_cost = std::sqrt(place_rays), path_cost = std::sqrt(kCostOfClosest * path_rays);
  double scale = 0;
  for (const SquaredErrors& of : errors) {
    double sum = 0;
    for (std::size_t cell = 0; cell < cells; ++cell)
      for (std::size_t lamp = 0; of.counts[cell] && lamp < lamps; ++lamp) {
        const double square = of.direct[cell * sources + lamp];
        if (square > 0) sum += place_cost * square / places[cell * lamps + lamp];
      }
    for (std::size_t source = 0; source < sources; ++source)
      if (of.reflected[source] > 0) sum += path_cost * of.reflected[source] / paths[source];
    scale = std::max(scale, sum / (kAskedRms * kAskedRms));
  }
  const auto fit = [&](std::vector<double>& samples, double factor, double rays) {
    double sum = 0;
    for (const double of : samples) sum += factor * of * rays;
    for (double& of : samples) of *= factor * std::min(1.0, most_rays / std::max(1.0, sum));
  };
  fit(places, scale / place_cost, place_rays);
  fit(paths, scale / path_cost, path_rays);
  GridPlan plan;
  for (const double wanted : places) plan.places.push_back(rounded(wanted, kLeastPlaces, kMostPlaces));
  for (const double wanted : paths) plan.paths.push_back(rounded(wanted, kLeastPaths, kMostPaths));
  return plan;
}

// What the error over the cells will be with a plan, of the quantity that is known least.
double expected_rms(const std::vector<SquaredErrors>& errors, const GridPlan& plan, std::size_t lamps) {
  const std::size_t sources = plan.paths.size();
  double worst = 0;
  for (const SquaredErrors& of : errors) {
    double sum = 0;
    for (std::size_t cell = 0; cell < of.counts.size(); ++cell)
      for (std::size_t lamp = 0; of.counts[cell] && lamp < lamps; ++lamp)
        sum += of.direct[cell * sources + lamp] / plan.places[cell * lamps + lamp];
    for (std::size_t source = 0; source < sources; ++source) sum += of.reflected[source] / plan.paths[source];
    worst = std::max(worst, std::sqrt(sum));
  }
  return worst;
}

}  // namespace

GridPlan plan_grid(Setting& setting, const CellGrid& grid) {
  CanonicalBytes asked;
  asked.add("grid pilot", setting.scene.survey.spacing, setting.scene.survey.seed);
  for (const Quantity quantity : kMapped)
    for (const QuantityBins& output : setting.fresh_outputs)
      asked.add(SpectralD(output.row(static_cast<int>(quantity)).transpose()));
  const GridPilot pilot = setting.field.memory().recall(asked, [&] { return trace_pilot(setting, grid); });
  setting.spent += pilot.rays;

  // Half of the budget at the most, for direct and reflected light alike; a quarter is always there for the
  // maps. In two steps, so that what was read before hardly ever matters.
  const double used = static_cast<double>(setting.spent.shadow + setting.spent.closest);
  const double most_rays = setting.budget.rays / (used <= setting.budget.rays / 2 ? 4 : 8);
  const std::size_t lamps = setting.field.lamp_count();
  Scales full, declared;
  for (std::size_t q = 0; q < kMapped.size(); ++q) {
    full[q] = output_ratios(kMapped[q], setting.fresh_outputs, setting.fresh_outputs);
    declared[q] = output_ratios(kMapped[q], setting.outputs, setting.fresh_outputs);
  }
  const std::vector<SquaredErrors> at_full = errors_of(pilot, full, grid.size());
  const GridPlan plan = plan_for(pilot, at_full, grid, lamps, most_rays);
  const std::vector<SquaredErrors> as_declared = errors_of(pilot, declared, grid.size());
  const double allowed = std::max(kAskedRms, expected_rms(at_full, plan, lamps));
  if (expected_rms(as_declared, plan, lamps) <= kClearly * allowed) return plan;
  return plan_for(pilot, as_declared, grid, lamps, most_rays);
}

}  // namespace boughlight
