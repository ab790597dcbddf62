#include "assess/grid_plan.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "assess/grid_pilot.h"

namespace boughlight {
namespace {

constexpr std::uint32_t kLeastPlaces = 2, kLeastPaths = 2048, kMostPlaces = 1u << 12, kMostPaths = 1u << 22;
constexpr double kFaint = 0.1;    // of the mean
constexpr double kClearly = 1.3;  // times the error asked for is too much
// Cells whose errors the pilot finds too small by chance get too few samples: aim below what is asked.
constexpr double kMargin = 0.91;
// A nearest surface, with the way to it counted into the cells, takes the time of some two visibility
// queries; but some of its ways tell of straight light as well. Reckoned as so many, the same error takes
// least time (measured on the demo).
constexpr double kCostOfClosest = 1;

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
using Scales = std::array<Eigen::ArrayXd, kMappedQuantities.size()>;  // [quantity][source]
std::vector<SquaredErrors> errors_of(const GridPilot& pilot, const Scales& scales, std::size_t cells) {
  std::vector<SquaredErrors> errors;
  for (std::size_t q = 0; q < kMappedQuantities.size(); ++q)
    errors.push_back(errors_of(pilot, q, scales[q], cells));
  return errors;
}

// Half each cell's own, half the mean of the cells that share a face with it.
std::vector<double> blended(const CellGrid& grid, const std::vector<double>& squares) {
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

// A pilot finds some errors too small by chance, and what lies near each other is lit alike.
std::vector<double> smoothed(const CellGrid& grid, std::vector<double> squares) {
  constexpr int kTimes = 4;  // more tells nothing apart any longer, less leaves more to chance
  for (int i = 0; i < kTimes; ++i) squares = blended(grid, squares);
  return squares;
}

double power_of_two_up_to(double number) {
  return std::exp2(std::floor(std::log2(number)));
}

// Eighths of a power of two: of thousands each stratifies well.
std::uint32_t rounded_paths(double wanted) {
  const double bounded =
      std::clamp(wanted, static_cast<double>(kLeastPaths), static_cast<double>(kMostPaths));
  const double eighth = power_of_two_up_to(bounded) / 8;
  return static_cast<std::uint32_t>(eighth * std::round(bounded / eighth));
}

// The power of two, or three quarters of one, nearest to what is wanted: those stratify well, and over many
// cells too much here makes up for too little there.
std::uint32_t rounded_places(double wanted) {
  const double bounded =
      std::clamp(wanted, static_cast<double>(kLeastPlaces), static_cast<double>(kMostPlaces));
  const double power = power_of_two_up_to(bounded);
  const double middle = 1.5 * power, ratio = bounded / power;
  // Nearest by ratio: the bounds lie at the geometric means.
  if (ratio < std::sqrt(1.5)) return static_cast<std::uint32_t>(power);
  return static_cast<std::uint32_t>(ratio < std::sqrt(3.0) ? middle : 2 * power);
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
    scale = std::max(scale, sum / (kMargin * kMargin * kAskedRms * kAskedRms));
  }
  const auto fit = [&](std::vector<double>& samples, double factor, double rays) {
    double sum = 0;
    for (const double of : samples) sum += factor * of * rays;
    for (double& of : samples) of *= factor * std::min(1.0, most_rays / std::max(1.0, sum));
  };
  fit(places, scale / place_cost, place_rays);
  fit(paths, scale / path_cost, path_rays);
  GridPlan plan;
  for (const double wanted : paths) plan.paths.push_back(rounded_paths(wanted));
  // The paths tell of straight light too, at no cost: what they are worth in connections is saved. The two
  // are weighed by that, as the best sum of two figures is. What comes through panes connections tell alone.
  const std::vector<double> by_connection = smoothed(grid, pilot.by_connection);
  const std::vector<double> by_path = smoothed(grid, pilot.by_path);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const bool both_tell = by_path[i] > 0 && !pilot.through_panes[i];
    const double worth = both_tell ? by_connection[i] / by_path[i] * plan.paths[i % lamps] : 0;
    plan.places.push_back(rounded_places(places[i] - worth));
    plan.told.push_back(static_cast<float>(worth / (worth + plan.places.back())));
  }
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
        sum += of.direct[cell * sources + lamp] * (1 - static_cast<double>(plan.told[cell * lamps + lamp])) /
               plan.places[cell * lamps + lamp];
    for (std::size_t source = 0; source < sources; ++source) sum += of.reflected[source] / plan.paths[source];
    worst = std::max(worst, std::sqrt(sum));
  }
  return worst;
}

}  // namespace

GridPlan plan_grid(Setting& setting, const CellGrid& grid) {
  const GridPilot pilot = recall_pilot(setting, grid);
  setting.spent += pilot.rays;

  // Half of the budget at the most, for direct and reflected light alike; a quarter is always there for the
  // maps. In two steps, so that what was read before hardly ever matters.
  const double used = static_cast<double>(setting.spent.shadow + setting.spent.closest);
  const double most_rays = setting.budget.rays / (used <= setting.budget.rays / 2 ? 4 : 8);
  const std::size_t lamps = setting.field.lamp_count();
  Scales full, declared;
  for (std::size_t q = 0; q < kMappedQuantities.size(); ++q) {
    full[q] = output_ratios(kMappedQuantities[q], setting.fresh_outputs, setting.fresh_outputs);
    declared[q] = output_ratios(kMappedQuantities[q], setting.outputs, setting.fresh_outputs);
  }
  const std::vector<SquaredErrors> at_full = errors_of(pilot, full, grid.size());
  const GridPlan plan = plan_for(pilot, at_full, grid, lamps, most_rays);
  const std::vector<SquaredErrors> as_declared = errors_of(pilot, declared, grid.size());
  const double allowed = std::max(kAskedRms, expected_rms(at_full, plan, lamps));
  if (expected_rms(as_declared, plan, lamps) <= kClearly * allowed) return plan;
  return plan_for(pilot, as_declared, grid, lamps, most_rays);
}

}  // namespace boughlight
